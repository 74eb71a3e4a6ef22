"""PCI Express: bandwidths and links narrowed, against published values."""

from decimal import Decimal

import pytest

from specgen.facts.calculators import expansion
from specgen.quantity import DataRate
from tests.facts.systems import calculated

# Source: PCI Express Base Specifications 1.0 to 6.0: rate x coding x lanes / 8, one way.
# Coding 8b/10b for 2.5 and 5 GT/s, 128b/130b for 8 to 32 GT/s, 242 of 256 bytes of a FLIT
# for 64 GT/s. The field sizes of the FLIT: from memory.
BANDWIDTHS = (
    (1, 1, "250"),
    (1, 4, "1000"),
    (1, 8, "2000"),
    (1, 16, "4000"),
    (2, 1, "500"),
    (2, 4, "2000"),
    (2, 8, "4000"),
    (2, 16, "8000"),
    (3, 1, "984.6154"),
    (3, 4, "3938.4615"),
    (3, 8, "7876.9231"),
    (3, 16, "15753.8462"),
    (4, 1, "1969.2308"),
    (4, 4, "7876.9231"),
    (4, 8, "15753.8462"),
    (4, 16, "31507.6923"),
    (5, 1, "3938.4615"),
    (5, 4, "15753.8462"),
    (5, 8, "31507.6923"),
    (5, 16, "63015.3846"),
    (6, 1, "7562.5"),
    (6, 4, "30250"),
    (6, 8, "60500"),
    (6, 16, "121000"),
)
# Source: as above, the same values counted in GiB/s (IEC 80000-13)
BINARY = (
    (1, "3.7253"),
    (2, "7.4506"),
    (3, "14.6719"),
    (4, "29.3438"),
    (5, "58.6877"),
    (6, "112.6900"),
)
# Source: the rounded values for a lane that PCI-SIG's own tables print; from memory
ROUNDED = ((3, "0.985"), (4, "1.969"), (5, "3.938"), (6, "7.563"))


def rate(generation: int, lanes: int) -> DataRate:
    found = expansion.lane_rate("pcie", generation, lanes)
    assert found is not None
    return found


@pytest.mark.published("PCI Express", "PCI Express Base 1.0 to 6.0")
@pytest.mark.parametrize(("generation", "lanes", "megabytes"), BANDWIDTHS)
def test_a_link_carries_what_the_specification_gives(generation, lanes, megabytes):
    got = rate(generation, lanes).in_unit("MB/s")
    assert got == pytest.approx(Decimal(megabytes), rel=Decimal("1e-6"))


@pytest.mark.arithmetic("PCI Express", "MB/s counted in GiB/s")
@pytest.mark.parametrize(("generation", "gibibytes"), BINARY)
def test_sixteen_lanes_in_binary_units(generation, gibibytes):
    got = rate(generation, 16).in_unit("GiB/s")
    assert got == pytest.approx(Decimal(gibibytes), rel=Decimal("2e-5"))


@pytest.mark.memory("PCI Express", "PCI-SIG's tables for a lane, rounded")
@pytest.mark.parametrize(("generation", "gigabytes"), ROUNDED)
def test_a_lane_agrees_with_the_rounded_values_in_print(generation, gigabytes):
    got = rate(generation, 1).in_unit("GB/s")
    assert got == pytest.approx(Decimal(gigabytes), rel=Decimal("1e-3"))


@pytest.mark.published("PCI Express", "PCI Express Base 1.0 to 6.0")
@pytest.mark.parametrize("generation", range(1, 7))
def test_a_transfer_rate_is_not_taken_for_bytes_and_one_way_not_for_both(generation):
    # Source: PCI Express Base: 2.5, 5, 8, 16, 32, 64 GT/s a lane, one bit a transfer, each way
    transfers = (Decimal("2.5"), 5, 8, 16, 32, 64)[generation - 1]
    assert rate(generation, 1).in_unit("GB/s") < Decimal(transfers) / 8


@pytest.mark.published("PCI Express", "DMTF Redfish 2025.4, PCIeTypes")
def test_a_generation_that_no_table_has_gives_no_value():
    # Source: DMTF Redfish 2025.4, PCIeTypes: Gen1 to Gen6
    assert expansion.lane_rate("pcie", 7, 16) is None
    assert expansion.lane_rate("pcie", 0, 16) is None


CARDS = """
- kind: network-adapter
  common: {source: {document: cards}, form: card, connector: x16, lanes: x16}
  parts:
    - {id: nic-4, name: Adapter, generation: 4, ethernet: [{name: PORT 1..2, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}]}
    - {id: nic-5, name: Adapter, generation: 5, ethernet: [{name: PORT 1, speed: 400 Gbit/s, connector: qsfp-dd, medium: pluggable}]}
- kind: drive
  common: {source: {document: drives}, medium: ssd, form: 2.5-inch, swap: hot, interface: nvme, lanes: x4}
  parts:
    - {id: drive-4, name: Drive, generation: 4, capacity: 3.84 TB}
"""  # noqa: E501
SOCKET = "  - {name: CPU1, takes: processor}\n"


def slot(link: str, part: str, more: str = "", **named: str):
    return calculated(
        f"{SOCKET}  - {{name: SLOT 1, takes: [network-adapter], form: card, {link}}}\n{more}",
        f"  CPU1: processor\n  SLOT 1: {part}",
        catalog=CARDS,
        **named,
    )


