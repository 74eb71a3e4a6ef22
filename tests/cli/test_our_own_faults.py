"""What our own code raises ends with 3, says whose fault it is, and blames no line of an author."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from jsonschema.validators import validator_for

from specgen import pipeline
from specgen.cli import main
from specgen.document.blocks import makers
from specgen.facts import Ledger, ledger
from specgen.facts.registry import AnyCalculator
from specgen.rules import CHECKS
from specgen.site.others_files import mark
from specgen.write.data_forms import OF_BUILDS, OF_ORDERS, DataForm
from specgen.write.writers import WRITERS
from tests.cli.conftest import Ran, Run, written
from tests.cli.test_findings_and_facts import SARIF
from tests.cli.test_site_command import content, tiny
from tests.projects import base
from tests.timing import first

BUILD = "lantern-full"
BUGS = (
    ValueError("no room"),
    KeyError("SLOT 1"),
    TypeError("no"),
    RuntimeError("lantern-full.yaml:3"),
)
Broken = Callable[..., None]


@pytest.fixture
def fails(capfd: pytest.CaptureFixture[str], here: Path, monkeypatch: pytest.MonkeyPatch):
    """Runs `specgen`, which is to end in a fault of ours; details go to a folder of the test."""
    (here / "details").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(here / "details"))

    def call(*arguments: str, debug: bool = False) -> Ran:
        capfd.readouterr()
        status = main([*(("--debug",) if debug else ()), *arguments])
        out, err = capfd.readouterr()
        got = err if debug else _details(here, err)
        assert status == 3, err
        assert "specgen itself went wrong" in err
        assert "no mistake of yours" in err
        assert "Traceback (most recent call last)" in got
        assert "went_wrong" in got, "the traceback leads to where it happened"
        assert debug or "Traceback" not in out + err
        return Ran(status, out, err)

    return call


def _details(here: Path, err: str) -> str:
    found = re.search(r"Its details are in (\S+);", err)
    assert found, err
    path = Path(found[1])
    assert path.parent == here / "details"
    return path.read_text(encoding="utf-8")


def raising(bug: Exception) -> Callable[..., object]:
    def went_wrong(*_: object, **__: object) -> object:
        raise bug

    return went_wrong


@pytest.mark.parametrize("bug", BUGS, ids=lambda bug: type(bug).__name__)
@pytest.mark.parametrize("words", [("check",), ("facts", BUILD), ("sheet", BUILD)], ids=" ".join)
def test_a_fault_in_a_check_ends_with_3(
    fails: Callable[..., Ran],
    monkeypatch: pytest.MonkeyPatch,
    bug: Exception,
    words: tuple[str, ...],
):
    monkeypatch.setattr(pipeline, "judge", raising(bug))
    got = fails(*words)
    assert "error[" not in got.out + got.err
    assert str(bug) in got.err


def test_debug_prints_the_details(fails: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(pipeline, "judge", raising(ValueError("no room")))
    got = fails("check", debug=True)
    assert "test_our_own_faults.py" in got.err


@pytest.mark.parametrize("number", range(len(CHECKS)))
def test_no_check_s_fault_is_held_back(
    demo: pipeline.Survey, monkeypatch: pytest.MonkeyPatch, number: int
):
    assert demo.definitions is not None
    bug = ValueError("no room")
    broken = (*CHECKS[:number], raising(bug), *CHECKS[number + 1 :])
    monkeypatch.setattr("specgen.rules.CHECKS", broken)
    with pytest.raises(ValueError, match="no room") as raised:
        pipeline.case_of(demo.definitions, next(iter(demo.definitions.builds.values())))
    assert raised.value is bug


@pytest.mark.parametrize("form", WRITERS)
def test_a_fault_in_a_writer_ends_with_3_and_writes_no_file(
    fails: Callable[..., Ran], here: Path, monkeypatch: pytest.MonkeyPatch, form: str
):
    broken = replace(WRITERS[form], write=raising(KeyError("width")))
    monkeypatch.setattr("specgen.write.writers.WRITERS", {**WRITERS, form: broken})
    fails("sheet", BUILD, "--to", form, "-o", "sheet")
    assert not (here / "sheet").exists()


@pytest.mark.parametrize(
    ("words", "forms"), [("data", OF_BUILDS), ("parts", OF_ORDERS)], ids=["data", "parts"]
)
def test_a_fault_in_a_writer_of_data_ends_with_3_and_writes_no_file(
    fails: Callable[..., Ran], here: Path, monkeypatch: pytest.MonkeyPatch,
    words: str, forms: dict[str, object],
):  # fmt: skip
    for form, writer in forms.items():
        bug = raising(KeyError("width"))
        broken = replace(writer, write=bug) if isinstance(writer, DataForm) else bug
        monkeypatch.setitem(forms, form, broken)
        fails(words, BUILD, "--to", form, "-o", "made")
        assert not (here / "made").exists()
        for details in (here / "details").iterdir():
            details.unlink()


@pytest.mark.parametrize("name", first(1, ("supplies", "memory")))
def test_a_fault_in_a_block_blames_no_template(
    fails: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch, name: str
):
    tables = {**makers.SYSTEM_TABLES, name: raising(ValueError("no room"))}
    monkeypatch.setattr(makers, "SYSTEM_TABLES", tables)
    got = fails("sheet", BUILD)
    assert "templates/" not in got.err
    assert "SG401" not in got.err


# --- what was found until then ---


def flawed() -> dict[str, str]:
    files = base()
    name = f"configured/{BUILD}.yaml"
    return {**files, name: files[name].replace("  TPM: tpm", "  TPM: pack")}


@pytest.fixture
def one_fails(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One build has an error, and our own code goes wrong for the other."""
    written(here / "builds", flawed())
    judge = pipeline.judge

    def went_wrong(assembly, facts):
        if assembly.build.id != BUILD:
            raise KeyError("SLOT 1")
        return judge(assembly, facts)

    monkeypatch.setattr(pipeline, "judge", went_wrong)


