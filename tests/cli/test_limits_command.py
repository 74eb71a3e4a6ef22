"""What `limits`, `complete` and `check --deep` say, and how they end."""

import json
from pathlib import Path

import pytest
import yaml

from tests.cli.conftest import Run, written
from tests.limits.small import HEAD, PROJECT

PARTS = """
- {kind: fan, id: fan, name: Fan, form: fan-40, mass: 1 kg, power: {maximum: 8.04 W},
   source: {document: table}}
"""
BODY = """
positions: [{name: FAN 1..3, takes: fan, must: true}, {name: FAN 4, takes: fan}]
rules:
  - {code: QW-1, require: 'fans.count <= 3', because: 'Three fans are enough.'}
  - {code: QW-2, require: 'fans.count <= 9'}
"""
BUILD = """
- id: half
  name: 'Half: # one'
  platform: small
  summary: "A \\"quoted\\" one"
  number: "1234"
  suitable_for: [One, "two: three"]
  conditions: {currency: "a: b", redundancy: none}
  history:
    - {revision: A, date: 2026-01-02, note: "first # of all"}
  fit: {FAN 1: fan}
- {id: whole, name: Whole, platform: small, summary: x, fit: {FAN 1..3: fan}}
"""


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return project(tmp_path, BUILD)


def project(folder: Path, builds: str) -> Path:
    return written(
        folder / "builds",
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + BODY,
            "catalog/parts.yaml": PARTS,
            "configured/some.yaml": builds,
        },
    )


def test_an_example_is_a_build_that_the_checks_accept(run: Run, small: Path):
    got = run("limits", "small", "--example", "mass")
    assert got.status == 0
    (small / "configured" / "example.yaml").write_text(got.out, encoding="utf-8")
    assert run("check", yaml.safe_load(got.out)["id"]).status == 0


def test_a_wish_out_of_reach_names_the_rule_and_its_line(run: Run, small: Path):
    got = run("limits", "small", "--want", "fans.count == 4")
    assert got.status == 1
    assert "QW-1 Three fans are enough" in got.out
    assert "platforms/small.yaml:15" in got.out


def test_a_wish_about_conditions_says_that_they_are_given(run: Run, small: Path):
    got = run("limits", "small", "--want", 'inlet >= "30 degC"')
    assert got.status == 1
    assert "--at asks for others" in got.out


@pytest.mark.parametrize("asked", ["inlet=40 degC", "altitude=3100 m"])
def test_an_inlet_beyond_the_class_leaves_no_build_and_says_why(run: Run, small: Path, asked: str):
    got = run("limits", "small", "--at", asked, "--only", "mass", "--format", "json")
    assert json.loads(got.out)["limits"][0]["status"] == "no build"
    assert "SG335" in run("limits", "small", "--at", asked, "--why", "mass").out
    wish = run("limits", "small", "--at", asked, "--want", "fans.count >= 1")
    assert wish.status == 1
    assert "SG335" in wish.out


def test_two_questions_at_once_are_refused(run: Run, small: Path):
    got = run("limits", "small", "--why", "mass", "--example", "mass")
    assert got.status == 2
    assert "at a time" in got.err


def test_a_completed_build_keeps_all_that_its_file_says_of_it(run: Run, small: Path):
    got = run("complete", "half")
    assert got.status == 0
    before = yaml.safe_load(BUILD)[0]
    after = yaml.safe_load(got.out)
    assert after.pop("fit") == {"FAN 1": "fan", "FAN 2..3": "fan"}
    del before["fit"]
    assert after == before


FORMS = {
    "parts in blocks": ("  FAN 1:\n    part: fan # stays\n# after\n", "# stays"),
    "parts in braces on lines of their own": ("{\n  FAN 1: fan,\n}\n", "FAN 1"),
    "a part a line": ("  FAN 1: fan  # stays\n", "# stays"),
}


@pytest.mark.parametrize("form", FORMS)
def test_a_completed_file_can_be_read_again_whatever_its_form(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, form: str
):
    fit, kept = FORMS[form]
    head = "id: half\nname: Half\nplatform: small\nsummary: x\nfit:"
    more = "suitable_for: [One]\n"
    folder = project(tmp_path, head + (" " if fit[0] == "{" else "\n") + fit + more)
    monkeypatch.chdir(tmp_path)
    got = run("complete", "half")
    assert got.status == 0
    assert kept in got.out
    (folder / "configured" / "some.yaml").write_text(got.out, encoding="utf-8")
    again = run("check", "half")
    assert again.status == 0, again.out + got.out
    assert yaml.safe_load(got.out)["suitable_for"] == ["One"]


def test_a_whole_build_is_left_as_it_is(run: Run, small: Path):
    got = run("complete", "whole")
    assert got.status == 0
    assert "nothing to add" in got.err


def test_a_build_with_errors_is_reported_the_nearest_that_pass(run: Run, small: Path):
    got = run("check", "half")
    assert got.status == 1
    assert "1. fit Fan in FAN 2 to 3" in got.out


FULL = "id: full\nname: Full\nplatform: small\nsummary: x\nfit:\n  FAN 1..4: fan  # all\n"


def test_a_range_that_changes_is_split_in_the_proposal_and_in_the_file(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    folder = project(tmp_path, FULL)
    monkeypatch.chdir(tmp_path)
    assert "FAN 1..4 becomes {FAN 1..3: fan}" in run("check", "full").out
    assert run("complete", "full").status == 1
    got = run("complete", "full", "--keep", "FAN 1..2")
    assert got.status == 0
    assert got.out == FULL.replace("FAN 1..4: fan  # all", "FAN 1..3: fan")
    (folder / "configured" / "some.yaml").write_text(got.out, encoding="utf-8")
    assert run("check", "full").status == 0


def test_positions_to_keep_must_be_there(run: Run, small: Path):
    assert "did you mean `FAN 1`" in run("check", "half", "--keep", "FAN1").err
    assert run("complete", "half", "--keep", "FAN 1..x").status == 2


def test_deep_checks_tell_of_a_rule_that_another_makes_idle(run: Run, small: Path):
    got = run("check", "--deep")
    assert "QW-2" in got.out
    assert "QW-2" not in run("check").out


def test_errors_that_no_other_part_would_mend_are_reported_without_builds_near(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    project(tmp_path, BUILD.replace("{FAN 1: fan}}", "{FAN 1..3: fan, FAN 1: fan}}")
            .replace("{FAN 1..3: fan}}", "{FAN 1..3: fan, FAN 1: fan}}"))  # fmt: skip
    monkeypatch.chdir(tmp_path)
    got = run("check", "whole")
    assert got.status == 1
    assert "nearest" not in got.out


def test_a_build_that_needs_nothing_and_has_nothing_can_be_read_again(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    folder = project(tmp_path, "id: bare\nname: B\nplatform: small\nsummary: x\nfit: {}\n")
    (folder / "platforms" / "small.yaml").write_text(HEAD + "positions: []\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert yaml.safe_load(run("complete", "bare").out)["fit"] == {}
    assert yaml.safe_load(run("limits", "small", "--example", "mass").out)["fit"] == {}
