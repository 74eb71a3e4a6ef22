"""What is asked for: conditions, groups of values, names; and what a sheet leaves out."""

import re
from pathlib import Path

import pytest

from specgen.cli.terminal import colourful
from specgen.diagnostics import did_you_mean
from tests.cli.conftest import Run, written
from tests.cli.test_terminal import Terminal
from tests.projects import base

FIRST_STEPS = Path(__file__).parents[2] / "site/manual/pages/begin/README.md"


def plainly(text: str) -> str:
    """Ordinary spaces in place of those that keep a unit with its number."""
    return " ".join(text.replace("\u202f", " ").replace("\u00a0", " ").split(" "))


@pytest.mark.parametrize(
    ("asked", "bounds"),
    [
        ("altitude=-20 km", "−500 m to 9000 m"),
        ("rise=0 K", "0.1 K to 80 K"),
        ("inlet=500 degC", "−60 °C to 80 °C"),
        ("line=0 V", "12 V to 1000 V"),
        ("per_rack=0", "needs a number of 1 or more"),
        ("per_rack=-3", "needs a number of 1 or more"),
        ("energy_price=-1", "needs a number of 0 or more"),
    ],
)
def test_a_condition_out_of_range_is_refused_with_the_range(
    run: Run, here: Path, asked: str, bounds: str
):
    got = run("facts", "lantern-full", "--at", asked)
    assert got.status == 2
    assert bounds in plainly(got.err)
    assert "input should" not in got.err
    assert "()" not in got.err


def test_a_declared_condition_out_of_range_says_why(run: Run, here: Path):
    path = here / "builds/specgen.yaml"
    text = re.sub(r"altitude: [^,}\n]+", "altitude: -20 km", base()["specgen.yaml"])
    assert "-20 km" in text
    path.write_text(text)
    got = run("check")
    assert got.status != 0
    assert "error[SG113]: `altitude` needs −500 m to 9000 m, and this is −20 km" in plainly(got.out)
    assert "= help: land lies no lower" in got.out


def test_values_of_a_group_only(run: Run, here: Path):
    got = run("facts", "lantern-full", "power", "processors.CPU1")
    keys = [line.split("\t")[0] for line in got.out.splitlines()]
    assert "power.maximum" in keys
    assert {key.split(".")[0] for key in keys} == {"power", "processors"}
    assert all(key.startswith(("power.", "processors.CPU1.")) for key in keys)


def test_an_unknown_group_is_answered_with_its_neighbour(run: Run, here: Path):
    got = run("facts", "lantern-full", "powr")
    assert got.status == 2
    assert "did you mean `power`?" in got.err


def test_no_two_values_are_listed_under_one_label(run: Run, here: Path):
    lines = run("facts", "lantern-full").out.splitlines()
    labels = [line.split("\t")[2] for line in lines]
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize("key", ["power.maximun", "nothing-like-it"])
def test_an_unknown_value_is_answered_with_the_next_step(run: Run, here: Path, key: str):
    got = run("explain", "lantern-full", key)
    assert got.status == 2
    assert "`specgen facts lantern-full` lists them all" in got.err


def test_a_neighbour_in_a_series_is_suggested():
    assert did_you_mean("corvane-b9", ["corvane-b8", "corvane-c16"]) == ("corvane-b8",)
    assert did_you_mean("psu-1000-ti", ["psu-2000-ti"]) == ()  # another value, not another letter


def test_a_dumb_terminal_gets_no_colours(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "dumb")
    assert not colourful(Terminal())


@pytest.mark.parametrize("name", ["NO_COLOR", "TERM"])
def test_a_table_of_values_keeps_to_what_the_terminal_wants(
    run: Run, here: Path, monkeypatch: pytest.MonkeyPatch, name: str
):
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv(name, "dumb")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    assert "\x1b" not in run("facts", "lantern-full", "power").out


def test_the_smallest_project_prints_nothing_without_a_basis(run: Run, tmp_path: Path):
    blocks = re.findall(r"```yaml\n# (\S+)\n(.*?)```", FIRST_STEPS.read_text("utf-8"), re.DOTALL)
    written(tmp_path, dict(blocks))
    got = run("sheet", "box-plain", "--to", "md", "--project", tmp_path)
    assert got.status == 0
    for word in ("0 GB/s", "0 GiB", "Revision", "needed 0", "Redundancy wanted"):
        assert word not in got.out
    headings = [line for line in got.out.splitlines() if line.startswith("#")]
    for empty in ("## Storage", "## Network", "## Expansion"):
        assert empty not in headings
    assert "## Processors and memory" in headings


def test_quiet_is_told_of_problems_and_of_no_note(run: Run, here: Path):
    path = here / "builds/platforms/lantern.yaml"
    path.write_text(base()["platforms/lantern.yaml"].replace("{1: 5600 MT/s", "{1: 4800 MT/s"))
    assert "note[SG324]" in run("check").out
    assert run("check", "--quiet").out == ""
    assert "SG324" in run("check", "--format", "lines").out
    assert run("check", "--quiet", "--format", "lines").out == ""
