"""Adapters and controllers against their links to the host, one way, with both numbers."""

import pytest

from specgen.facts import facts_of
from specgen.quantity import DataRate
from tests.facts.systems import ALL_PORTS, BUILD, PLATFORM, PROJECT, processor
from tests.projects import project

PARTS = """
- kind: network-adapter
  id: nic
  name: Adapter
  source: {document: n}
  lanes: x16
  generation: 4
  ethernet: [{name: PORT 1..2, speed: 100 Gbit/s, connector: qsfp28, medium: copper}]
- kind: storage-controller
  id: hba
  name: HBA
  source: {document: c}
  lanes: x8
  generation: 4
  brings: {ports: [{name: C0, lanes: x16, carries: {sas: 4}}]}
- kind: backplane
  id: expander
  name: Expander
  source: {document: e}
  brings:
    positions: [{name: BAY 1..24, takes: drive, from: .X1..X24, lanes: x1}]
    ports: [{name: X1..X24, lanes: x1, carries: {sas: 4}, behind: .J0}]
- kind: backplane
  id: expander-rear
  name: Expander at the rear
  source: {document: e}
  brings:
    positions: [{name: REAR BAY 1..24, takes: drive, from: .X1..X24, lanes: x1}]
    ports: [{name: X1..X24, lanes: x1, carries: {sas: 4}, behind: REAR.J0}]
- kind: backplane
  id: direct
  name: Direct
  source: {document: e}
  brings: {positions: [{name: BAY 1..16, takes: drive, from: .J0, lanes: x1}]}
- kind: drive
  common: {source: {document: d}, medium: ssd, form: 2.5-inch, interface: sas, generation: 4,
           swap: hot, capacity: 1 TB}
  parts:
    - {id: fast, name: Fast, read: 2000 MB/s, write: 1000 MB/s}
    - {id: silent, name: Silent}
"""


CARDS = "network-adapter, storage-controller"


def system(slot: str, fit: str, plane: str = "x8"):
    positions = (
        "positions:\n  - {name: CPU1, takes: processor}\n"
        f"  - {{name: SLOT 1, takes: [{CARDS}], from: CPU1.P0, {slot}}}\n"
        "  - {name: FRONT, takes: backplane, "
        f"leads: {{J0: {{from: SLOT 1.C0, lanes: {plane}}}}}}}\n"
        "  - {name: REAR, takes: backplane, leads: {J0: {from: SLOT 1.C0, lanes: x4}}}\n"
    )  # fmt: skip
    return project(
        {
            "specgen.yaml": PROJECT,
            "catalog/processor.yaml": processor(ALL_PORTS, 8, "6400 MT/s"),
            "catalog/parts.yaml": PARTS.replace(" .J0", " FRONT.J0"),
            "platforms/bench.yaml": PLATFORM + positions,
            "configured/trial.yaml": f"{BUILD}fit:\n  CPU1: processor\n{fit}",
        }
    )


def warned(checked) -> list[str]:
    return [str(each.message) for each in checked.findings if each.code.id == "SG382"]


# 2 x 100 Gbit/s = 25 000 MB/s one way; Gen 4 x8 15 753.8 MB/s = 126 Gbit/s, x16 31 507.7 MB/s
@pytest.mark.published("PCI Express", "PCI Express Base 4.0: 16 GT/s x 128/130 / 8 x lanes")
@pytest.mark.parametrize(("slot", "many"), [("lanes: x8", 1), ("lanes: x16", 0)])
def test_an_adapter_faster_than_its_link_is_told_with_both_numbers(slot, many):
    found = warned(system(slot, "  SLOT 1: nic\n"))
    assert len(found) == many
    assert all("200 Gbit/s against 126 Gbit/s" in each for each in found)


# Declared 2 GB/s a drive: 7 are 14 GB/s, 8 are 16 GB/s; the link carries 15.75 GB/s.
# A drive that declares nothing counts with its link: SAS-4, 22.5 Gbit/s x 128/150 / 8 = 2.4 GB/s.
@pytest.mark.arithmetic("storage links and RAID", "sum of drives, each at most its link")
@pytest.mark.parametrize(
    ("fit", "many", "rate"),
    [
        ("BAY 1..7: fast", 0, "14"),
        ("BAY 1..8: fast", 1, "16"),
        ("BAY 1..6: silent", 0, "14.4"),
        ("BAY 1..7: silent", 1, "16.8"),
    ],
)
def test_drives_faster_than_the_controllers_link_are_told(fit, many, rate):
    checked = system("lanes: x8", f"  SLOT 1: hba\n  FRONT: direct\n  {fit}\n", "x16")
    facts = facts_of(checked.assemblies["trial"])
    value = facts.value("storage.SLOT 1.drive_rate")
    assert isinstance(value, DataRate)
    assert value == DataRate.of(rate, "GB/s")
    assert len(warned(checked)) == many


@pytest.mark.arithmetic("storage links and RAID", "an expander passes on what its uplink carries")
def test_behind_an_expander_no_more_than_its_uplink_counts():
    # 24 drives of 2 GB/s = 48 GB/s; four lanes of SAS-4 pass on 9.6 GB/s, less than 15.75 GB/s
    checked = system("lanes: x8", "  SLOT 1: hba\n  FRONT: expander\n  BAY 1..24: fast\n", "x4")
    facts = facts_of(checked.assemblies["trial"])
    assert facts.value("storage.SLOT 1.drive_rate") == DataRate.of("9.6", "GB/s")
    assert warned(checked) == []


@pytest.mark.arithmetic("storage links and RAID", "an expander passes on what its uplink carries")
def test_what_comes_through_two_expanders_adds_up():
    # FRONT: 24 drives through four lanes of SAS-4: 9.6 GB/s; REAR: 2 drives of 2 GB/s: 4 GB/s
    fit = "  SLOT 1: hba\n  FRONT: expander\n  BAY 1..24: fast\n  REAR: expander-rear\n"
    for drives, rate in ((2, "13.6"), (4, "17.6")):
        checked = system("lanes: x8", f"{fit}  REAR BAY 1..{drives}: fast\n", "x4")
        facts = facts_of(checked.assemblies["trial"])
        assert facts.value("storage.SLOT 1.drive_rate") == DataRate.of(rate, "GB/s")
        assert len(warned(checked)) == (DataRate.of(rate, "GB/s").amount > 15_753_846_153)
