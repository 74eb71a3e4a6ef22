"""Whatever stands in the files: an exit status, no traceback, nothing that steers a terminal."""

import json
import os
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specgen.cli import main
from specgen.cli.written_output import steering_nothing
from tests.cli.conftest import Run, written
from tests.projects import base
from tests.timing import first, tries

BUILD = "lantern-full"
FULL = "configured/lantern-full.yaml"
HOUSE = "catalog/house.yaml"
MEMORY = "catalog/memory.yaml"
COMMANDS = (
    ("check",),
    ("check", "--format", "json"),
    ("check", "--format", "sarif"),
    ("facts", BUILD),
    ("facts", BUILD, "--format", "json"),
    ("explain", BUILD, "power.maximum"),
    ("sheet", BUILD, "--to", "md"),
    ("sheet", BUILD, "--to", "html"),
)
# Escapes below are such as click does not take out of its own where no terminal listens.
# What a terminal obeys: C0 but tab and line feed, DEL, C1, and letters that turn the direction
STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\x80-\x9f\u202a-\u202e\u2066-\u2069]")


def edit(name: str, old: str, new: str) -> dict[str, str]:
    files = base()
    assert old in files[name]
    files[name] = files[name].replace(old, new, 1)
    return files


NAMES = {
    "escape in a build's name": (FULL, "name: Lantern, full", r'name: "Lantern \e]0;red"'),
    "eight-bit escape in a name": (FULL, "name: Lantern, full", r'name: "Lantern \x9b31mred"'),
    "next line in a name": (FULL, "name: Lantern, full", r'name: "Lantern \N full"'),
    "direction turned in a name": (FULL, "name: Lantern, full", r'name: "Lantern \u202e lluf"'),
    "bell in a name": (FULL, "name: Lantern, full", r'name: "Lantern \a"'),
    "delete in a name": (FULL, "name: Lantern, full", r'name: "Lantern \x7f"'),
    "escape in a part's name": (HOUSE, "name: Fan}", r'name: "Fan \e]0;x\a"}'),
    "eight-bit escape in a part's name": (MEMORY, "name: RDIMM 32 GiB}", r'name: "R \x9b2J"}'),
    "direction turned in a part's name": (MEMORY, "name: RDIMM 32 GiB}", r'name: "R \u2066x"}'),
    "eight-bit escape in a document": (MEMORY, "document: memory table", r'document: "m \x9b2J"'),
    "escape in a key": (FULL, "  TPM: tpm", "  \"T\\ePM\": tpm"),
    "escape in a field's name": (FULL, "date: 2026", "\"da\\ecte\": 1\ndate: 2026"),
    "escape in a part's id": (FULL, "  TPM: tpm", "  TPM: \"t\\epm\""),
    "escape in a volume's name": (FULL, "name: Data", r'name: "D\ec"'),
    "eight-bit escape in a volume's name": (FULL, "name: Data", r'name: "D\x9b2J"'),
    "escape in a summary": (FULL, "summary: Everything at once", r'summary: "\ec"'),
    "raw escape": (FULL, "name: Lantern, full", "name: Lantern \x1bc"),
    "raw escape in a comment": (FULL, "platform: lantern", "platform: lantern # \x1bc"),
    "raw eight-bit escape": (FULL, "name: Lantern, full", "name: Lantern \x9b31m"),
    "mark-up in a name": (FULL, "name: Lantern, full", 'name: "<script>alert(1)</script>&amp;"'),
    "escape in a far end": (FULL, "to: EDGE 1", r'to: "EDGE \ec"'),
    "escape in an allowance": (FULL, "volumes:", 'allow: [{code: "SG\\e1", reason: x}]\nvolumes:'),
    "escape in an attribute": (HOUSE, "name: Fan}", r'name: Fan, attributes: {"a\e": "b\x9b"}}'),
    "no character at all": (FULL, "name: Lantern, full", r'name: "a\0b"'),
    "half a pair": (FULL, "name: Lantern, full", r'name: "a\ud800b"'),
    "a very long name": (FULL, "name: Lantern, full", "name: " + "long " * 20_000),
}  # fmt: skip


@pytest.mark.parametrize("case", first(9, dict.fromkeys([*[*NAMES][::3], *NAMES])))
def test_nothing_in_a_name_steers_the_terminal(run: Run, here: Path, case: str):
    written(here / "builds", edit(*NAMES[case]))
    for words in COMMANDS:
        got = run(*words)
        assert got.status in (0, 1, 2), words
        # HTML and Markdown are files, not terminal output; there an escape may not stand either
        assert "\x1b" not in got.out + got.err, words
        if words[0] != "sheet":
            assert not STEERING.search(got.out + got.err), words


def test_a_file_named_to_steer_the_terminal_does_not(run: Run, here: Path):
    files = base()
    files["catalog/\x1bcmem\x9b.yaml"] = files.pop("catalog/memory.yaml")
    for name in base():
        (here / "builds" / name).unlink()
    try:
        written(here / "builds", files)
    except OSError:
        pytest.skip("this file system takes no such name")
    for words in COMMANDS:
        got = run(*words)
        assert not STEERING.search(got.out + got.err), words
    assert r"SG100" in run("check").out
    assert r"catalog/\x1bcmem\x9b.yaml" in run("check").out


@pytest.mark.parametrize(
    "words",
    [
        ("check", "\x1b]0;x"),
        ("facts", "\x1b]0;x"),
        ("explain", BUILD, "power.\x1b]0;x"),
        ("explain", "SG\x1b]0;x"),
        ("explain", "\x1b]0;x"),
        ("check", "--project", "\x1b]0;x"),
        ("\x1b]0;x",),
    ],
)
def test_words_of_the_command_line_are_handed_back_harmless(run: Run, here: Path, words):
    got = run(*words)
    assert got.status == 2
    assert "\x1b" not in got.err + got.out


