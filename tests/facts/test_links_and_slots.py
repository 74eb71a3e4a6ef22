"""Links stage by stage, uplinks that are shared, power of slots, what belongs to a processor."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts import Facts
from specgen.facts.calculators import uplinks
from specgen.fitness import card_power
from specgen.quantity import NARROW_SPACE, DataRate, Power
from tests.facts.systems import calculated
from tests.timing import tries

BASE = "PCI Express Base 1.0 to 6.0"
CEM = "PCI Express CEM 1.1 and later text"

CARDS = """
- kind: network-adapter
  common: {source: {document: cards}, form: card, connector: x16, ethernet: [{name: PORT 1, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}]}
  parts:
    - {id: x16-5, name: Card, lanes: x16, generation: 5}
    - {id: x16-3, name: Card, lanes: x16, generation: 3}
    - {id: x16-1, name: Card, lanes: x16, generation: 1}
    - {id: x8-4, name: Card, lanes: x8, generation: 4}
- kind: drive
  common: {source: {document: drives}, medium: ssd, form: 2.5-inch, swap: hot, capacity: 3.84 TB}
  parts:
    - {id: nvme-4, name: Drive, interface: nvme, lanes: x4, generation: 4}
    - {id: sata, name: Drive, interface: sata, generation: 3}
    - {id: sas, name: Drive, interface: sas, generation: 3}
- kind: riser
  id: riser
  name: Riser
  source: {document: risers}
  brings: {positions: [{name: SLOT 1, takes: network-adapter, form: card, connector: x16, from: .A, lanes: x16}]}