@pytest.mark.usefixtures("one_fails")
def test_what_was_found_is_printed_before(fails: Callable[..., Ran]):
    got = fails("check")
    assert "error[SG301]" in got.out
    assert "no findings" not in got.out


@pytest.mark.usefixtures("one_fails")
def test_lines_for_editors_are_printed_before(fails: Callable[..., Ran]):
    assert "error[SG301]" in fails("check", "--format", "lines").out


@pytest.mark.usefixtures("one_fails")
def test_json_is_whole_and_says_that_the_run_was_not(fails: Callable[..., Ran]):
    data = json.loads(fails("check", "--format", "json").out)
    assert data["executionSuccessful"] is False
    assert data["faults"] == ["KeyError: 'SLOT 1'"]
    assert [each["code"] for each in data["findings"]] == ["SG301"]


@pytest.mark.usefixtures("one_fails")
def test_sarif_is_whole_and_says_that_the_run_was_not(fails: Callable[..., Ran]):
    log = json.loads(fails("check", "--format", "sarif").out)
    (invocation,) = log["runs"][0]["invocations"]
    assert invocation["executionSuccessful"] is False
    assert [each["ruleId"] for each in log["runs"][0]["results"]] == ["SG301"]
    if SARIF.is_file():
        schema = json.loads(SARIF.read_text(encoding="utf-8"))
        assert list(validator_for(schema)(schema).iter_errors(log)) == []


@pytest.mark.parametrize("form", ["json", "sarif"])
def test_a_fault_at_the_very_beginning_leaves_a_valid_document(
    fails: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch, form: str
):
    monkeypatch.setattr(pipeline, "load", raising(ValueError("no room")))
    data = json.loads(fails("check", "--format", form).out)
    got = data if form == "json" else data["runs"][0]["invocations"][0]
    assert got["executionSuccessful"] is False


# --- nothing found is lost, wherever it goes wrong ---


