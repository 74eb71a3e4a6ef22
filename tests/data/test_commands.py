"""`specgen parts`, `specgen data`, and the downloads beside a page."""

import io
import json
from pathlib import Path

import pytest
from openpyxl import load_workbook

from specgen.pipeline import Survey
from specgen.site.downloads import OFFERS, data_files
from specgen.write import json as as_json
from tests.cli.conftest import Run, here, run, written
from tests.projects import base

__all__ = ["here", "run"]

BUILD = "lantern-full"
SMALL = "lantern-small"


def test_parts_are_listed_a_line_each(run: Run, here: Path):
    got = run("parts", BUILD)
    rows = [line.split("\t") for line in got.out.splitlines()]
    assert got.status == 0
    assert {len(row) for row in rows} == {6}
    assert all(int(row[0]) >= 1 for row in rows)


def test_counts_of_several_builds_are_summed(run: Run, here: Path):
    def counted(*orders: str) -> dict[str, int]:
        lines = json.loads(run("parts", *orders, "--to", "json").out)["lines"]
        return {line["id"]: line["quantity"] for line in lines}

    full, small = counted(BUILD), counted(SMALL)
    assert counted(f"{BUILD}=3", SMALL) == {
        id_: 3 * full.get(id_, 0) + small.get(id_, 0) for id_ in {*full, *small}
    }
    assert counted(f"{BUILD}=2", f"{BUILD}=1") == counted(f"{BUILD}=3")


@pytest.mark.parametrize("count", ["0", "-1", "1.5", "many", "", "99999999", "١"])
def test_a_count_that_is_none_is_refused(run: Run, here: Path, count: str):
    got = run("parts", f"{BUILD}={count}")
    assert got.status == 2
    assert "whole number" in got.err


def test_a_workbook_is_written_to_a_file(run: Run, here: Path):
    got = run("parts", BUILD, "--to", "xlsx", "-o", "order.xlsx")
    assert (got.status, got.out) == (0, "")
    book = load_workbook(io.BytesIO((here / "order.xlsx").read_bytes()))
    assert book.sheetnames == ["Parts"]


def test_text_has_no_file(run: Run, here: Path):
    assert run("parts", BUILD, "-o", "order").status == 2


@pytest.mark.parametrize("words", [("parts", "lantern-ful"), ("data", "lantern-ful")])
def test_a_build_that_is_not_there_is_reported_with_the_nearest(
    run: Run, here: Path, words: tuple[str, ...]
):
    got = run(*words)
    assert got.status == 2
    assert f"did you mean `{BUILD}`" in got.err


def test_an_unknown_build_of_several_is_reported(run: Run, here: Path):
    got = run("parts", BUILD, "lantern-ful=2")
    assert got.status == 2
    assert f"did you mean `{BUILD}`" in got.err


@pytest.fixture
def flawed(here: Path) -> Path:
    """The project with an error in one build."""
    files = base()
    name = f"configured/{BUILD}.yaml"
    files[name] = files[name].replace("  TPM: tpm", "  TPM: tpn")
    written(here / "builds", files)
    return here


@pytest.mark.parametrize(
    "words",
    [
        ("parts", BUILD),
        ("parts", SMALL, BUILD),
        ("data", BUILD, "--to", "csv"),
        ("data", BUILD, "--to", "redfish"),
    ],
    ids=" ".join,
)
def test_nothing_is_ordered_or_handed_on_from_a_build_with_errors(
    run: Run, flawed: Path, words: tuple[str, ...]
):
    got = run(*words)
    assert (got.status, got.out) == (1, "")
    assert "SG201" in got.err


def test_json_of_a_build_with_errors_says_so(run: Run, flawed: Path):
    got = run("data", BUILD)
    assert got.status == 1
    assert json.loads(got.out)["sound"] is False


def test_data_holds_what_facts_prints_and_takes_conditions(run: Run, here: Path):
    whole = json.loads(run("data", BUILD, "--at", "inlet=31 degC").out)
    facts = json.loads(run("facts", BUILD, "--format", "json", "--at", "inlet=31 degC").out)
    assert whole["facts"] == facts
    assert whole["conditions"]["inlet"]["value"] == 31


def test_schemas_of_the_data_are_written_with_the_others(run: Run, here: Path):
    run("schema", "made")
    assert set(as_json.schemas()) <= {path.name for path in (here / "made").iterdir()}


@pytest.mark.slow
def test_downloads_are_those_of_the_build_and_the_same_each_time(demo: Survey):
    case = demo.cases["pocket-hill-top"]
    made = data_files(case, tuple(OFFERS), None)
    assert set(made) == {"json", "csv", "parts.csv", "xlsx", "redfish.json"}
    assert data_files(case, tuple(OFFERS), None) == made
    book = load_workbook(io.BytesIO(made["xlsx"]))
    assert book.sheetnames == ["Parts", "Values"]


def test_a_mock_up_of_redfish_is_a_folder_that_the_next_one_replaces(run: Run, here: Path):
    got = run("data", BUILD, "--to", "redfish", "-o", "mock/")
    assert (got.status, got.out) == (0, "")
    marker = here / "mock" / ".specgen-site"  # lists what is ours: all else is kept
    (here / "mock" / "left-over").write_text("", encoding="utf-8")
    (here / "mock" / "foreign").write_text("", encoding="utf-8")
    marker.write_text(marker.read_text(encoding="utf-8") + "left-over\n", encoding="utf-8")
    assert run("data", BUILD, "--to", "redfish", "-o", "mock").status == 0
    assert not (here / "mock" / "left-over").exists()
    assert (here / "mock" / "foreign").exists()
    root = json.loads((here / "mock/index.json").read_text(encoding="utf-8"))
    path = root["Systems"]["@odata.id"].removeprefix("/redfish/v1/")
    members = json.loads((here / "mock" / path / "index.json").read_text(encoding="utf-8"))
    home = members["Members"][0]["@odata.id"].removeprefix("/redfish/v1/")
    assert json.loads((here / "mock" / home / "index.json").read_bytes())["Id"] == BUILD


def test_a_folder_of_somebody_elses_stays_and_other_forms_are_files(run: Run, here: Path):
    (here / "mine").mkdir()
    (here / "mine" / "notes.txt").write_text("mine", encoding="utf-8")
    got = run("data", BUILD, "--to", "redfish", "-o", "mine/")
    assert got.status == 2
    assert "not published by specgen" in got.err
    assert (here / "mine" / "notes.txt").is_file()
    assert run("data", BUILD, "--to", "json", "-o", "mine/").status == 2
