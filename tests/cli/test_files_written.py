"""Files are written whole or not at all: sheets, drawings, schemas, completions."""

import json
import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from specgen.load.field_reference import FILE
from specgen.load.schema import schemas
from specgen.write import json as as_json
from tests.cli.conftest import Run

BUILD = "lantern-full"
WRITING = (
    ("sheet", BUILD, "--to", "md"),
    ("sheet", BUILD, "--to", "html"),
    ("draw", BUILD, "topology"),
)


@pytest.mark.parametrize("words", WRITING, ids=" ".join)
def test_a_file_holds_what_standard_output_would(run: Run, here: Path, words: tuple[str, ...]):
    printed = run(*words).out
    got = run(*words, "-o", "made")
    assert (got.status, got.out) == (0, "")
    assert (here / "made").read_text(encoding="utf-8") == printed
    assert sorted(path.name for path in here.iterdir()) == ["builds", "made"]


@pytest.mark.parametrize("words", WRITING, ids=" ".join)
def test_a_folder_that_is_not_there_is_reported(run: Run, here: Path, words: tuple[str, ...]):
    got = run(*words, "-o", "no/such/file")
    assert got.status == 2
    assert "cannot write no/such/file" in got.err
    assert not (here / "no").exists()


@pytest.mark.parametrize("words", WRITING, ids=" ".join)
def test_a_folder_in_place_of_the_file_is_reported(run: Run, here: Path, words: tuple[str, ...]):
    assert run(*words, "-o", "builds").status == 2


@pytest.mark.parametrize("words", WRITING, ids=" ".join)
def test_a_write_that_fails_keeps_the_old_file(
    run: Run, here: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
):
    (here / "made").write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    got = run(*words, "-o", "made")
    assert got.status == 2
    assert "No space left on device" in got.err
    assert (here / "made").read_text() == "old"
    assert sorted(path.name for path in here.iterdir()) == ["builds", "made"]


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_to_is_reported(run: Run, here: Path):
    shut = here / "shut"
    shut.mkdir(mode=0o555)
    got = run("sheet", BUILD, "-o", "shut/made")
    assert got.status == 2
    assert list(shut.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="permissions of POSIX")
def test_a_new_file_has_the_permissions_of_any_other(run: Run, here: Path):
    (here / "other").write_text("")
    run("sheet", BUILD, "-o", "made")
    assert (here / "made").stat().st_mode == (here / "other").stat().st_mode


def test_a_drawing_is_svg_with_a_title(run: Run, here: Path):
    svg = run("draw", BUILD, "topology").out
    root = ET.fromstring(svg)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    title = root.find(".//{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text


def test_an_unknown_drawing_is_bad_usage(run: Run, here: Path):
    assert run("draw", BUILD, "topologie").status == 2


def test_a_sheet_in_html_stands_alone(run: Run, here: Path):
    page = run("sheet", BUILD).out
    assert page.startswith("<!DOCTYPE html>\n")
    for far in ('src="', "@import", "<script", "<link", "url(http"):
        assert far not in page


def test_schemas_are_written_and_named(run: Run, here: Path):
    got = run("schema", "new/schemas")
    assert got.status == 0
    there = {path.name for path in (here / "new/schemas").iterdir()}
    assert there == {*schemas(), *as_json.schemas(), FILE}
    for line in (each for each in got.out.splitlines() if each.endswith(".json")):
        assert json.loads((here / line).read_text(encoding="utf-8"))
    assert run("schema", "new/schemas", "--quiet").out == ""


def test_schemas_need_a_folder(run: Run, here: Path):
    (here / "file").write_text("")
    assert run("schema", "file").status == 2
    assert run("schema", "file/below").status == 2


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_names_the_command(run: Run, shell: str):
    got = run("completion", shell)
    assert got.status == 0
    assert "_SPECGEN_COMPLETE" in got.out


def test_completion_of_another_shell_is_bad_usage(run: Run):
    assert run("completion", "powershell").status == 2


def test_it_runs_as_a_module(here: Path):
    words = [sys.executable, "-m", "specgen", "check", "lantern-ful"]
    done = subprocess.run(words, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 2
    assert "did you mean `lantern-full`?" in done.stderr


def test_a_reader_that_leaves_early_is_no_trouble(here: Path):
    words = [sys.executable, "-m", "specgen", "facts", BUILD]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as command:
        assert command.stdout is not None
        assert command.stderr is not None
        command.stdout.close()
        assert command.stderr.read() == b""
