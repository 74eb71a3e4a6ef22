"""What `check`, `facts` and `explain` print, for people and for programs."""

import json
import re
from pathlib import Path

import pytest
from jsonschema.validators import validator_for

from specgen.diagnostics.codes import CODES
from tests.cli.conftest import Run, written
from tests.projects import base
from tests.timing import first

ROOT = Path(__file__).resolve().parents[2]
SARIF = ROOT.parent / "shared/standards/sarif-schema-2.1.0.json"
BUILD = "lantern-full"


@pytest.fixture
def flawed(here: Path) -> Path:
    """The project with an error in one build and a warning in the other."""
    files = base()
    full, small = "configured/lantern-full.yaml", "configured/lantern-small.yaml"
    files[full] = files[full].replace("  TPM: tpm", "  TPM: tpn")
    files[small] = files[small].partition("  allow:")[0]
    written(here / "builds", files)
    return here


def test_check_shows_the_line_and_the_help(run: Run, flawed: Path):
    got = run("check")
    assert got.status == 1
    assert "error[SG201]" in got.out
    assert re.search(r"--> builds/configured/lantern-full\.yaml:\d+:8", got.out)
    assert "TPM: tpn" in got.out
    assert "did you mean `tpm`" in got.out
    assert got.out.rstrip().endswith("1 error, 1 warning")


def test_a_warning_alone_ends_well(run: Run, flawed: Path):
    got = run("check", "lantern-small")
    assert got.status == 0
    assert "warning[SG323]" in got.out
    assert "SG201" not in got.out  # that is in the other build's file


def test_a_limit_hides_the_rest_but_counts_it(run: Run, flawed: Path):
    got = run("check", "--limit", "1")
    assert got.status == 1
    assert got.out.count("-->") >= 1
    assert "1 finding more" in got.out
    assert "error[SG201]" in got.out


def test_check_as_json(run: Run, flawed: Path):
    got = run("check", "--format", "json")
    assert got.status == 1
    data = json.loads(got.out)
    assert data["executionSuccessful"] is True
    findings = data["findings"]
    assert [(f["code"], f["severity"]) for f in findings] == [
        ("SG201", "error"),
        ("SG323", "warning"),
    ]
    assert findings[0]["file"] == "builds/configured/lantern-full.yaml"


def test_check_as_sarif(run: Run, flawed: Path):
    got = run("check", "--format", "sarif")
    assert got.status == 1
    log = json.loads(got.out)
    results = log["runs"][0]["results"]
    assert [result["ruleId"] for result in results] == ["SG201", "SG323"]
    if not SARIF.is_file():
        pytest.skip("the SARIF schema is not beside the project")
    schema = json.loads(SARIF.read_text(encoding="utf-8"))
    assert list(validator_for(schema)(schema).iter_errors(log)) == []


def test_editors_get_a_finding_a_line(run: Run, flawed: Path):
    got = run("check", "--format", "lines")
    assert got.status == 1
    assert any(
        re.match(r".*\.yaml:\d+:\d+: error\[SG201\] ", line) for line in got.out.splitlines()
    )
    assert all(
        re.match(r".+:\d+:\d+: (error|warning|note)\[", line) for line in got.out.splitlines()
    )


@pytest.mark.parametrize("form", ["json", "sarif"])
def test_no_findings_is_still_a_document(run: Run, here: Path, form: str):
    got = run("check", "--format", form)
    assert got.status == 0
    data = json.loads(got.out)
    assert (data["findings"] if form == "json" else data["runs"][0]["results"]) == []


def test_a_sound_project_is_reported_in_a_line_and_quietly_in_none(run: Run, here: Path):
    assert run("check").out == "no findings in 2 builds\n"
    assert run("check", BUILD).out == "no findings in 1 build\n"
    assert run("check", "--quiet").out == ""


def test_quiet_keeps_the_findings(run: Run, flawed: Path):
    assert "error[SG201]" in run("check", "--quiet").out


def test_facts_are_lines_of_key_value_and_label(run: Run, here: Path):
    got = run("facts", BUILD)
    rows = [line.split("\t") for line in got.out.splitlines()]
    assert all(len(row) == 3 for row in rows)
    shown = {row[0]: row[1] for row in rows}
    assert shown["processors.cores"] == "64"
    assert shown["memory.capacity"] == "128\u202fGiB"
    assert shown["power.idle"] == "not declared"


def test_facts_as_json_read_back(run: Run, here: Path):
    got = run("facts", BUILD, "--format", "json")
    assert got.status == 0
    facts = {fact["key"]: fact for fact in json.loads(got.out)}
    assert (facts["memory.capacity"]["value"], facts["memory.capacity"]["unit"]) == (128, "GiB")
    assert facts["processors.cores"]["value"] == 64
    assert facts["power.idle"]["value"] is None
    for fact in facts.values():
        assert {"key", "label", "value", "shown", "basis", "formula", "source", "inputs"} <= set(
            fact
        )
        for entry in fact["inputs"]:
            assert entry.get("fact", next(iter(facts))) in facts
            if "fact" not in entry and entry["file"] is not None:
                written = (here / "builds" / entry["file"]).read_text("utf-8").splitlines()
                assert written[entry["line"] - 1].strip()
            elif "fact" not in entry:
                # what nobody has written has no line to stand on: a value that is missing, or
                # one that holds where the definitions are silent
                assert entry["line"] is None