FILES: dict[str, bytes] = {
    "empty": b"",
    "only a comment": b"# nothing\n",
    "only dashes": b"---\n---\n",
    "a word": b"word\n",
    "a list of words": b"[a, [b]]\n",
    "not text": b"\xff\xfe\x00\x01",
    "UTF-16": "id: a\n".encode("utf-16"),
    "no end": b'id: "',
    "tabs": b"\tid: a\n",
    "directive": b"%YAML 1.1\n---\nid: a\n",
    "a tag that makes objects": b"!!python/object/apply:os.system ['true']\n",
    "alias of itself": b"id: &a [*a]\n",
    "laughter": b"a: &a [x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a, *a, *a]\n"
    b"c: &c [*b, *b, *b, *b, *b, *b, *b, *b]\nd: &d [*c, *c, *c, *c, *c, *c, *c, *c]\n"
    b"e: &e [*d, *d, *d, *d, *d, *d, *d, *d]\nf: &f [*e, *e, *e, *e, *e, *e, *e, *e]\n"
    b"g: &g [*f, *f, *f, *f, *f, *f, *f, *f]\nh: [*g, *g, *g, *g, *g, *g, *g, *g]\n",
    "deep": b"[" * 5000 + b"]" * 5000,
    "deep mapping": b"".join(b" " * n + b"a:\n" for n in range(1500)),
    "key that is a mapping": b"{a: b}: c\n",
    "merge": b"a: &a {id: x}\n<<: *a\n",
    "large number": b"id: " + b"9" * 5000 + b"\n",
    "byte order mark": b"\xef\xbb\xbfid: a\n",
    "carriage returns": b"id: a\r\nname: b\r\n",
    "null bytes": b"id: a\x00b\n",
}


@pytest.mark.parametrize(
    "name", first(2, ["specgen.yaml", "catalog/odd.yaml", "platforms/odd.yaml", FULL])
)
@pytest.mark.parametrize("case", FILES)
def test_a_file_of_any_sort_is_reported_in_plain_words(run: Run, here: Path, name: str, case: str):
    (here / "builds" / name).write_bytes(FILES[case])
    got = run("check")
    assert got.status == (2 if name == "specgen.yaml" else 1)
    assert f"builds/{name}:" in got.out
    assert not STEERING.search(got.out + got.err)
    small = run("facts", "lantern-small")
    assert small.status == (2 if name == "specgen.yaml" else 0)


def test_a_folder_named_like_a_file_is_reported(run: Run, here: Path):
    (here / "builds/catalog/odd.yaml").mkdir()
    got = run("check")
    assert got.status == 1
    assert "SG100" in got.out


def test_a_link_to_nowhere_is_reported(run: Run, here: Path):
    try:
        (here / "builds/catalog/odd.yaml").symlink_to("gone.yaml")
    except OSError:
        pytest.skip("no links here")
    got = run("check")
    assert got.status == 1
    assert "SG100" in got.out


def test_a_project_file_that_is_a_folder_is_no_project(run: Run, here: Path):
    (here / "builds/specgen.yaml").unlink()
    (here / "builds/specgen.yaml").mkdir()
    assert run("check", "--project", "builds").status == 2


NAMES_OF_FILES = sorted(base())
LETTERS = st.sampled_from(
    [*"\n\t {}[]:,-#&*!|>'\"%@`~0123456789xW.", "é", "\x1b", "\x00", "\u2028"]
)


@settings(max_examples=tries(25), suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from(NAMES_OF_FILES),
    st.lists(st.tuples(st.floats(0, 1, exclude_max=True), LETTERS, st.booleans()), min_size=1,
             max_size=3),
)  # fmt: skip
def test_a_slip_of_the_keyboard_never_ends_in_a_traceback(
    tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str], name, slips
):
    files = base()
    for share, letter, insert in slips:
        at = int(len(files[name]) * share)
        files[name] = files[name][:at] + letter + files[name][at + (not insert) :]
    folder = written(tmp_path_factory.mktemp("slip"), files)
    for words in (["check"], ["facts", BUILD], ["sheet", BUILD, "--to", "md"]):
        status = main([*words, "--project", os.fspath(folder)])
        out, err = capsys.readouterr()
        assert status in (0, 1, 2), err
        assert not STEERING.search(err + (out if words[0] != "sheet" else ""))


@pytest.mark.parametrize(
    "text", ["{{ broken", "{% for %}", "{{ nothing }}", "{{ 1/0 }}", "{{ facts('x') }}", "\x1bc"]
)
def test_a_template_of_ones_own_that_is_wrong_is_reported(run: Run, here: Path, text: str):
    (here / "builds/templates").mkdir()
    (here / "builds/templates/sheet.md").write_text(f"# Title\n\n{text}\n", encoding="utf-8")
    got = run("sheet", BUILD, "--to", "md", "-o", "made.md")
    assert got.status in (0, 1)
    assert "\x1b" not in got.err
    if got.status:
        assert "sheet.md:3" in got.err
        assert not (here / "made.md").exists()


@pytest.mark.parametrize("sign", ["\x7f", "\x9b", "\u202e", "\u2028", "\U000e0001"])
def test_json_means_the_same_without_what_steers_a_terminal(sign: str):
    """A character beyond 16 bits is written by two numbers; one of five digits means another."""
    words = {"name": f"a{sign}b", "other": ["µ", sign]}
    text = json.dumps(words, indent=1, ensure_ascii=False)
    assert sign in text
    shown = steering_nothing(text)
    assert sign not in shown
    assert json.loads(shown) == words
