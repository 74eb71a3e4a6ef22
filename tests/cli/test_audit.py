"""A published file is audited: against the definitions, against itself, and by its seal."""

import json
import re
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.write.seal import Holds, seal_of
from tests.cli.conftest import Run, written

BUILD = "lantern-full"
FORMS = {
    "html": ("sheet", BUILD),
    "pdf": ("sheet", BUILD, "--to", "pdf"),
    "json": ("data", BUILD),
}
GERMAN = ("sheet", BUILD, "--language", "de", "--at", "inlet=20 degC")


@pytest.fixture(scope="module")
def written_files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = written(tmp_path_factory.mktemp("sound"))
    made = {}
    for form, words in FORMS.items():
        target = folder / f"sheet.{form}"
        assert main([*words, "--project", str(folder), "-o", str(target)]) == 0
        made[form] = target.read_bytes()
    return made


@pytest.fixture
def files(written_files: dict[str, bytes], here: Path) -> dict[str, Path]:
    """What was written of the small project as it still is."""
    for form, content in written_files.items():
        (here / f"sheet.{form}").write_bytes(content)
    return {form: here / f"sheet.{form}" for form in FORMS}


def changed(here: Path, file: str, old: str, new: str) -> None:
    path = here / "builds" / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def audited(run: Run, *words: object) -> tuple[int, list[dict[str, object]]]:
    got = run("audit", *words, "--format", "json")
    return got.status, json.loads(got.out)


def test_what_was_just_written_agrees(run: Run, files: dict[str, Path]):
    status, found = audited(run, *files.values())
    assert status == 0
    for each in found:
        assert each["differing"] == []
        assert each["agreeing"] > 50  # type: ignore[operator]


def test_a_document_in_a_language_under_conditions_agrees(run: Run, here: Path):
    assert run(*GERMAN, "-o", "de.html").status == 0
    status, (found,) = audited(run, "de.html")
    assert (status, found["language"]) == (0, "de")
    assert "inlet=20 degC" in run("audit", "de.html").out


@pytest.mark.parametrize("form", FORMS)
def test_each_value_that_moved_is_told(run: Run, here: Path, files: dict[str, Path], form: str):
    changed(here, "platforms/lantern.yaml", "\nmass: 11.2 kg", "\nmass: 11.5 kg")
    status, (found,) = audited(run, files[form])
    assert status == 1
    moved = {each["key"]: each for each in found["differing"]}  # type: ignore[attr-defined]
    assert "mechanics.mass" in moved
    then, now = moved["mechanics.mass"]["then"], moved["mechanics.mass"]["now"]
    number = [float(re.search(r"[\d.]+", each[0])[0]) for each in (then, now)]  # type: ignore[index]
    assert number[1] - number[0] == pytest.approx(0.3)
    assert "memory.capacity" not in moved
    assert "mechanics.mass" in run("audit", files[form]).out


def test_a_build_that_is_gone_or_has_errors_is_told(run: Run, here: Path, files: dict[str, Path]):
    changed(here, "configured/lantern-full.yaml", "id: lantern-full", "id: lantern-filled")
    got = run("audit", files["pdf"])
    assert got.status == 1
    assert "no build or platform `lantern-full` any more" in got.out


def test_values_changed_in_the_page_are_told(run: Run, files: dict[str, Path]):
    page = files["html"]
    text = page.read_text(encoding="utf-8")
    value = re.search(r'data-fact="power.input">([\d.]+)<', text)
    assert value is not None
    page.write_text(text.replace(f">{value[1]}<", ">9<"), encoding="utf-8")
    got = run("audit", page)
    assert got.status == 1
    assert "changed after it was published" in got.out
    assert "power.input: 9 W, now " in got.out


@pytest.mark.parametrize("text", ["", "{}", "<!doctype html>", "%PDF-1.7\n", "{" * 5000, "\xff"])
def test_what_specgen_did_not_write_is_told(run: Run, here: Path, text: str):
    (here / "other").write_text(text, encoding="latin-1")
    got = run("audit", "other")
    assert got.status == 1
    assert "carries no record" in got.out


