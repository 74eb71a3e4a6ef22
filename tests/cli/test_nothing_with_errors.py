"""A document with an error in anything that it rests on is not written, whatever makes it."""

import re
from pathlib import Path

import pytest

from tests.cli.conftest import Run, written
from tests.cli.test_site_command import tiny
from tests.timing import first

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
PLATFORMS = (
    ("sheet", "lantern"),
    ("sheet", "lantern", "--document", "presenters-brief"),
    ("draw", "lantern", "front"),
    ("compare", "lantern", "lantern-small"),
)
MISTAKES = (
    ("configured/lantern-full.yaml", "  TPM: tpm", "  TPM: pack"),
    ("configured/lantern-full.yaml", "summary: Everything at once", "summary: to do"),
    ("specgen.yaml", "documents: [sheet]", "documents: [sheet, sheets]"),
    ("specgen.yaml", "documents: [sheet]", "documents: [sheet]\nlanguage: dd"),
    ("platforms/lantern.yaml", "{name: TPM,", "{name: TPM, of: CPU9,"),
    ("catalog/house.yaml", "life: {status: planned}", "life: {replaced_by: tpm-new}"),
)
OF_PLATFORMS = (
    ("platforms/lantern.yaml", "{name: TPM,", "{name: TPM, of: CPU9,"),
    # what it can reach rests on all parts that go in
    ("catalog/processors.yaml", "base_clock: 2.4 GHz", "base_clock: 4.4 GHz"),
    ("platforms/lantern.yaml", "height: 43.6 mm", "height: 88.1 mm"),
)


def edit(here: Path, file: str, old: str, new: str) -> None:
    path = here / "builds" / file
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8", newline="\n")


def sites(here: Path) -> Path:
    """The place of a site of few pages that hands out no files; the project is made anew."""
    written(here / "builds", tiny())
    (here / "builds/configured/lantern-full.yaml").unlink()
    return here / "public"


def refused(run: Run, here: Path, words: tuple[str, ...], mistake: tuple[str, str, str]) -> None:
    edit(here, *mistake)
    target = here / "written"
    got = run(*words, "-o", str(target))
    assert got.status == 1, got.err
    assert "error[SG" in got.err
    assert not target.exists()


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("mistake", first(2, MISTAKES), ids=lambda each: each[2].strip())
def test_nothing_is_written(
    run: Run, here: Path, words: tuple[str, ...], mistake: tuple[str, str, str]
) -> None:
    refused(run, here, words, mistake)


@pytest.mark.parametrize("words", PLATFORMS, ids=" ".join)
@pytest.mark.parametrize("mistake", first(2, OF_PLATFORMS), ids=lambda each: each[2].strip())
def test_nothing_is_written_of_a_platform(
    run: Run, here: Path, words: tuple[str, ...], mistake: tuple[str, str, str]
) -> None:
    refused(run, here, words, mistake)


@pytest.mark.parametrize("mistake", first(2, OF_PLATFORMS), ids=lambda each: each[2].strip())
def test_nothing_is_proposed_where_definitions_have_errors(
    run: Run, here: Path, mistake: tuple[str, str, str]
) -> None:
    edit(here, "configured/lantern-full.yaml", "  HS 1..2: sink\n", "")
    assert "SINK" in run("complete", "lantern-full").out.upper()
    assert "nearest builds" in run("check", "lantern-full").out
    edit(here, *mistake)
    for words in (("complete", "lantern-full"), ("limits", "lantern"), ("check", "lantern-full")):
        got = run(*words)
        assert got.status != 0
        assert "error[SG" in got.out + got.err
        assert "sink" not in got.out or words[0] == "check"
        assert "nearest builds" not in got.out


