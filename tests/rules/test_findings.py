"""What findings say: arithmetic, other places, and help that is sure."""

import pytest

from specgen.assembly import assemble
from specgen.diagnostics import Severity
from specgen.facts import facts_of
from specgen.rules import CHECKS, judge
from tests.mutated.breaks import BREAKS, FULL, SMALL
from tests.mutated.said import said_of, tried
from tests.projects import base, edited, project

HOUSE, PLATFORM = "catalog/house.yaml", "platforms/lantern.yaml"


def only(file, old, new):
    found = project(edited(file, old, new))
    assert len(found.findings) == 1, found.findings
    return found.findings[0]


def test_parts_that_would_fit_are_named_two_at_most():
    finding = only(FULL, "  DIMM A1..A2: rdimm-32", "  DIMM A1..A2: udimm-16")
    assert str(finding.help) == "`rdimm-32` or `rdimm-128-3ds` would go in"


def test_a_withdrawn_part_is_not_recommended():
    finding = only(FULL, "  TPM: tpm", "  TPM: tpm-old")
    assert str(finding.help) == "`tpm` takes its place"


def test_a_range_is_reported_in_one_finding():
    finding = only(FULL, "  BAY 0..2: sas-1600\n  BAY 3: sas-1600\n", "  BAY 0..3: sas-cold\n")
    assert "BAY 0 to 3" in str(finding.message)


def test_an_overload_shows_its_sum():
    finding = only(FULL, "  PSU 1..2: supply-1300", "  PSU 1..2: supply-600")
    assert any("825 W" in note and "+" in note for note in map(str, finding.notes))
    assert str(finding.help) == "`supply-1300` carries it"


def test_lanes_show_their_sum():
    finding = only(PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: CPU1.P1")
    assert tuple(map(str, finding.notes)) == (
        "BAY 4 to 5 2 times x4 + SLOT 1 x8 + SLOT 2 x8 = 24, which is 8 too many",
    )


def test_what_hangs_on_one_cause_is_reported_as_one():
    finding = only(FULL, "CPU1..CPU2: corvane-c32", "CPU1: corvane-c32")
    assert finding.code.id == "SG311"
    assert [str(label.text) for label in finding.labels[:2]] == [
        "DIMM B1 to 2 as well",
        "RISER 2 as well",
    ]


def test_a_heat_sink_that_is_strong_enough_is_named():
    finding = only(FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c96")
    assert str(finding.help) == "`sink-strong` is rated for enough"


@pytest.mark.parametrize("case", tried(BREAKS), ids=lambda case: case.name)
def test_findings_speak_plainly(case):
    for finding in said_of(case).findings:
        got = (finding.message, finding.at.text, *finding.notes, finding.help)
        for text in map(str, got):
            assert not text.endswith(".")
            assert "invalid" not in text.lower()
            assert "illegal" not in text.lower()
            assert "None" not in text


def test_a_bare_platform_has_no_findings():
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    system = assemble(definitions, definitions.platforms["lantern"], None)
    assert judge(system, facts_of(system)) == ()


def test_a_warning_that_is_allowed_is_not_shown():
    files = base()
    assert "SG323" in files["configured/lantern-small.yaml"]
    assert project(files).codes == []


def test_checks_do_not_depend_on_their_order():
    case = next(each for each in BREAKS if each.name == "no second processor")
    system = project(edited(case.file, case.old, case.new)).assemblies["lantern-full"]
    facts = facts_of(system)
    forward = [finding for check in CHECKS for finding in check(system, facts)]
    backward = [finding for check in reversed(CHECKS) for finding in check(system, facts)]
    assert set(forward) == set(backward)


def test_an_unpublished_build_may_hold_a_withdrawn_part():
    files = edited(FULL, "  TPM: tpm", "  TPM: tpm-old")
    files[FULL] = files[FULL].replace("summary:", "published: false\nsummary:")
    found = project(files)
    assert found.codes == ["SG362"]
    assert found.findings[0].severity is Severity.NOTE


@pytest.mark.parametrize("redundancy", ["none", "1+1"])
@pytest.mark.parametrize("supply", ["supply-300", "supply-600"])
def test_a_supply_that_is_said_to_carry_the_load_does(redundancy: str, supply: str):
    """Whatever the message names passes once it is fitted, also where one supply may fail."""
    files = edited(FULL, "  PSU 1..2: supply-1300", f"  PSU 1..2: {supply}")
    files[FULL] = files[FULL].replace("redundancy: 1+1", f"redundancy: {redundancy}")
    for finding in project(files).findings:
        assert finding.code.id in ("SG351", "SG354")
        named = str(finding.help).split("`")[1]
        mended = {**files, FULL: files[FULL].replace(supply, named)}
        assert project(mended).codes == []


def test_a_server_without_a_processor_is_told_of_where_no_socket_must_be_filled():
    files = edited(
        PLATFORM, "socket: tern-a, tdp: 350 W, must: true}", "socket: tern-a, tdp: 350 W}"
    )
    assert project(files).codes == []
    files[SMALL] = files[SMALL].replace("    CPU1: corvane-c16s\n", "")
    (found,) = (each for each in project(files).findings if each.code.id == "SG318")
    assert str(found.message) == "no processor is fitted"
    assert str(found.help) == "add a processor for CPU1"