def test_a_seal_says_whose_it_is_and_that_nothing_changed(
    run: Run, here: Path, files: dict[str, Path]
):
    assert run("seal", "--new-key", "ours").status == 0
    assert run("seal", "--new-key", "theirs").status == 0
    assert (here / "ours").stat().st_mode & 0o077 == 0
    assert run("seal", *files.values(), "--key", "ours").out == "sealed: 3 files\n"
    for path in files.values():
        sealed = path.read_bytes()
        assert run("audit", path).status == 0
        got = run("audit", path, "--trust", "ours.pub")
        assert got.status == 0
        assert "unchanged since it was sealed, by ours.pub" in got.out
        got = run("audit", path, "--trust", "theirs.pub")
        assert got.status == 1
        assert "a key that is not trusted" in got.out
        run("seal", path, "--key", "theirs")
        run("seal", path, "--key", "ours")
        assert path.read_bytes() == sealed, "a seal takes the place of the one before"


@pytest.mark.slow
@pytest.mark.parametrize("form", FORMS)
def test_a_changed_byte_breaks_the_seal(run: Run, here: Path, files: dict[str, Path], form: str):
    run("seal", "--new-key", "ours")
    run("seal", files[form], "--key", "ours")
    sealed = files[form].read_bytes()
    whole = seal_of(sealed)
    assert whole.holds is Holds.UNCHANGED
    for at in range(1100, len(sealed), len(sealed) // 60):
        assert seal_of(sealed[:at] + bytes([sealed[at] ^ 1]) + sealed[at + 1 :]) != whole, at
    files[form].write_bytes(sealed[:1100] + bytes([sealed[1100] ^ 1]) + sealed[1101:])
    assert run("audit", files[form], "--trust", "ours.pub").status == 1
    files[form].write_bytes(sealed + b" ")
    assert run("audit", files[form], "--trust", "ours.pub").status == 1
    files[form].write_bytes(sealed)
    assert run("audit", files[form], "--trust", "ours.pub").status == 0


def test_a_file_without_a_seal_is_nobodys(run: Run, files: dict[str, Path]):
    run("seal", "--new-key", "ours")
    assert run("audit", files["pdf"], "--trust", "ours.pub").status == 1


def test_keys_stay_out_of_projects_and_are_never_overwritten(run: Run, here: Path):
    assert "must not lie in a project" in run("seal", "--new-key", "builds/key").err
    assert not (here / "builds" / "key").exists()
    run("seal", "--new-key", "ours")
    old = (here / "ours").read_bytes()
    assert run("seal", "--new-key", "ours").status == 2
    assert (here / "ours").read_bytes() == old


def test_what_cannot_be_sealed_is_said(run: Run, here: Path, files: dict[str, Path]):
    run("seal", "--new-key", "ours")
    assert "holds no private" in run("seal", files["pdf"], "--key", "ours.pub").err
    assert "holds no public" in run("audit", files["pdf"], "--trust", "ours").err
    assert run("seal", files["pdf"], "--key", "missing").status == 2
    (here / "notes.txt").write_text("notes")
    assert "is no HTML, PDF or JSON" in run("seal", "notes.txt", "--key", "ours").err


def test_a_folder_is_sealed_as_a_whole(run: Run, here: Path, files: dict[str, Path]):
    (here / "public" / "deep").mkdir(parents=True)
    files["pdf"].rename(here / "public" / "deep" / "sheet.pdf")
    (here / "public" / "list.json").write_text("[]")
    (here / "public" / "style.css").write_text("")
    run("seal", "--new-key", "ours")
    assert run("seal", "public", "--key", "ours").out == "sealed: 1 file\n"
    assert (here / "public" / "list.json").read_text() == "[]"


def test_words_about_a_seal_are_none(run: Run, here: Path):
    changed(here, "configured/lantern-full.yaml", "summary: ", "summary: specgen-seal or not, ")
    assert run("sheet", BUILD, "-o", "sheet.html").status == 0
    got = run("audit", "sheet.html")
    assert (got.status, "seal: not sealed" in got.out) == (0, True)
