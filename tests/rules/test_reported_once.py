"""One cause is reported once, and two mistakes are told as two."""

import pytest

from tests.projects import base, edited, project

FULL = "configured/lantern-full.yaml"
LANTERN = "platforms/lantern.yaml"
HOUSE = "catalog/house.yaml"
CARDS = "catalog/cards.yaml"


def test_two_allowances_of_one_code_that_nothing_needs_are_both_told() -> None:
    allow = "allow:\n  - {code: SG323, reason: one}\n  - {code: SG323, reason: two}\nvolumes:\n"
    found = project(edited(FULL, "volumes:\n", allow))
    assert found.codes == ["SG212", "SG212"]
    assert [found.line(each)[-12:] for each in found.findings] == ["reason: one}", "reason: two}"]


def test_a_part_in_place_of_a_soldered_one_says_what_is_there_without_it() -> None:
    (finding,) = project(edited(FULL, "  TPM: tpm", "  TPM: tpm\n  BMC: tpm")).findings
    assert str(finding.message) == "`tpm` cannot be fitted in BMC: `watch` is soldered in"
    assert str(finding.help) == "delete the line; `watch` is there without it"
    assert finding.labels[0].span.file == LANTERN


def test_a_soldered_part_may_be_named_once_more() -> None:
    assert project(edited(FULL, "  TPM: tpm", "  TPM: tpm\n  BMC: watch")).codes == []


def test_a_cable_to_a_connector_without_a_form_names_those_that_take_it() -> None:
    (finding,) = project(
        edited(LANTERN, "EDGE 1: {from: CPU1.P2, lanes: x8, form: mcio-8i}",
               "EDGE 1: {from: CPU1.P2, lanes: x8}")
    ).findings  # fmt: skip
    assert "states no form" in str(finding.message)
    assert str(finding.help) == "`EDGE 2` would take it"


def test_a_port_behind_itself_is_reported() -> None:
    port = "{name: P0, lanes: x4, carries: {pcie: 4}, splits: 2+2, behind: .}"
    files = edited(CARDS, port, port.replace("behind: .", "behind: .P0"))
    (finding,) = project(files).findings
    assert finding.code.id == "SG210"
    assert str(finding.message) == "BOOT.P0 is fed by itself"


@pytest.mark.parametrize(
    ("file", "old", "new", "meant"),
    [
        (LANTERN, "{name: TPM,", "{name: TPM, of: CUP2,", "CPU2"),
        (HOUSE, "id: tpm, name:", "id: tpm, blocks: BYA 5, name:", "BAY 5"),
        (HOUSE, "neighbour: SLOT 2", "neighbour: SLTO 2", "SLOT 2"),
    ],
)
def test_a_position_that_no_system_has_comes_with_what_was_meant(file, old, new, meant) -> None:
    (finding,) = project(edited(file, old, new)).findings
    assert finding.code.id == "SG203"
    assert meant in str(finding.help)


def test_positions_of_unread_files_are_not_missed() -> None:
    files = {**base(), HOUSE: base()[HOUSE] + "- [\n"}
    files[CARDS] += "- {kind: blank, id: odd, name: Odd, blocks: BAY 0, source: {document: d}}\n"
    assert "SG203" not in project(files).codes


@pytest.mark.parametrize("name", [HOUSE, CARDS, "catalog/processors.yaml", "catalog/memory.yaml"])
def test_a_catalog_file_cut_in_half_is_reported_at_the_cut_alone(name) -> None:
    text = base()[name]
    found = project({**base(), name: text[: len(text) // 2]})
    assert {finding.at.span.file for finding in found.findings} == {name}


def test_an_unknown_part_is_reported_beside_a_mistake_in_a_whole_file() -> None:
    files = edited(FULL, "  TPM: tpm", "  TPM: tpn")
    name = "catalog/processors.yaml"
    files[name] = files[name].replace("    threads: 64\n", "")
    assert project(files).codes == ["SG114", "SG201"]


def test_a_build_of_another_platform_is_told_at_its_name() -> None:
    other = base()[LANTERN].replace("id: lantern\nname: Lantern", "id: pinnace\nname: Pinnace")
    other = other.replace("socket: tern-a", "socket: tern-b").replace("fan-40", "fan-60")
    other = other.replace("key: lantern", "key: pinnace").replace("spi-tpm", "lpc-tpm")
    files = {
        **edited(FULL, "platform: lantern", "platform: pinnace"),
        "platforms/other.yaml": other,
    }
    found = [each for each in project(files).findings if each.at.span.file == FULL]
    assert [each.code.id for each in found] == ["SG227"]
    assert "not sound: `lantern-full`" in str(found[0].notes[-1])


def test_what_follows_is_shown_at_its_line() -> None:
    (finding,) = project(edited(FULL, "to: SLOT 1.C0", "to: EDGE 1")).findings
    assert [(each.span.line, str(each.text)) for each in finding.labels[2:]] == [
        (18, "EDGE 1 is taken by the cable in FRONT.J0"),
        (19, "`sas-1600` in BAY 0 to 2 cannot speak to CPU1.P2"),
        (35, "volume `Data` wants RAID 5, and `corvane-c32` in CPU1 offers none"),
    ]


def test_two_mistakes_that_have_nothing_in_common_are_both_told() -> None:
    files = edited(FULL, "  TPM: tpm", "  TPM: pack")
    files[FULL] = files[FULL].replace("SLOT 2: accel-aux", "SLOT 2: pack")
    files[FULL] = files[FULL].replace("spares: BAY 3", "spares: BAY 9")
    assert project(files).codes == ["SG301", "SG301", "SG344"]


def test_two_positions_that_are_not_there_are_both_told() -> None:
    files = edited(FULL, "  TPM: tpm", "  BAY 98: sas-1600\n  BAY 99: sas-1600")
    assert project(files).codes == ["SG203", "SG203"]
