"""Links of mixed generations and protocols, each value with how it comes about.

Sources: PCI Express Base (16 GT/s x 128/130 / 8 a lane), Serial ATA and SAS-2 to SAS-4; that a SAS
port runs a SATA drive at 6 Gbit/s from SAS-2 on, and that all ports of a switch are of its
generation, from memory.
"""

from decimal import Decimal

import pytest

from specgen.quantity import DataRate
from tests.facts.arrays import array
from tests.facts.english import in_english
from tests.facts.systems import calculated

pytestmark = pytest.mark.memory("links", "PCI Express Base, Serial ATA, SAS-2 to SAS-4")

SATA_3 = DataRate.of(600, "MB/s")  # 6 Gbit/s x 8/10 / 8
MB = DataRate.of(1, "MB/s")


@pytest.mark.parametrize(
    ("carries", "drive", "rate"),
    [
        ("{sas: 2}", "interface: sata, generation: 3", 600),  # SAS-2 is 6 Gbit/s as SATA 3 is
        ("{sas: 3}", "interface: sata, generation: 3", 600),  # never the 12 Gbit/s of the port
        ("{sas: 4}", "interface: sata, generation: 3", 600),
        ("{sas: 4}", "interface: sata, generation: 2", 300),  # the drive's own 3 Gbit/s
        ("{sas: 2, sata: 2}", "interface: sata, generation: 3", 300),  # a port that says so
        ("{sas: 2}", "interface: sas, generation: 4", 600),  # 6 x 8/10 / 8
        ("{sas: 3}", "interface: sas, generation: 4", 1200),
        ("{sas: 4}", "interface: sas, generation: 3", 1200),
    ],
)
def test_a_drive_runs_at_what_both_ends_can(carries, drive, rate):
    facts = array("[]", fit="BAY 1..2: drive", carries=carries, drive=drive)
    assert facts.value("expansion.BAY 1.running_bandwidth") == MB * rate
    assert facts.value("expansion.SLOT 1.demand") == MB * rate * 2  # two links


RISER = """
- kind: riser
  id: switch
  name: Riser with a switch
  source: {document: risers}
  brings:
    positions:
      - {name: SLOT 1..2, takes: accelerator, form: card, connector: x16, from: .W1..W2, lanes: x16}
    ports: [{name: W1..W2, lanes: x16, carries: {pcie: %s}, behind: .A}]
- {kind: accelerator, id: board, name: Board, source: {document: b}, form: card, connector: x16,
   lanes: x16, generation: %s}
"""


@pytest.mark.parametrize(
    ("switch", "board", "running", "uplink", "ratio"),
    [
        # x16 at 16 GT/s: 16 x 16 x 128/130 / 8 = 31.507692 GB/s, at 32 GT/s 63.015385
        (4, 4, "31507.6923", "31507.6923", "2"),
        (4, 5, "31507.6923", "31507.6923", "2"),
        (5, 4, "31507.6923", "63015.3846", "1"),  # two of half the rate
        (3, 5, "15753.8462", "15753.8462", "2"),
    ],
)
def test_a_switch_is_fed_at_its_own_generation(switch, board, running, uplink, ratio):
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n"
        "  - {name: RISER, takes: riser, leads: {A: {from: CPU1.P0, lanes: x16}}}\n",
        "  CPU1: processor\n  RISER: switch\n  SLOT 1..2: board\n",
        catalog=RISER % (switch, board),
        ports="[{name: P0, lanes: x16, carries: {pcie: 5}}]",
    )
    for key, mega in (("SLOT 1.running_bandwidth", running), ("RISER.A.uplink", uplink)):
        found = facts.value(f"expansion.{key}")
        assert isinstance(found, DataRate)
        assert round(found.in_unit("MB/s"), 4) == Decimal(mega), key
    assert facts.value("expansion.RISER.A.oversubscription") == Decimal(ratio)


SLOW_UPLINK = """
- kind: riser
  id: switch
  name: Riser with a switch
  source: {document: risers}
  brings:
    positions:
      - {name: SLOT 1, takes: network-adapter, form: card, height: low, connector: x16,
         from: .W1, lanes: x16}
      - {name: SLOT 2, takes: storage-controller, form: card, height: low, connector: x8,
         from: .W2, lanes: x8}
      - {name: BAY 1..4, takes: drive, from: SLOT 2.C0, lanes: x1}
    ports:
      - {name: W1, lanes: x16, carries: {pcie: 5}, behind: .A}
      - {name: W2, lanes: x8, carries: {pcie: 4}, behind: .B}
- {kind: network-adapter, id: nic, name: Adapter, source: {document: n}, form: card, height: low,
   connector: x16, lanes: x16, generation: 5,
   ethernet: [{name: F1, speed: 400 Gbit/s, connector: qsfp-dd, medium: pluggable}]}
- {kind: storage-controller, id: hba, name: HBA, source: {document: h}, form: card, height: low,
   connector: x8, lanes: x8, generation: 4,
   brings: {ports: [{name: C0, lanes: x4, carries: {sas: 4}}]}}
- {kind: drive, id: ssd, name: SSD, source: {document: d}, medium: ssd, form: 2.5-inch, swap: hot,
   interface: sas, generation: 4, capacity: 2 TB, read: 1300 MB/s, write: 1000 MB/s}
"""


@pytest.mark.arithmetic("links", "the least of all links between a card and the processor")
def test_a_card_behind_a_switch_is_held_by_the_uplink():
    """Ports of 50 GB/s had a host link of 63.0 GB/s and were `limited by ports`: the switch is
    reached over x16 at 8 GT/s, 15.753846 GB/s. Four drives of 1.3 GB/s share x4 at 8 GT/s."""
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n"
        "  - {name: R, takes: riser, leads: {A: {from: CPU1.P0, lanes: x16}, "
        "B: {from: CPU1.P1, lanes: x4}}}\n",
        "  CPU1: processor\n  R: switch\n  SLOT 1: nic\n  SLOT 2: hba\n  BAY 1..4: ssd",
        catalog=SLOW_UPLINK,
        ports="[{name: P0..P1, lanes: x16, carries: {pcie: 3}, splits: [4+4+4+4]}]",
    )
    assert facts.value("expansion.SLOT 1.running") == "x16 Gen 5"
    host = facts.value("network.SLOT 1.host_bandwidth").in_unit("MB/s")
    assert host == pytest.approx(Decimal("15753.84615"))
    assert facts.value("network.SLOT 1.load") == pytest.approx(Decimal("3.173828"))  # 50 / 15.7538
    assert in_english(facts.value("network.SLOT 1.limited_by")) == "host link"
    assert facts.value("network.load") == facts.value("network.SLOT 1.load")
    host = facts.value("storage.SLOT 2.host_bandwidth").in_unit("MB/s")
    assert host == pytest.approx(Decimal("3938.461538"))
    load = facts.value("storage.SLOT 2.host_load")
    assert load == pytest.approx(Decimal("1.3203125"))  # 5.2 / 3.938462
    # and the root port is the processor's, not the switch's own
    owner = facts.value("expansion.SLOT 1.owner")
    assert in_english(owner) == "CPU1.P0, through R.W1"
