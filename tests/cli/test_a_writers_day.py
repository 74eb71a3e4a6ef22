"""A writer's working day: a platform begun, described, mended where it went stale, published."""

import csv
import io
import json
import re
import zipfile
from pathlib import Path

import pypdf
import pytest

from tests.cli.conftest import Run, written

POSITIONS = """\
  - {name: CPU1, takes: processor, socket: tern-a, tdp: 200 W, must: true}
  - {name: HS 1, takes: heat-sink, socket: tern-a, of: CPU1, cools: CPU1, must: true}
  - {name: DIMM A1..A2, takes: memory-module, form: rdimm, of: CPU1}
  - {name: PSU 1, takes: power-supply, area: rear, form: m-crps-60, must: true}
"""
ROUND = (
    "## A lamp room's own\n\n{platform lamp} takes {part rdimm-32} and {lamp-a: memory.capacity}\n"
)
STALE = "of it. The {platform lamp} has a depth of 380 mm. It stands in {build lamp-a}.\n"


def put(path: Path, *edits: tuple[str, str]) -> None:
    """Edits a file as a writer would; what is replaced stands there once."""
    text = path.read_text("utf-8")
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} in {path.name}:\n{text}"
        text = text.replace(old, new)
    path.write_text(text, "utf-8", newline="\n")


def finished(path: Path) -> None:
    """Nothing is left to do in a file: its marks go, placeholders get words, a draft is one no
    more."""
    text = re.sub(r"  # to do.*", "", path.read_text("utf-8"))
    text = re.sub(r"(?i)to do(?:: )?", "Lamp notes ", text)
    path.write_text(re.sub(r"published: false.*\n", "", text), "utf-8", newline="\n")


def plainly(text: str) -> str:
    """Text without the spaces and marks that only a page needs."""
    return " ".join(re.sub(r"[\u202f\u00a0\u2009]", " ", text).split())