"""  # noqa: E501
CPU = "  - {name: CPU1, takes: processor}\n"
MEGA = Decimal("1e-6")


def slot(link: str, part: str = "", ports: str = "") -> Facts:
    where = f"{CPU}  - {{name: SLOT 1, takes: [network-adapter, drive], form: [card, 2.5-inch], "
    fit = f"  CPU1: processor\n  SLOT 1: {part}\n" if part else "  CPU1: processor\n"
    named = {"ports": ports} if ports else {}
    return calculated(f"{where}{link}}}\n", fit, catalog=CARDS, **named)


# Source: PCI Express Base: a link runs at the lower generation and the smaller width of its two
# ends and of the wires between; MB/s one way as tabled there
CASES = (
    ("connector: x16, lanes: x8, generation: 4", "x16-5", "15753.8462", "SLOT 1: x8 of x16"),
    ("connector: x16, lanes: x16, generation: 3", "x16-5", "15753.8462", "SLOT 1: Gen 3"),
    ("connector: x16, lanes: x16", "x16-5", "63015.3846", "nothing"),
    ("connector: x16, lanes: x16", "x16-3", "15753.8462", "nothing"),
    ("connector: x16, lanes: x4", "x16-3", "3938.4615", "SLOT 1: x4 of x16"),
    ("connector: x16, lanes: x8", "x8-4", "15753.8462", "nothing"),
    ("connector: x16, lanes: x1, generation: 1", "x16-3", "250", "SLOT 1: x1 of x16"),
    ("lanes: x4, generation: 3", "nvme-4", "3938.4615", "SLOT 1: Gen 3 instead of Gen 4"),
    ("lanes: x2", "nvme-4", "3938.4615", "SLOT 1: x2 of x4"),
)


@pytest.mark.practice("links narrowed on the way", "a link runs at the least of its stages")
@pytest.mark.parametrize(("link", "part", "megabytes", "narrowed"), CASES)
def test_a_link_runs_at_what_every_stage_allows(link, part, megabytes, narrowed):
    facts = slot(f"from: CPU1.P0, {link}", part)
    got = facts.value("expansion.SLOT 1.running_bandwidth").in_unit("MB/s")
    assert got == pytest.approx(Decimal(megabytes), rel=MEGA)
    assert str(facts.value("expansion.SLOT 1.narrowed_by")).startswith(narrowed)


@pytest.mark.practice("links narrowed on the way", "a link runs at the least of its stages")
def test_trap_a_wide_connector_with_half_the_wires_has_two_widths():
    # Source: PCI Express Base 5.0: x8 at 32 GT/s = 31507.6923 MB/s; SMBIOS type 9 keeps the two
    # widths apart, DMTF Redfish has one `Lanes` for both
    facts = slot("from: CPU1.P0, connector: x16, lanes: x8, generation: 5")
    assert facts.value("expansion.SLOT 1.mechanical") == "x16"
    assert facts.value("expansion.SLOT 1.electrical") == "x8"
    assert str(facts.value("expansion.SLOT 1.narrowed_by")) == "SLOT 1: x8 of x16"
    got = facts.value("expansion.SLOT 1.bandwidth").in_unit("MB/s")
    assert got == pytest.approx(Decimal("31507.6923"), rel=MEGA)


@pytest.mark.published("bandwidth of a link one way", BASE)
def test_trap_both_directions_are_not_added():
    # Source: some tables print 8 GB/s for x16 at 2.5 GT/s, which is both ways together
    facts = slot("from: CPU1.P0, connector: x16, lanes: x16", "x16-1")
    assert facts.value("expansion.SLOT 1.running_bandwidth").in_unit("GB/s") == 4


@pytest.mark.published("bandwidth of a link one way", BASE)
def test_trap_transfers_are_not_bytes():
    # Source: 16 lanes of 32 GT/s are 63.015 GB/s one way and not 512
    facts = slot("from: CPU1.P0, connector: x16, lanes: x16", "x16-5")
    got = facts.value("expansion.SLOT 1.running_bandwidth").in_unit("GB/s")
    assert got == pytest.approx(Decimal("63.015"), rel=Decimal("1e-4"))


@pytest.mark.published("bandwidth of a link one way", BASE)
def test_all_of_a_flit_but_its_check_bytes_is_counted_and_the_source_says_so():
    # Source: PCI Express Base 6.0: 242 of 256 bytes, x16 = 121 000 MB/s; packets alone are 236
    facts = slot("from: CPU1.P0, connector: x16, lanes: x16, generation: 6")
    assert facts.value("expansion.SLOT 1.bandwidth").in_unit("MB/s") == 121_000
    running = slot("from: CPU1.P0, connector: x16, lanes: x16", "x16-5")
    assert "242 of 256" in str(running["expansion.SLOT 1.running_bandwidth"].source)


def test_every_stage_is_listed_from_the_owner_on():
    facts = calculated(
        f"{CPU}  - {{name: RISER, takes: riser, leads: "
        "{A: {from: CPU1.P0, lanes: x8, generation: 4}}}\n",
        "  CPU1: processor\n  RISER: riser\n  SLOT 1: x16-5",
        catalog=CARDS,
    )
    assert tuple(map(str, facts.value("expansion.SLOT 1.stages"))) == (
        "CPU1.P0 x16 Gen 6",
        "RISER.A x8 Gen 4",
        "SLOT 1 x16",
        "network adapter x16 Gen 5",
    )
    narrowed = "RISER.A: x8 of x16, RISER.A: Gen 4 instead of Gen 5"
    assert str(facts.value("expansion.SLOT 1.narrowed_by")) == narrowed


def test_a_sata_drive_on_a_sas_port_speaks_sata():
    # Source: SAS-3 (INCITS 519), STP: 6 Gbit/s, 600 MB/s after 8b/10b
    ports = "[{name: P0, lanes: x8, carries: {sas: 4}}]"
    facts = slot("from: CPU1.P0, lanes: x1", "sata", ports)
    assert facts.value("expansion.SLOT 1.running_bandwidth").in_unit("MB/s") == 600


# Source: MB/s one way of PCI Express, Serial ATA and SAS links as tabled: what hangs on an uplink
# over what the uplink carries
SHARED = (
    ("pcie: 5", "x16", 4, "pcie: 5", "x16", "x16-5", "63015.3846", "252061.5385", "4"),
    ("pcie: 3", "x4", 8, "sata: 3", "x1", "sata", "3938.4615", "4800", "1.21875"),
    ("pcie: 3", "x4", 4, "sata: 3", "x1", "sata", "3938.4615", "2400", "0.609375"),
    ("pcie: 4", "x16", 8, "pcie: 4", "x4", "nvme-4", "31507.6923", "63015.3846", "2"),
    ("pcie: 3", "x8", 8, "pcie: 4", "x4", "nvme-4", "7876.9231", "63015.3846", "8"),
    ("pcie: 4", "x8", 8, "sas: 3", "x1", "sas", "15753.8462", "9600", "0.609375"),
    ("sas: 3", "x8", 24, "sas: 3", "x1", "sas", "9600", "28800", "3"),
)


def switched(feed: str, wide: str, count: int, port: str, lanes: str, part: str) -> Facts:
    """So many parts behind a riser with a switch, an expander or a hub, fed by one port."""
    riser = f"""
- kind: riser
  id: fan-out
  name: Riser
  source: {{document: risers}}
  brings:
    positions: [{{name: PLACE 1..{count}, takes: [network-adapter, drive], from: .X1..X{count}, lanes: {lanes}}}]
    ports: [{{name: X1..X{count}, lanes: {lanes}, carries: {{{port}}}, behind: .A}}]