@pytest.mark.practice("PCI Express", "a link runs at the least of its stages")
def test_a_wide_fast_card_in_a_slot_wired_narrow_and_slow():
    # Source: PCI Express Base 4.0: x8 at 16 GT/s = 15753.8462 MB/s. Speed is the least of slot
    # and card, width the largest that both support and that is wired (common practice).
    facts = slot("from: CPU1.P0, connector: x16, lanes: x8, generation: 4", "nic-5")
    assert facts.value("expansion.SLOT 1.mechanical") == "x16"
    assert facts.value("expansion.SLOT 1.electrical") == "x8"
    assert facts.value("expansion.SLOT 1.generation") == 4
    assert facts.value("expansion.SLOT 1.running") == "x8 Gen 4"
    got = facts.value("expansion.SLOT 1.bandwidth").in_unit("MB/s")
    assert got == pytest.approx(Decimal("15753.8462"), rel=Decimal("1e-6"))


@pytest.mark.published("PCI Express", "PCI Express Base 1.0 to 6.0")
def test_a_slot_keeps_its_own_bandwidth_under_a_slower_card():
    # Source: PCI Express Base 5.0: x16 at 32 GT/s = 63015.3846 MB/s
    facts = slot("from: CPU1.P0, connector: x16, lanes: x16, generation: 5", "nic-4")
    assert facts.value("expansion.SLOT 1.running") == "x16 Gen 4"
    got = facts.value("expansion.SLOT 1.bandwidth").in_unit("MB/s")
    assert got == pytest.approx(Decimal("63015.3846"), rel=Decimal("1e-6"))


@pytest.mark.practice("PCI Express", "a link runs at the least of its stages")
def test_a_drive_behind_an_older_port_runs_at_the_ports_speed():
    # Source: PCI Express Base 3.0: x4 at 8 GT/s = 3938.4615 MB/s
    ports = "[{name: P0, lanes: x16, carries: {pcie: 3}, splits: 4+4+4+4}]"
    facts = calculated(
        f"{SOCKET}"
        "  - {name: SLOT 1..4, takes: [network-adapter, drive], form: 2.5-inch, swap: hot, "
        "from: CPU1.P0, lanes: x4}\n",
        "  CPU1: processor\n  SLOT 1..4: drive-4",
        catalog=CARDS,
        ports=ports,
    )
    each = [facts.value(f"expansion.SLOT {number}.bandwidth") for number in (1, 2, 3, 4)]
    assert [facts.value(f"expansion.SLOT {n}.running") for n in (1, 2, 3, 4)] == ["x4 Gen 3"] * 4
    assert each[0].in_unit("MB/s") == pytest.approx(Decimal("3938.4615"), rel=Decimal("1e-6"))
    # Source: a x16 port of 8 GT/s split in four: 4 x 3938.4615 = 15753.8462 MB/s
    total = sum(rate.in_unit("MB/s") for rate in each)
    assert total == pytest.approx(Decimal("15753.8462"), rel=Decimal("1e-6"))
    assert facts.value("expansion.CPU1.lanes_free") == 0


# Source: IEEE 802.3 with 100 Gbit/s a port: two are 25 000 MB/s one way; PCI Express Base 4.0
NARROW_AND_WIDE = ((8, "15753.8", False), (16, "31507.7", True))


@pytest.mark.arithmetic("PCI Express", "Gbit/s / 8 = GB/s")
@pytest.mark.parametrize(("lanes", "megabytes", "enough"), NARROW_AND_WIDE)
def test_two_ports_of_100_gbit_need_a_wide_slot(lanes, megabytes, enough):
    facts = slot(f"from: CPU1.P0, connector: x16, lanes: x{lanes}, generation: 4", "nic-4")
    bandwidth = facts.value("expansion.SLOT 1.bandwidth")
    line = facts.value("network.line_rate")
    assert line.in_unit("MB/s") == 25_000
    assert bandwidth.in_unit("MB/s") == pytest.approx(Decimal(megabytes), abs=Decimal("0.05"))
    assert (bandwidth >= line) is enough


@pytest.mark.practice("PCI Express", "a link runs at the least of its stages")
def test_a_riser_narrower_than_its_slot_counts():
    # common practice, no source: a link is as wide as its narrowest stretch
    facts = calculated(
        f"{SOCKET}  - {{name: RISER, takes: riser, leads: {{A: {{from: CPU1.P0, lanes: x8}}}}}}\n",
        "  CPU1: processor\n  RISER: riser\n  SLOT 1: nic-5",
        catalog=CARDS
        + """
- kind: riser
  id: riser
  name: Riser
  source: {document: risers}
  brings: {positions: [{name: SLOT 1, takes: network-adapter, form: card, connector: x16, from: .A, lanes: x16}]}
""",  # noqa: E501
    )
    assert facts.value("expansion.SLOT 1.mechanical") == "x16"
    assert facts.value("expansion.SLOT 1.electrical") == "x8"
    assert facts.value("expansion.SLOT 1.running") == "x8 Gen 5"


# Source: IEEE 802.3: line rate in Gbit/s, an eighth of it in GB/s, one way
LINE_RATES = (("1", "0.125"), ("10", "1.25"), ("25", "3.125"), ("100", "12.5"), ("400", "50"))


@pytest.mark.arithmetic("PCI Express", "Gbit/s / 8 = GB/s")
@pytest.mark.parametrize(("gigabits", "gigabytes"), LINE_RATES)
def test_a_port_in_bits_is_an_eighth_in_bytes(gigabits, gigabytes):
    assert DataRate.parse(f"{gigabits} Gbit/s").in_unit("GB/s") == Decimal(gigabytes)