@pytest.fixture
def day(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project with a platform, a build and a text about it that were begun this morning."""
    written(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert run("new", "platform", "lamp").status == 0
    put(
        tmp_path / "platforms/lamp.yaml",
        ("  - {name: PLACE 1, takes: processor}  # to do\n", POSITIONS),
        (
            "{width: 1 mm, height: 1 mm, depth: 1 mm}",
            "{width: 440 mm, height: 43 mm, depth: 380 mm}",
        ),
        ("mass: 1 kg", "mass: 5.2 kg"),
        ("summary: to do  # to do\n", "summary: For a lamp room\n"),
        ("# conditions: {line: 230 V}", "conditions: {redundancy: none}"),
    )
    assert run("new", "build", "lamp-a", "--platform", "lamp").status == 0
    put(
        tmp_path / "configured/lamp-a.yaml",
        ("  # DIMM A1..A2: to-do", "  DIMM A1..A2: rdimm-32"),
        ("summary: to do  # to do\n", "summary: One lamp\n"),
    )
    assert run("new", "prose", "lamp").status == 0
    got = run("check", "--format", "lines")
    assert got.status == 0
    assert all("SG126" in line for line in got.out.splitlines())  # what is left to do
    finished(tmp_path / "platforms/lamp.yaml")
    finished(tmp_path / "configured/lamp-a.yaml")
    finished(tmp_path / "prose/lamp/introduction.md")
    assert run("check").out == "no findings in 3 builds\n"
    return tmp_path


@pytest.mark.slow
def test_from_a_new_platform_to_documents_that_agree(run: Run, day: Path) -> None:
    text = day / "prose/lamp/introduction.md"
    text.write_text(ROUND + STALE, "utf-8")
    written = run("check", "--format", "lines").out
    assert "prose/lamp/introduction.md:4:" in written  # a typed value, right for now: a note
    assert "SG504" in written
    assert "SG503" not in written

    _a_part_is_renamed(run, day)
    _a_figure_goes_stale(run, day)
    assert run("check").out == "no findings in 3 builds\n"
    _everything_is_published(run, day)


def _a_part_is_renamed(run: Run, day: Path) -> None:
    """Whoever refers to it is told in turn: the builds first, then the prose."""
    put(day / "catalog/memory.yaml", ("id: rdimm-32, name", "id: rdimm-32a, name"))
    got = run("check")
    assert got.status == 1
    assert re.search(r"configured/lamp-a\.yaml:\d+:16\n", got.out)
    assert "no part is named `rdimm-32`" in got.out
    assert "did you mean `rdimm-32a`" in got.out
    for file in ("lamp-a", "lantern-full"):
        path = day / f"configured/{file}.yaml"
        path.write_text(
            re.sub(r": rdimm-32\b(?!-)", ": rdimm-32a", path.read_text("utf-8")), "utf-8"
        )
    got = run("check")
    assert got.status == 1
    assert "error[SG501]" in got.out
    assert "--> prose/lamp/introduction.md:3:23\n" in got.out
    assert "did you mean `rdimm-32a`" in got.out
    put(day / "prose/lamp/introduction.md", ("{part rdimm-32}", "{part rdimm-32a}"))
    assert run("check").status == 0


def _a_figure_goes_stale(run: Run, day: Path) -> None:
    """The platform grows deeper; the value that was typed is found, and how to mend it."""
    put(day / "platforms/lamp.yaml", ("depth: 380 mm", "depth: 420 mm"))
    got = run("check")
    assert "warning[SG503]" in got.out
    assert "--> prose/lamp/introduction.md:4:43\n" in got.out
    written = re.search(r"help: in place of the value with its unit write `(\{.*depth\})`", got.out)
    assert written is not None
    put(day / "prose/lamp/introduction.md", ("380 mm", written[1]))


def _everything_is_published(run: Run, day: Path) -> None:
    got = run("site", "-o", "public", "--jobs", "1")
    assert got.status == 0, got.err
    pages = {path.name: path.read_text("utf-8") for path in (day / "public").rglob("*.html")}
    walk = next(
        text for text in pages.values() if "A lamp room's own" in text.replace("&#39;", "'")
    )
    assert "420" in walk
    assert "380" not in walk
    assert "depth}" not in walk

    for form in ("html", "md", "pdf"):
        for name in ("lamp-a", "lamp"):
            got = run("sheet", name, "--to", form, "-o", f"{name}.{form}")
            assert got.status == 0, got.err
    for form in ("json", "csv", "redfish"):
        assert run("data", "lamp-a", "--to", form, "-o", f"data-{form}").status == 0
    for form in ("csv", "xlsx"):
        assert run("parts", "lamp-a=2", "--to", form, "-o", f"parts.{form}").status == 0

    _the_documents_agree(day)


def _the_documents_agree(day: Path) -> None:
    """Memory and depth are the same everywhere, whoever wrote them down last."""
    data = json.loads((day / "data-json").read_text("utf-8"))
    shown = {fact["key"]: plainly(fact["shown"]) for fact in data["facts"]}
    values = shown["memory.capacity"], shown["mechanics.depth"]
    assert values == ("64 GiB", "420 mm")
    for name in ("lamp-a", "lamp"):
        html = re.sub(r"<[^>]*>", "", (day / f"{name}.html").read_text("utf-8"))
        markdown = (day / f"{name}.md").read_text("utf-8")
        pdf = "".join(page.extract_text() for page in pypdf.PdfReader(day / f"{name}.pdf").pages)
        for document in map(plainly, (html, markdown, pdf)):
            assert all(value in document for value in values)
            assert "380 mm" not in document
    rows = csv.DictReader(io.StringIO((day / "data-csv").read_text("utf-8-sig")))
    assert {row["Key"]: (row["Value"], row["Unit"]) for row in rows}["memory.capacity"] == (
        "64",
        "GiB",
    )
    redfish = (day / "data-redfish").read_text("utf-8")
    assert re.search(r'"TotalSystemMemoryGiB": 64(\.0)?\n', redfish)
    (line,) = [
        row
        for row in csv.reader(io.StringIO((day / "parts.csv").read_text("utf-8-sig")))
        if any("RDIMM 32 GiB" in cell for cell in row)
    ]
    assert "4" in line  # two in each of two systems
    with zipfile.ZipFile(day / "parts.xlsx") as book:
        assert any(b"RDIMM 32 GiB" in book.read(name) for name in book.namelist())