"""  # noqa: E501
    return calculated(
        f"{CPU}  - {{name: RISER, takes: riser, leads: {{A: {{from: CPU1.P0, lanes: {wide}}}}}}}\n",
        f"  CPU1: processor\n  RISER: fan-out\n  PLACE 1..{count}: {part}",
        catalog=CARDS + riser,
        ports=f"[{{name: P0, lanes: x16, carries: {{{feed}}}}}]",
    )


@pytest.mark.arithmetic("oversubscription", "rates behind an uplink / its own rate")
@pytest.mark.parametrize(
    ("feed", "wide", "count", "port", "lanes", "part", "uplink", "demand", "ratio"), SHARED
)
def test_what_hangs_on_an_uplink_is_held_against_it(
    feed, wide, count, port, lanes, part, uplink, demand, ratio
):
    facts = switched(feed, wide, count, port, lanes, part)
    name = "expansion.RISER.A"
    assert facts.value(f"{name}.attached") == count
    got = [facts.value(f"{name}.{which}").in_unit("MB/s") for which in ("uplink", "demand")]
    assert got == [pytest.approx(Decimal(each), rel=MEGA) for each in (uplink, demand)]
    found = facts.value(f"{name}.oversubscription")
    assert found == pytest.approx(Decimal(ratio), abs=Decimal("1e-4"))
    enough = facts.value(f"{name}.shared") == uplinks.ENOUGH
    assert enough is (Decimal(ratio) <= 1)


def test_a_controllers_own_ports_hang_on_its_slot():
    controller = """
- kind: storage-controller
  id: controller
  name: Controller
  source: {document: cards}
  connector: x8
  lanes: x8
  generation: 3
  brings: {ports: [{name: C0..C1, lanes: x8, carries: {sas: 3, sata: 3}}]}
"""
    facts = calculated(
        f"{CPU}  - {{name: SLOT 9, takes: storage-controller, from: CPU1.P0, lanes: x8}}\n"
        "  - {name: BAY 0..7, takes: drive, from: SLOT 9.C0, lanes: x1}\n",
        "  CPU1: processor\n  SLOT 9: controller\n  BAY 0..7: sas",
        catalog=CARDS + controller,
    )
    # Source: 8 x 1200 MB/s of SAS-3 over 7876.9231 MB/s of x8 at 8 GT/s
    ratio = facts.value("expansion.SLOT 9.oversubscription")
    assert ratio == pytest.approx(Decimal("1.21875"), abs=Decimal("1e-4"))
    assert facts.value("expansion.oversubscription") == ratio
    shared = str(facts.value("expansion.SLOT 9.shared")).replace(NARROW_SPACE, " ")
    assert shared.startswith("8 links, 9.6 GB/s total, share")
    assert str(facts.value("expansion.CPU1.owns")) == "BAY 0 to 7, SLOT 9"


@settings(max_examples=tries(20))
@given(st.integers(1, 8), st.sampled_from(["x1", "x2", "x4"]), st.integers(1, 5))
def test_more_behind_an_uplink_never_lowers_its_ratio(count, lanes, generation):
    less = switched(f"pcie: {generation}", "x8", count, "pcie: 4", lanes, "nvme-4")
    more = switched(f"pcie: {generation}", "x8", count + 1, "pcie: 4", lanes, "nvme-4")
    key = "expansion.RISER.A.oversubscription"
    assert less.value(key) <= more.value(key)


# Source: PCI Express CEM: x1 25 W once configured; x4, x8 and x16 up to 75 W in the later text
SLOTS = ((1, 25), (4, 75), (8, 75), (16, 75))


@pytest.mark.published("slot power", CEM)
@pytest.mark.parametrize(("lanes", "watts"), SLOTS)
def test_a_slot_gives_so_much_at_most(lanes, watts):
    assert card_power.standard_power(lanes) == Power.of(watts)


@pytest.mark.published("slot power", CEM)
def test_trap_the_two_rails_together_stay_below_their_sum():
    # Source: 3.3 V x 3 A + 12 V x 5.5 A = 75.9 W, and the limit for both is 75 W
    rails = Decimal("3.3") * 3 + Decimal(12) * Decimal("5.5")
    assert rails == Decimal("75.9")
    assert card_power.standard_power(16).in_unit("W") == 75


def card(
    watts: int, connector: str = "x16", offered: int = 700, aux: int = 0, six: int = 0
) -> Facts:
    counts = {"pcie-8-pin": aux, "pcie-6-pin": six}
    wanted = [f"{{resource: {name}, count: {count}}}" for name, count in counts.items() if count]
    needs = f", needs: [{', '.join(wanted)}]" if wanted else ""
    return calculated(
        f"{CPU}  - {{name: SLOT 1, takes: accelerator, form: card, connector: {connector}, "
        f"from: CPU1.P0, lanes: x16, power: {offered} W}}\n  - {{name: FAN, takes: fan}}\n",
        "  CPU1: processor\n  SLOT 1: card\n  FAN: box",
        catalog=f"""
