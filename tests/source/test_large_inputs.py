"""Any file of up to a megabyte ends in a finding at its place; `tests/bench` measures how soon, and
what it takes of memory."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.cli import main
from tests.projects import BASE
from tests.timing import NO_HANG, stopwatch

SIZE = 1_000_000  # letters


def times(piece: str, size: int = SIZE) -> str:
    return piece * (size // len(piece))


def tower() -> Iterator[str]:
    """Aliases of aliases, nine times as many a step."""
    yield "a: &a [" + ",".join("x" * 9) + "]\n"
    for one, other in zip("abcdefghijklmnop", "bcdefghijklmnopq", strict=True):
        yield f"{other}: &{other} [{','.join([f'*{one}'] * 9)}]\n"


YAML = "catalog/z.yaml"
PAGE = "pages/z.md"
SHEET = "templates/sheet.md"
BUILD = "id: z\nname: Z\nplatform: lantern\nsummary: x\nfit:\n"
CASES: dict[str, tuple[str, str | bytes, str, tuple[int, int]]] = {
    "brackets within each other": (YAML, times("["), "SG101", (1, 1001)),
    "mappings within each other": (YAML, times("{a: "), "SG103", (1, 241)),
    "lists within each other": (YAML, times("- "), "SG103", (1, 121)),
    "aliases that explode": (YAML, "".join(tower()), "SG103", (5, 11)),
    "one alias again and again": (YAML, "a: &a x\nb:\n" + times("- *a\n"), "SG103", (20003, 3)),
    "a number of a million digits": (YAML, f"mass: {times('9')} kg", "SG114", (1, 1)),
    "a key of a million letters": (YAML, times("k") + ": x", "SG101", (1, 1_000_001)),
    "one key again and again": (YAML, times("a: x\n"), "SG102", (2, 1)),
    "tags": (YAML, times("- !!str x\n"), "SG104", (1, 3)),
    "quotes": (YAML, times('"'), "SG101", (1, 3)),
    "bytes that are no text": (YAML, b"a: b\nc: \xff" + b"\xff" * SIZE, "SG100", (2, 4)),
    "text in UTF-16": (YAML, times("- a\n").encode("utf-16"), "SG100", (1, 1)),
    "zeros": (YAML, times("\0"), "SG101", (1, 1)),
    "a range without end": (
        "configured/z.yaml",
        f"{BUILD}  BAY 0..999999999: x\n",
        "SG125",
        (6, 3),
    ),
    "brackets in a page": (PAGE, times("["), "SG100", (1, 1)),
    "links in a page": (PAGE, times("[a]("), "SG100", (1, 1)),
    "references in a page": (PAGE, times("{a"), "SG100", (1, 1)),
    "brackets in a paragraph": (PAGE, f"# A\n\n{'[' * 5_000}\n", "SG100", (3, 1)),
    "comments in a page": (PAGE, times("<!-- ", 60_000), "SG521", (1, 1)),
    "a head without end": (PAGE, "---\n" + times("a: b\n"), "SG100", (1, 1)),
    "a piece of nothing but values": (
        "prose/lantern/introduction.md",
        "It has 24 cores.\n\nIt needs 12 W of input power.\n\n" * 3_500 + "{{ x",
        "SG520",
        (14_001, 1),
    ),
    "quotes in a piece": ("prose/lantern/introduction.md", times("> "), "SG100", (1, 1)),
    "a build of unknown positions": (
        "configured/z.yaml",
        BUILD + "".join(f"  BAY {n}: x\n" for n in range(60_000)),
        "SG108",
        (5_006, 3),
    ),
    "a definition of unknown fields": (
        YAML,
        "kind: fan\nid: f\n" + "".join(f"k{n}: x\n" for n in range(90_000)),
        "SG108",
        (5_001, 1),
    ),
    "parts with a mistake each": (
        YAML,
        "".join(f"- {{kind: q{n}, id: f{n}}}\n" for n in range(30_000)),
        "SG108",
        (501, 3),
    ),
    "a page of nothing but a list": (PAGE, "# A\n\n" + "- a\n" * 48_000, "SG100", (1, 1)),
    "a picture of nothing but what acts": (
        "pages/z.svg",
        '<svg xmlns="http://www.w3.org/2000/svg">'
        + "".join(f'<g onq{n}="x"/>' for n in range(55_000))
        + "</svg>",
        "SG523",
        (1, 1),
    ),
    "brackets in a template": (SHEET, f"# x\n{{{{ {'(' * 5_000} }}}}", "SG401", (2, 1)),
    "blocks in a template": (
        SHEET,
        "# x\n" + "{% if 1 %}" * 400 + "{% endif %}" * 400,
        "SG401",
        (2, 1),
    ),
    "sums in a template": (SHEET, f"# x\n{{{{ {'1+' * 90_000}1 }}}}", "SG401", (2, 1)),
    "a long template": (SHEET, times("{{"), "SG401", (1, 1)),
    "a picture within itself": ("pages/z.svg", times("<g>"), "SG100", (1, 1)),
    "a style that is all addresses": (
        "pages/z.svg",
        f'<svg xmlns="http://www.w3.org/2000/svg"><style>{times("url ( ")}</style></svg>',
        "SG523",
        (1, 1_000_044),
    ),
}


def with_large(case: str, folder: Path) -> Path:
    """The small project with that file in it, in a folder of its own below `folder`."""
    name, content, _, _ = CASES[case]
    shutil.copytree(BASE, folder / "project")
    path = folder / "project" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder / "project"


LONG = (
    "a picture of nothing but what acts",
    "a piece of nothing but values",
    "one key again and again",
    "parts with a mistake each",
    "tags",
)
"""Told after seconds; others of their sort are tried in every run."""
TRIED = [pytest.param(each, marks=[pytest.mark.slow] * (each in LONG)) for each in CASES]


@pytest.mark.parametrize("case", TRIED)
def test_a_large_input_is_told_at_its_place(
    case: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name, _, code, place = CASES[case]
    used = stopwatch()
    status = main(["check", "--format", "json", "--project", str(with_large(case, tmp_path))])
    assert used() < NO_HANG
    found = [
        (each["code"], each["line"], each["column"])
        for each in json.loads(capsys.readouterr().out)["findings"]
        if Path(each["file"]).name == Path(name).name
    ]
    assert status == 1
    assert (code, *place) in (*found[:3], found[-1]), found[:3]
    assert len(found) < 1_000
