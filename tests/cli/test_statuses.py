"""Exit statuses, the same for every command: 0 well, 1 errors found, 2 bad usage or unreadable."""

from pathlib import Path

import pytest

from specgen.cli import COMMANDS
from tests.cli.conftest import Run, written
from tests.projects import base

BUILD = "lantern-full"
ABOUT_A_BUILD = (
    ("check", BUILD),
    ("facts", BUILD),
    ("explain", BUILD, "power.maximum"),
    ("sheet", BUILD, "--to", "md"),
    ("sheet", BUILD, "--to", "html"),
    ("draw", BUILD, "topology"),
)
ABOUT_A_PROJECT = (*ABOUT_A_BUILD, ("check",))


@pytest.mark.parametrize("words", ABOUT_A_PROJECT, ids=" ".join)
def test_a_sound_project_ends_well(run: Run, here: Path, words: tuple[str, ...]):
    got = run(*words)
    assert got.status == 0
    assert got.out
    assert got.err == ""


@pytest.mark.parametrize("words", [*ABOUT_A_PROJECT, ("site",), ("preview",)], ids=" ".join)
def test_without_a_project_every_command_says_how_to_name_one(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
):
    monkeypatch.chdir(tmp_path)
    got = run(*words)
    assert got.status == 2
    assert "--project" in got.err
    assert got.out == ""


@pytest.mark.parametrize("words", ABOUT_A_BUILD, ids=" ".join)
def test_an_unknown_build_is_answered_with_its_neighbour(
    run: Run, here: Path, words: tuple[str, ...]
):
    got = run(*("lantern-ful" if word == BUILD else word for word in words))
    assert got.status == 2
    assert "did you mean `lantern-full`?" in got.err


@pytest.mark.parametrize("words", ABOUT_A_BUILD, ids=" ".join)
def test_a_build_unlike_any_other_is_answered_with_those_there_are(
    run: Run, here: Path, words: tuple[str, ...]
):
    got = run(*("qqq" if word == BUILD else word for word in words))
    assert got.status == 2
    assert "lantern-full, lantern-small" in got.err


@pytest.mark.parametrize("command", COMMANDS)
def test_an_unknown_option_is_bad_usage(run: Run, here: Path, command: str):
    got = run(command, "--colour-of-the-sea")
    assert got.status == 2
    assert "--colour-of-the-sea" in got.err


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help(run: Run, command: str):
    got = run(command, "--help")
    assert got.status == 0
    assert got.out.startswith(f"Usage: specgen {command} ")


@pytest.mark.parametrize("command", ["facts", "explain", "sheet", "draw", "schema", "completion"])
def test_what_a_command_cannot_do_without_is_asked_for(run: Run, here: Path, command: str):
    assert run(command).status == 2


def test_an_unknown_command_is_answered_with_its_neighbour(run: Run):
    got = run("chek")
    assert got.status == 2
    assert "did you mean `check`?" in got.err


def test_help_lists_every_command_and_the_statuses(run: Run):
    got = run("--help")
    assert got.status == 0
    for command, what in COMMANDS.items():
        assert f"  {command} " in got.out
        assert what.split()[0] in got.out
    listed = " ".join(got.out.split())
    for status in ("0 nothing wrong", "1 errors found", "2 could not read", "3 specgen itself"):
        assert status in listed


def test_version(run: Run):
    got = run("--version")
    assert got.status == 0
    assert got.out.startswith("specgen ")


def broken(files: dict[str, str]) -> dict[str, str]:
    name = "configured/lantern-full.yaml"
    return {**files, name: files[name].replace("  TPM: tpm", "  TPM: pack")}


@pytest.mark.parametrize(
    "words", [("check",), ("check", BUILD), ("facts", BUILD), ("sheet", BUILD)], ids=" ".join
)
def test_errors_in_a_build_end_with_1(run: Run, here: Path, words: tuple[str, ...]):
    written(here / "builds", broken(base()))
    got = run(*words)
    assert got.status == 1
    assert "error[SG301]" in got.out + got.err
    assert "builds/configured/lantern-full.yaml:" in got.out + got.err


def test_errors_in_one_build_are_none_of_another(run: Run, here: Path):
    written(here / "builds", broken(base()))
    assert run("check", "lantern-small").status == 0
    assert run("sheet", "lantern-small").status == 0


def test_no_sheet_is_made_of_a_build_with_errors(run: Run, here: Path):
    written(here / "builds", broken(base()))
    got = run("sheet", BUILD, "-o", "sheet.html")
    assert got.status == 1
    assert got.out == ""
    assert not (here / "sheet.html").exists()


@pytest.mark.parametrize("words", ABOUT_A_BUILD, ids=" ".join)
def test_a_build_that_cannot_be_read_is_not_called_unknown(
    run: Run, here: Path, words: tuple[str, ...]
):
    path = here / "builds/configured/lantern-full.yaml"
    path.write_text(path.read_text().replace("fit:\n", "fitt:\n"))
    got = run(*words)
    assert got.status in (1, 2)
    assert "no build is named" not in got.err
    assert "SG111" in got.out + got.err


@pytest.mark.parametrize("words", [*ABOUT_A_PROJECT, ("site",)], ids=" ".join)
def test_a_project_file_that_cannot_be_read_ends_with_2(
    run: Run, here: Path, words: tuple[str, ...]
):
    (here / "builds/specgen.yaml").write_text("title: [")
    got = run(*words)
    assert got.status == 2
    assert "error[SG101]" in got.out + got.err
    assert "builds/specgen.yaml:1:" in got.out + got.err


def test_the_project_is_found_from_a_folder_inside_it(
    run: Run, here: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(here / "builds/catalog")
    assert run("check").status == 0
    written(here / "builds", broken(base()))
    got = run("check")
    assert got.status == 1
    assert "--> ../configured/lantern-full.yaml:" in got.out


def test_a_project_can_be_named_by_its_file(run: Run, here: Path):
    assert run("check", "--project", "builds/specgen.yaml").status == 0


@pytest.mark.parametrize(
    ("given", "hint"),
    [
        ("build", "did you mean `builds`?"),
        (".", "did you mean `builds` in it?"),
        ("builds/catalog", "a project has a specgen.yaml at its top"),
        ("elsewhere/far", "there is no such folder"),
    ],
)
def test_a_wrong_project_is_answered_with_a_hint(run: Run, here: Path, given: str, hint: str):
    got = run("check", "--project", given)
    assert got.status == 2
    assert hint in got.err