def results(form: str, out: str) -> tuple[bool, list[str]]:
    data = json.loads(out)
    if form == "json":
        return data["executionSuccessful"], [each["code"] for each in data["findings"]]
    (run,) = data["runs"]
    codes = [each["ruleId"] for each in run["results"]]
    return run["invocations"][0]["executionSuccessful"], codes


MISSPELT = ("platforms/lantern.yaml", "takes: processor,", "takes: processors,")
PLACES: dict[str, str] = {
    "in the last check of a build": "specgen.rules.declared",
    "in a check of definitions": "specgen.rules.definitions.whole_project.misnamed",
    "in reading the rules": "specgen.rules.definitions.whole_project.rule_book",
    "in looking up references": "specgen.load.definitions.unknown_references",
    "in the templates": "specgen.cli.check._of_templates",
    "in the texts": "specgen.cli.check._of_texts",
}


@pytest.mark.parametrize("form", ["json", "sarif"])
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(
    "bug", first(2, (KeyError("x"), PermissionError(13, "denied", "a"), MemoryError()))
)
def test_what_was_found_is_in_the_report_wherever_it_goes_wrong(
    here: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch,
    place: str, form: str, bug: Exception,
):  # fmt: skip
    """The file that cannot be read stands before every stage, the part that is unfit in a build."""
    files = flawed()
    files["catalog/more.yaml"] = "kind: fan\nid: x\nname: ["
    written(here / "builds", files)
    monkeypatch.setattr(PLACES[place], raising(bug))
    monkeypatch.setattr("tempfile.tempdir", str(here))
    status = main(["check", "--format", form])
    out, _ = capfd.readouterr()
    whole, codes = results(form, out)
    assert status == (2 if isinstance(bug, OSError) else 3)
    assert not whole
    assert "SG101" in codes
    if "references" not in place:  # before there are any builds
        assert "SG301" in codes


@pytest.mark.parametrize("words", [("check",), ("facts", BUILD), ("sheet", BUILD), ("site",)])
def test_a_fault_in_reading_rules_hides_nothing_of_the_files(
    fails: Callable[..., Ran], here: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
):
    """Telling of a fault asks for what was found, and may meet the same fault again."""
    written(here / "builds", {**flawed(), "catalog/more.yaml": "kind: fan\nid: x\nname: ["})
    for place in ("rules.definitions.whole_project.rule_book", "rules.rule_book"):
        monkeypatch.setattr(f"specgen.{place}", raising(KeyError("processors")))
    got = fails(*words)
    assert "error[SG101]" in got.out + got.err


RULES = (
    'part("CPU1").cores > 4', 'filled("CPU1")', 'any(p.cores > 4 for p in processors)',
    'all(x.tdp <= "9 W" for x in parts)', 'part("CPU1").id == "x"', 'has("cpu")',
    'fact("processors.cores") > 3', 'part("CPU1").power.maximum > "3 W"',
)  # fmt: skip


def with_a_misspelt_kind(here: Path, *rules: str) -> None:
    files = base()
    name, right, wrong = MISSPELT
    assert right in files[name]
    files[name] = files[name].replace(right, wrong)
    files["specgen.yaml"] += "rules:\n" + "".join(
        f"  - {{code: QW-{number}, forbid: '{rule}', because: No.}}\n"
        for number, rule in enumerate(rules)
    )
    written(here / "builds", files)


@pytest.mark.parametrize("rule", RULES)
def test_a_misspelt_kind_is_told_once_whatever_a_rule_asks(run: Run, here: Path, rule: str):
    with_a_misspelt_kind(here, rule)
    got = run("check")
    assert got.status == 1
    assert got.out.count("no kind of part is named `processors`") == 1


def test_no_command_stumbles_over_rules_about_a_misspelt_kind(run: Run, here: Path):
    with_a_misspelt_kind(here, *RULES)
    for words in (("check",), ("facts", BUILD), ("sheet", BUILD), ("limits", "lantern"), ("site",)):
        got = run(*words)
        assert got.status in (1, 2)
        assert "no kind of part is named `processors`" in got.out + got.err
        assert "did you mean `processor`?" in got.out + got.err