- {{kind: accelerator, id: card, name: Card, source: {{document: cards}}, connector: {connector},
   power: {{maximum: {watts} W}}{needs}}}
- {{kind: fan, id: box, name: Fan, form: fan-40, source: {{document: fans}},
   brings: {{resources: {{pcie-8-pin: 4, pcie-6-pin: 2}}}}}}
""",
    )


# Source: CEM: 75 W from the slot; auxiliary cables of 75 W (6 contacts), 150 W (8 contacts) and
# up to 600 W (12 and 4 contacts) on top
CABLES = ((75, 0), (150, 75), (225, 150), (300, 225), (375, 300), (675, 600))


@pytest.mark.published("power by auxiliary cable", CEM)
@pytest.mark.parametrize(("watts", "cable"), CABLES)
def test_what_the_slot_does_not_give_comes_by_cable(watts, cable):
    facts = card(watts)
    assert facts.value("expansion.SLOT 1.power_by_slot") == Power.of(75)
    assert facts.value("expansion.SLOT 1.power_by_cable") == Power.of(cable)


@pytest.mark.published("power by auxiliary cable", CEM)
def test_a_narrow_slot_gives_less():
    # Source: CEM: x1 25 W; a card of 75 W needs 50 W more
    facts = card(75, "x1")
    assert facts.value("expansion.SLOT 1.power_by_cable") == Power.of(50)


def test_a_slot_declared_weaker_than_the_standard_gives_what_is_declared():
    facts = card(75, offered=40)
    assert facts.value("expansion.SLOT 1.power_by_slot") == Power.of(40)
    assert facts.value("expansion.SLOT 1.power_by_cable") == Power.of(35)


def test_auxiliary_connectors_are_counted_offered_and_taken():
    facts = card(300, aux=2)
    assert facts.value("expansion.SLOT 1.auxiliary") == 2
    assert facts.value("resources.pcie-8-pin.offered") == 4
    assert facts.value("resources.pcie-8-pin.taken") == 2
    both = card(450, aux=2, six=1)
    assert both.value("expansion.SLOT 1.auxiliary") == 3
    assert both.value("resources.pcie-6-pin.taken") == 1


TWO = """
  - {name: CPU1..2, takes: processor}
  - {name: DIMM A1..4, takes: memory-module, of: CPU1}
  - {name: DIMM B1..6, takes: memory-module, of: CPU2}
  - {name: SLOT 1, takes: [network-adapter, drive], form: card, from: CPU1.P0, lanes: x16}
  - {name: SLOT 2, takes: [network-adapter, drive], form: card, from: CPU2.P0, lanes: x8}
  - {name: RISER 2, takes: riser, of: CPU2, offset: 4, leads: {A: {from: CPU2.P1, lanes: x16}}}
  - {name: FAN, takes: fan}
"""


def test_what_is_lost_without_a_processor_is_listed():
    facts = calculated(TWO, "  CPU1: processor\n  SLOT 1: x16-5", catalog=CARDS)
    assert str(facts.value("expansion.lost")) == "DIMM B1 to 6, RISER 2, SLOT 2"
    assert str(facts.value("expansion.CPU2.present")) == "empty"
    assert str(facts.value("expansion.CPU2.needed_by")) == "RISER 2, SLOT 2"
    assert facts.value("expansion.CPU2.memory_slots") == 6
    assert facts.value("expansion.CPU2.lanes_wired") == 24


def test_what_would_be_lost_is_what_belongs_to_a_processor():
    facts = calculated(
        TWO,
        "  CPU1..2: processor\n  SLOT 1: x16-5\n  RISER 2: riser\n  SLOT 5: x8-4",
        catalog=CARDS,
    )
    assert str(facts.value("expansion.lost")) == "none"
    assert str(facts.value("expansion.CPU1.owns")) == "SLOT 1"
    assert str(facts.value("expansion.CPU2.owns")) == "SLOT 5"
    assert str(facts.value("expansion.CPU2.needed_by")) == "RISER 2, SLOT 2, SLOT 5"
    assert str(facts.value("expansion.CPU1.needed_by")) == "SLOT 1"


def test_what_would_be_lost_is_lost_once_the_processor_is_gone():
    both = calculated(TWO, "  CPU1..2: processor\n  SLOT 1: x16-5", catalog=CARDS)
    one = calculated(TWO, "  CPU1: processor\n  SLOT 1: x16-5", catalog=CARDS)
    assert both.value("expansion.CPU2.needed_by") == one.value("expansion.CPU2.needed_by")


def test_an_uplink_with_nothing_behind_it_says_so():
    assert str(uplinks.shared(0, DataRate.of(0), DataRate.of(1))) == "nothing is connected to it"