def test_facts_of_a_build_with_errors_are_printed_and_the_errors_with_them(run: Run, flawed: Path):
    got = run("facts", BUILD)
    assert got.status == 1
    assert "processors.cores\t64" in got.out
    assert "error[SG201]" in got.err
    assert run("facts", "lantern-small").status == 0


def test_explain_goes_down_to_the_lines_of_the_definitions(run: Run, here: Path):
    got = run("explain", BUILD, "memory.bandwidth")
    assert got.status == 0
    lines = got.out.splitlines()
    assert lines[0] == "Peak memory bandwidth = 179.2\u202fGB/s   [memory.bandwidth]"
    assert "sum over processors; calculated" in lines[1]
    assert any("JESD79-5" in line for line in lines)
    leaves = re.findall(r"builds/[\w/.-]+\.yaml:\d+", got.out)
    for leaf in leaves:
        name, _, number = leaf.partition(":")
        assert int(number) <= len((here / name).read_text().splitlines())
    assert "builds/catalog/memory.yaml:6" in leaves  # speed: 5600 MT/s
    assert "builds/platforms/lantern.yaml:11" in leaves  # memory_speed
    assert "(memory table, 2026-01-10)" in got.out


def test_positions_alike_are_one_line(run: Run, here: Path):
    got = run("explain", BUILD, "power.memory.maximum")
    words = "DIMM A1 to 2, DIMM B1 to 2, RDIMM 32 GiB: maximum power = 6\u202fW each   builds/"
    assert words in got.out
    assert "each" not in run("explain", BUILD, "mechanics.rack_units").out


def test_a_leaf_names_the_page_of_its_document(run: Run, here: Path):
    files = base()
    name = "catalog/memory.yaml"
    files[name] = files[name].replace("memory table,", 'memory table, page: "4 to 6",')
    written(here / "builds", files)
    assert "(memory table, page 4 to 6, 2026-01-10)" in run("explain", BUILD, "memory.speed").out


@pytest.mark.parametrize(
    "key",
    ["expansion.CPU1.lanes_used", "expansion.SLOT 1.electrical", "storage.bays", "power.maximum"],
)
def test_a_name_stands_once_in_a_line(run: Run, here: Path, key: str):
    for line in run("explain", BUILD, key).out.splitlines():
        names = re.sub(r"^[│├└─ ]*", "", line).split(":")[0].split(", ")
        assert all(names), line
        assert len(set(names)) == len(names), line


def test_explain_stops_at_a_depth(run: Run, here: Path):
    all_of_it = run("explain", BUILD, "power.headroom").out
    shallow = run("explain", BUILD, "power.headroom", "--depth", "1").out
    assert 3 < len(shallow.splitlines()) < len(all_of_it.splitlines())


def test_an_unknown_value_is_answered_with_its_neighbour(run: Run, here: Path):
    got = run("explain", BUILD, "power.maxium")
    assert got.status == 2
    assert "did you mean `power.maximum`?" in got.err


def test_a_key_left_out_is_asked_for(run: Run, here: Path):
    got = run("explain", BUILD)
    assert got.status == 2
    assert f"specgen explain {BUILD} power.maximum" in got.err


@pytest.mark.parametrize("code", sorted(CODES))
def test_a_code_is_explained_without_a_project(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: str
):
    monkeypatch.chdir(tmp_path)
    got = run("explain", code.lower())
    assert got.status == 0
    assert got.out.startswith(f"{code} ({CODES[code].severity}): {CODES[code].title}\n")


def test_an_unknown_code_is_answered_with_its_neighbour(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    got = run("explain", "SG33i")
    assert got.status == 2
    assert "did you mean `SG331`" in got.err


def test_explain_says_what_binds_a_limit_of_a_platform(run: Run, here: Path):
    got = run("explain", "lantern", "limits.drives")
    assert got.status == 0
    assert "over all valid builds" in got.out
    assert "binding" in got.out
    assert ".yaml:" in got.out


def test_limits_of_a_platform_are_listed_among_its_facts(run: Run, here: Path):
    listed = [line.split("\t") for line in run("facts", "lantern").out.splitlines()]
    asked = [line.split("\t") for line in run("facts", "lantern", "limits").out.splitlines()]
    assert asked
    assert asked == [each for each in listed if each[0].startswith("limits.")]


@pytest.mark.parametrize("asked", first(1, ("limits.cores", "limits")))
def test_limits_are_handed_on_with_what_they_are(run: Run, here: Path, asked: str):
    """With what binds each, which takes seconds to find."""
    keys = [line.split("\t")[0] for line in run("facts", "lantern", asked).out.splitlines()]
    data = json.loads(run("facts", "lantern", asked, "--format", "json").out)
    assert keys
    assert [each["key"] for each in data] == keys
    assert all("over all valid builds" in each["formula"] for each in data)
