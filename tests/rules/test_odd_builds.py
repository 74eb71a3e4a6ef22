"""Builds that are odd and still get a finding, or values that agree with the findings."""

from specgen.facts import facts_of
from specgen.rules import judge
from tests.projects import base, edited, project

FULL = "configured/lantern-full.yaml"
LANTERN = "platforms/lantern.yaml"


def test_a_volume_without_drives_is_reported() -> None:
    checked = project(edited(FULL, "drives: BAY 0..2, spares: BAY 3", "drives: []"))
    assert checked.codes == ["SG343"]


def test_the_check_of_the_supplies_counts_what_is_lost_on_the_board() -> None:
    files = base()
    files["specgen.yaml"] += (
        "assumptions:\n  board_loss: {value: 60 %, source: {document: board handbook}}\n"
    )
    checked = project(files)
    facts = facts_of(full := checked.assemblies["lantern-full"])
    assert str(facts.value("power.redundancy_kept")) == "no"
    (lost,) = (finding for finding in judge(full, facts) if finding.code.id == "SG354")
    assert "loss 495 W" in str(lost.notes[0])
    assert str(lost.notes[0]).endswith("= 1320 W")


def test_modules_of_no_named_processor_are_reported_by_their_positions() -> None:
    files = edited(FULL, "DIMM B1..B2", "DIMM B1")
    for name in ("CPU1", "CPU2"):
        files[LANTERN] = files[LANTERN].replace(f"{{of: {name}, order", "{order")
    (found,) = (each for each in project(files).findings if each.code.id == "SG323")
    assert str(found.message) == "DIMM B1..B4 has 1 memory module, and DIMM A1..A4 has 2"


def test_a_resource_that_a_filled_position_needs_is_taken() -> None:
    files = edited(LANTERN, "form: spi-tpm}", "form: spi-tpm, needs: [{resource: pcie-8-pin}]}")
    checked = project(files)
    pool = checked.assemblies["lantern-full"].pools["pcie-8-pin"]
    assert [who for who, _, _ in pool.taken] == ["TPM", "SLOT 2"]
    assert checked.codes == ["SG314"]


def test_a_rule_about_a_field_survives_a_part_that_means_another_thing_by_it() -> None:
    files = edited(FULL, "{part: cable-pcie, to: EDGE 1}", "nic-long")
    files[LANTERN] += 'rules: [{code: QW-1, require: \'part("FRONT.J1").length <= "1 m"\'}]\n'
    assert "SG301" in project(files).codes
