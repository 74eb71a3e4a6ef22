"""A document with an error in anything that it rests on is not written, whatever makes it."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

COMMANDS = (
    ("sheet", "lantern-full"),
    ("sheet", "lantern-full", "--to", "md"),
    ("sheet", "lantern-full", "--document", "engineering"),
    ("compare", "lantern-full", "lantern-small"),
    ("prepare", "lantern-full=2"),
    ("prepare", "lantern-full", "lantern-small", "--document", "parts-list"),
    ("parts", "lantern-full", "--to", "csv"),
    ("draw", "lantern-full", "front"),
    ("data", "lantern-full", "--to", "csv"),
    ("data", "lantern-full", "--to", "redfish"),
)
MISTAKES = (
    ("configured/lantern-full.yaml", "  TPM: tpm", "  TPM: pack"),
    ("configured/lantern-full.yaml", "summary: Everything at once", "summary: to do"),
    ("specgen.yaml", "documents: [sheet]", "documents: [sheet, sheets]"),
    ("specgen.yaml", "documents: [sheet]", "documents: [sheet]\nlanguage: dd"),
    ("platforms/lantern.yaml", "{name: TPM,", "{name: TPM, of: CPU9,"),
    ("catalog/house.yaml", "id: tpm-new,", "id: tpm-new, life: {replaced_by: tpm-new},"),
)


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda each: each[2].strip())
def test_nothing_is_written(
    run: Run, here: Path, words: tuple[str, ...], mistake: tuple[str, str, str]
) -> None:
    file, old, new = mistake
    path = here / "builds" / file
    text = path.read_text("utf-8")
    if "life" in new:
        old, new = "life: {status: planned}", "life: {status: planned, replaced_by: tpm-new}"
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8", newline="\n")
    target = here / "written"
    got = run(*words, "-o", str(target))
    assert got.status == 1, got.err
    assert "error[SG" in got.err
    assert not target.exists()


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_without_a_mistake_it_is(run: Run, here: Path, words: tuple[str, ...]) -> None:
    target = here / "written"
    got = run(*words, "-o", str(target))
    assert got.status == 0, got.err
    assert target.exists()


def test_nor_with_an_error_in_a_text_that_it_prints(run: Run, here: Path) -> None:
    text = here / "builds/prose/lantern/introduction.md"
    text.parent.mkdir(parents=True)
    target = here / "written"
    words = ("sheet", "lantern", "-o", str(target))
    for wrong in ("{part nothing}", "{mechanics.depth", "TODO"):
        text.write_text(f"It has {wrong} in it.\n", "utf-8")
        got = run(*words)
        assert got.status == 1
        assert "prose/lantern/introduction.md:1" in got.err
        assert not target.exists()
        assert run("sheet", "lantern-full", "-o", str(here / "other")).status == 0  # prints none
    text.write_text("It is {mechanics.depth} deep.\n", "utf-8")
    assert run(*words).status == 0
    assert target.exists()


def test_nor_with_a_mark_in_its_template(run: Run, here: Path) -> None:
    template = here / "builds/templates/sheet.md"
    template.parent.mkdir()
    template.write_text("# {{ build.name }}\n\n- TODO: the rest\n", "utf-8")
    target = here / "written"
    got = run("sheet", "lantern-full", "-o", str(target))
    assert got.status == 1
    assert "templates/sheet.md:3" in got.err
    assert not target.exists()
    assert "SG127" in run("check").out


def test_a_page_with_an_error_is_not_published_and_a_published_one_stays(
    run: Run, here: Path
) -> None:
    page = here / "builds/pages/note.md"
    page.parent.mkdir()
    page.write_text("# A note\n\nIt weighs {nothing: mechanics.mass}.\n", "utf-8")
    public = here / "public"
    words = ("site", "-q", "-o", str(public))
    got = run(*words)
    assert got.status == 1
    assert "error[SG501]" in got.err
    assert (public / "index.html").is_file()
    assert not (public / "note.html").exists()

    page.write_text("# A note\n\nIt weighs {lantern: mechanics.mass}.\n", "utf-8")
    assert run(*words).status == 0
    good = (public / "note.html").read_text("utf-8")

    page.write_text("# Another note\n\nTo do: write it.\n", "utf-8")
    got = run(*words)
    assert got.status == 1
    assert "note.html" in got.err
    assert (public / "note.html").read_text("utf-8") == good