def test_findings_of_the_project_are_reported_by_every_command(
    fails: Callable[..., Ran], here: Path, monkeypatch: pytest.MonkeyPatch
):
    written(here / "builds", flawed())
    (here / "builds/catalog/more.yaml").write_text("kind: fan\nid: x\nname: [")
    monkeypatch.setattr(Ledger, "calculate", raising(ValueError("no room")))
    got = fails("facts", "lantern-small")
    assert "error[SG101]" in got.err
    assert "more.yaml" in got.err


# --- the site ---


FAILING = """
import sys
from specgen.cli import main
from specgen.site import build_pages

class Unsendable(Exception):
    # no process can send it to another, nor make it anew of its arguments
    def __init__(self, one, two):
        super().__init__(lambda: (one, two))

whole = build_pages.fact_page_of
def went_wrong(case, *more):
    if case.build.id == "n2":
        raise Unsendable(1, 2)
    return whole(case, *more)
build_pages.fact_page_of = went_wrong
sys.exit(main(sys.argv[1:]))
"""
"""Run by itself: a process that has compiled a PDF, as other tests have, would not fork."""


@pytest.mark.slow
@pytest.mark.parametrize("jobs", ["2", "1"])
def test_a_document_that_fails_by_our_fault_leaves_the_site_as_it_was(tmp_path: Path, jobs: str):
    """Whatever it is passes from a worker whole."""
    files = tiny()
    small = "configured/lantern-small.yaml"
    for number in range(3):
        files[f"configured/n{number}.yaml"] = files[small].replace("lantern-small", f"n{number}")
    place, details = tmp_path / "place", tmp_path / "details"
    details.mkdir()
    written(place / "builds", {**files, "configured/more.yaml": "id: x\nname: ["})
    (place / "public").mkdir()
    (place / "public/index.html").write_text("the site before")
    mark(place / "public")
    before = content(place / "public")
    run = subprocess.run(
        [sys.executable, "-c", FAILING, "site", "-q", "--jobs", jobs],
        cwd=place,
        env={**os.environ, "TMPDIR": str(details)},
        capture_output=True,
        text=True,
    )
    assert run.returncode == 3, run.stderr
    assert "specgen itself went wrong: Unsendable: <function" in run.stderr
    assert "Traceback" not in run.stderr
    assert "error[SG101]" in run.stderr  # found before
    assert content(place / "public") == before
    assert sorted(path.name for path in place.iterdir()) == ["builds", "public"]
    (path,) = details.iterdir()
    assert "in went_wrong" in path.read_text(encoding="utf-8")


# --- calculators ---


def test_no_calculator_s_fault_is_held_back(demo: pipeline.Survey):
    """What a calculator raises comes out of the value that is asked for, as it is."""
    assemblies = [demo.cases[name].assembly for name in ("lantern-office", "boathouse-archive")]
    asked: list[str] = []

    def broken(calculator: AnyCalculator) -> AnyCalculator:
        return replace(calculator, function=raising(LookupError(calculator.key)))

    ours = tuple(ledger().by_key.values())
    for calculator in ours:
        others = Ledger(broken(each) if each is calculator else each for each in ours)
        for assembly in assemblies:
            facts = others.calculate(assembly)
            subjects = ("",) if calculator.over is None else calculator.over.listed(assembly)[:1]
            for key in map(calculator.named, subjects):
                try:
                    outcome = facts[key].value  # None for want of inputs
                except LookupError as problem:
                    outcome = problem.args[0]
                    asked.append(key)
                assert outcome in (None, calculator.key)
    assert len(asked) > len(ours)


def test_our_details_are_kept_from_other_users(
    fails: Callable[..., Ran], here: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(pipeline, "judge", raising(ValueError("no room")))
    fails("check")
    (path,) = (here / "details").iterdir()
    assert path.stat().st_mode & 0o077 == 0