@pytest.mark.parametrize("mistake", first(2, OF_PLATFORMS), ids=lambda each: each[2].strip())
def test_nothing_is_published_of_a_platform(
    run: Run, here: Path, mistake: tuple[str, str, str]
) -> None:
    page = here / "builds/pages/note.md"
    page.parent.mkdir()
    page.write_text("# A note\n\nIt has {lantern: memory.slots} slots.\n", "utf-8")
    public = sites(here)
    edit(here, *mistake)
    got = run("site", "-q", "-o", str(public))
    assert got.status == 1
    own = (public / "platforms/lantern.html").read_text("utf-8")
    assert "Not published" in own
    assert "SG" in own
    assert 'data-fact="mechanics' not in own
    others = [
        *public.glob("platforms/lantern/*"),
        *public.glob("limits/*"),
        *public.glob("platforms/lantern.*"),
    ]
    assert others == [public / "platforms/lantern.html"]
    listed = (public / "platforms.html").read_text("utf-8")
    assert "has errors" in listed
    assert "memory.slots" not in listed
    of_its_own = mistake[0].startswith("platforms")
    assert (public / "note.html").exists() is not of_its_own
    assert ("SG512" in got.err) is of_its_own


OTHER = "  - {id: other-32, name: Other 32, socket: tern-z, cores: 32, threads: 64, tdp: 205 W%s}\n"
"""A processor that no platform takes."""
ELSEWHERE = (
    (", base_clock: 4.4 GHz", True),
    (", base_clock: 4.4 GHz, socket_: tern-z", False),  # of what cannot be read, all may be wrong
    (", base_clock: fast", False),
)


@pytest.mark.parametrize(("mistake", "written"), ELSEWHERE)
def test_an_error_of_a_part_that_no_system_can_hold_keeps_no_platform_back(
    run: Run, here: Path, mistake: str, written: bool
) -> None:
    path = here / "builds/catalog/processors.yaml"
    path.write_text(path.read_text("utf-8") + OTHER % mistake, "utf-8", newline="\n")
    target = here / "written"
    got = run("sheet", "lantern", "-o", str(target))
    assert (got.status, target.exists()) == ((0, True) if written else (1, False)), got.err
    assert run("check").status == 1


def test_an_error_that_two_parts_share_keeps_back_what_can_hold_one(run: Run, here: Path) -> None:
    path = here / "builds/catalog/processors.yaml"
    text = path.read_text("utf-8").replace(
        "    name: Corvane C32\n", "    name: Corvane C32\n    number: QW-1\n"
    )
    path.write_text(text + OTHER % ", number: QW-1", "utf-8", newline="\n")
    got = run("sheet", "lantern", "-o", str(here / "written"))
    assert got.status == 1, got.err
    assert "QW-1" in got.err


def test_no_page_of_a_part_with_an_error_is_published(run: Run, here: Path) -> None:
    public = sites(here)
    edit(here, "catalog/processors.yaml", "base_clock: 2.4 GHz", "base_clock: 4.4 GHz")
    assert run("site", "-q", "-o", str(public)).status == 1
    parts = {file.stem: file.read_text("utf-8") for file in public.glob("parts/*.html")}
    wrong = {name for name, text in parts.items() if "Not published" in text}
    file = here / "builds/catalog/processors.yaml"
    assert wrong == set(re.findall(r"- id: (\S+)", file.read_text("utf-8")))  # all share the line
    assert len(wrong) < len(parts)
    assert all("data-fact" not in parts[name] for name in wrong)


@pytest.mark.parametrize("words", PLATFORMS, ids=" ".join)
def test_without_a_mistake_it_is_written_of_a_platform(
    run: Run, here: Path, words: tuple[str, ...]
) -> None:
    target = here / "written"
    got = run(*words, "-o", str(target))
    assert got.status == 0, got.err
    assert target.exists()


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_without_a_mistake_it_is(run: Run, here: Path, words: tuple[str, ...]) -> None:
    target = here / "written"
    got = run(*words, "-o", str(target))
    assert got.status == 0, got.err
    assert target.exists()


@pytest.mark.slow
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


@pytest.mark.parametrize("text", ["{id: x, subject: y, says: TBD}", "{id: x, says: z}", "x"])
def test_nor_with_an_error_in_the_texts_that_documents_share(
    run: Run, here: Path, text: str
) -> None:
    file = here / "builds/templates/texts/cautions.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(f"- {text}\n", "utf-8")
    target = here / "written"
    for words in (("sheet", "lantern-full"), ("prepare", "lantern-full=2")):
        got = run(*words, "-o", str(target))
        assert got.status == 1
        assert "templates/texts/cautions.yaml:1" in got.err
        assert not target.exists()
    assert run("check").status == 1


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
    public = sites(here)
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
