"""Drives behind a switch on a backplane: they are fed by the cable that feeds the switch."""

from tests.projects import edited, project

FULL, HOUSE, PLATFORM = (
    "configured/lantern-full.yaml",
    "catalog/house.yaml",
    "platforms/lantern.yaml",
)
OLD = "interface: nvme, swap: hot, from: .J1, lanes: x4, blank: blank-bay}\n"
NEW = """interface: nvme, swap: hot, from: .X4..X5, lanes: x4, blank: blank-bay}
        ports:
          - {name: X4..X5, lanes: x4, carries: {pcie: 5}, behind: .J1}
"""
CABLE = "  FRONT.J1: {part: cable-pcie, to: EDGE 1}\n"


def switched(file=FULL, old="", new=""):
    files = edited(HOUSE, OLD, NEW)
    assert files[file].count(old) == 1 or not old
    files[file] = files[file].replace(old, new) if old else files[file]
    return project(files)


def test_a_drive_is_owned_by_the_switch_and_rooted_at_the_processor():
    found = switched()
    assert found.codes == []
    link = found.assemblies["lantern-full"].links["BAY 4"]
    assert link.owner is not None
    assert link.root is not None
    assert (link.owner.name, link.root.name) == ("FRONT.X4", "CPU1.P2")


def test_the_link_that_feeds_a_switch_is_traced():
    uplink = switched().assemblies["lantern-full"].uplinks["FRONT.J1"]
    assert uplink.owner is not None
    assert uplink.owner.name == "CPU1.P2"
    assert [str(stage.name) for stage in uplink.stages] == ["EDGE 1", "FRONT.J1 cable", "FRONT"]
    assert (uplink.lanes, uplink.generation) == (8, 5)


def test_a_switch_without_its_cable_feeds_no_drive():
    found = switched(FULL, CABLE, "")
    assert found.codes == ["SG311"]
    assert "FRONT.J1 has no cable" in str(found.findings[0].message)


def test_a_switch_takes_the_lanes_of_its_cable_from_the_port():
    found = switched(PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: CPU1.P1")
    assert found.codes == ["SG315"]


def test_drives_behind_a_switch_may_have_more_lanes_than_the_switch_is_fed_with():
    # EDGE 1 hands on four lanes; two drives of four share them
    found = switched(
        PLATFORM, "EDGE 1: {from: CPU1.P2, lanes: x8", "EDGE 1: {from: CPU1.P2, lanes: x4"
    )
    assert found.codes == []
    assert found.assemblies["lantern-full"].uplinks["FRONT.J1"].lanes == 4
