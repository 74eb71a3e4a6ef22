"""Ports, transceivers and host links, against published rates."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts import Facts
from specgen.facts.calculators import adapters, network
from specgen.facts.constants import CAGES
from specgen.model import Transceiver
from specgen.pipeline import Survey
from specgen.quantity import DataRate, Length, show
from tests.facts.english import in_english
from tests.facts.systems import calculated
from tests.sorts import rest_on

CONNECTORS = "SFF documents of the connectors, QSFP-DD MSA"
ETHERNET = "IEEE 802.3"

# Source: SFF-8431, SFF-8402, SFF-8665, SFF-8636, QSFP-DD MSA (by an encyclopaedia); Gbit/s of all
# lanes, one way
MODULES = (
    ("sfp+", 1, "10"),
    ("sfp28", 1, "25"),
    ("qsfp28", 4, "100"),
    ("qsfp56", 4, "200"),
    ("qsfp-dd", 8, "400"),
)
# from memory: IEC 60603-7, SFP56, SFP112, QSFP112, QSFP-DD800, OSFP MSA
MODULES_REMEMBERED = (
    ("rj45", 1, "10"),
    ("sfp56", 1, "50"),
    ("sfp112", 1, "100"),
    ("qsfp112", 4, "400"),
    ("qsfp-dd800", 8, "800"),
    ("osfp", 8, "800"),
)


@pytest.mark.published("connectors for transceivers", CONNECTORS)
@pytest.mark.parametrize(
    ("connector", "lanes", "gigabits"),
    [
        *MODULES,
        *rest_on(
            pytest.mark.memory("connectors for transceivers", "IEC 60603-7, SFP56, OSFP"),
            MODULES_REMEMBERED,
        ),
    ],
)
def test_a_connector_carries_lanes_times_rate(connector, lanes, gigabits):
    assert CAGES[connector].lanes == lanes
    assert network.cage_rate(connector).in_unit("Gbit/s") == Decimal(gigabits)


@pytest.mark.published("connectors for transceivers", CONNECTORS)
def test_trap_two_hundred_gigabits_are_of_a_module_and_not_of_a_lane():
    # Source: SFF-8665: QSFP56 is 4 x 50; a public page has 200 Gbit/s for each channel
    assert CAGES["qsfp56"].rate == 50
    assert network.lanes_of(DataRate.of(200, "Gbit/s"), "qsfp56") == "4 x 50 Gbit/s"


# Source: as MODULES: how the rate of a port lies on its lanes
LANES = (
    ("10", "sfp+", "1 x 10 Gbit/s"),
    ("25", "sfp28", "1 x 25 Gbit/s"),
    ("100", "qsfp28", "4 x 25 Gbit/s"),
    ("400", "qsfp-dd", "8 x 50 Gbit/s"),
)


@pytest.mark.published("connectors for transceivers", CONNECTORS)
@pytest.mark.parametrize(("gigabits", "connector", "lanes"), LANES)
def test_a_port_spreads_over_the_lanes_of_its_connector(gigabits, connector, lanes):
    assert network.lanes_of(DataRate.of(gigabits, "Gbit/s"), connector) == lanes


def test_a_connector_that_no_table_has_gives_no_value():
    assert network.cage_rate("cx4") is None
    assert network.lanes_of(DataRate.of(10, "Gbit/s"), "cx4") is None


# Source: IEEE 802.3ae (10GBASE-SR over OM4, -LR), 802.3ba (100GBASE-LR4)
REACHES = (
    ("10GBASE-SR", "10", "400", "SFP+"),
    ("10GBASE-LR", "10", "10000", "SFP+"),
    ("100GBASE-LR4", "100", "10000", "QSFP28"),
)
# from memory: 802.3by and 802.3cc (25GBASE), 802.3bm (100GBASE-SR4), 802.3bs (400GBASE)
REMEMBERED = (
    ("25GBASE-SR", "25", "100", "SFP28"),
    ("25GBASE-LR", "25", "10000", "SFP28"),
    ("100GBASE-SR4", "100", "100", "QSFP28"),
    ("400GBASE-DR4", "400", "500", "QSFP-DD"),
    ("400GBASE-LR8", "400", "10000", "QSFP-DD"),
)


def reaches_as_far(demo: Survey, name: str, gigabits: str, metres: str, form: str) -> None:
    assert demo.definitions is not None
    parts = demo.definitions.parts.values()
    found = [part for part in parts if isinstance(part, Transceiver) and f" {name}," in part.name]
    assert len(found) == 1
    assert found[0].reach == Length.of(metres, "m")
    assert found[0].speed == DataRate.of(gigabits, "Gbit/s")
    assert found[0].form == form.lower()
    assert network.cage_rate(found[0].form) >= found[0].speed


@pytest.mark.published("reach and rate of transceivers in the demo", ETHERNET)
@pytest.mark.parametrize(("name", "gigabits", "metres", "form"), REACHES)
def test_transceivers_of_the_demo_reach_as_far_as_their_standard(
    demo: Survey, name, gigabits, metres, form
):
    reaches_as_far(demo, name, gigabits, metres, form)


@pytest.mark.memory("reach and rate of transceivers in the demo", "IEEE 802.3by, cc, bm, bs")
@pytest.mark.parametrize(("name", "gigabits", "metres", "form"), REMEMBERED)
def test_transceivers_of_the_demo_reach_as_far_as_remembered(
    demo: Survey, name, gigabits, metres, form
):
    reaches_as_far(demo, name, gigabits, metres, form)


# Source: IEEE 802.3 rates over PCI Express Base: an eighth of the Gbit/s over GB/s one way
HOSTS = (
    (2, "100", 4, 8, "25000", "15753.8462", "1.5869"),
    (2, "100", 4, 16, "25000", "31507.6923", "0.7935"),
    (1, "400", 4, 16, "50000", "31507.6923", "1.5869"),
    (1, "400", 5, 16, "50000", "63015.3846", "0.7935"),
    (2, "200", 5, 16, "50000", "63015.3846", "0.7935"),
    (4, "25", 3, 8, "12500", "7876.9231", "1.5869"),
    (2, "25", 3, 8, "6250", "7876.9231", "0.7935"),
    (2, "10", 3, 4, "2500", "3938.4615", "0.6348"),
    (4, "1", 2, 1, "500", "500", "1"),
    (2, "1", 1, 1, "250", "250", "1"),
    (4, "10", 2, 4, "5000", "2000", "2.5"),
)


def adapter(ports: int, gigabits: str, generation: int, lanes: int, wired: int = 16) -> Facts:
    return calculated(
        "  - {name: CPU1, takes: processor}\n"
        "  - {name: SLOT 1, takes: network-adapter, form: card, from: CPU1.P0, "
        f"lanes: x{wired}}}\n",
        "  CPU1: processor\n  SLOT 1: nic",
        catalog=f"""
- kind: network-adapter
  id: nic
  name: Adapter
  source: {{document: cards}}
  connector: x16
  lanes: x{lanes}
  generation: {generation}
  ethernet:
    - {{name: PORT 1..{ports}, speed: {gigabits} Gbit/s, connector: qsfp-dd, medium: pluggable}}
""",
    )


@pytest.mark.arithmetic("line rate against host link", "Gbit/s of ports / 8 over GB/s of the slot")
@pytest.mark.parametrize(
    ("ports", "gigabits", "generation", "lanes", "line", "host", "ratio"), HOSTS
)
def test_ports_are_held_against_the_host_link(
    ports, gigabits, generation, lanes, line, host, ratio
):
    facts = adapter(ports, gigabits, generation, lanes)
    assert facts.value("network.SLOT 1.line_rate").in_unit("MB/s") == Decimal(line)
    got = facts.value("network.SLOT 1.host_bandwidth").in_unit("MB/s")
    assert got == pytest.approx(Decimal(host), rel=Decimal("1e-6"))
    assert facts.value("network.SLOT 1.load") == pytest.approx(Decimal(ratio), abs=Decimal("5e-5"))
    limit = "host link" if Decimal(ratio) > 1 else "ports"
    assert in_english(facts.value("network.SLOT 1.limited_by")) == limit


@pytest.mark.arithmetic("line rate against host link", "Gbit/s of ports / 8 over GB/s of the slot")
def test_trap_bits_are_not_held_against_bytes():
    # Source: 100GbE is 12.5 GB/s one way, well within 31.5 GB/s of x16 at 16 GT/s
    facts = adapter(1, "100", 4, 16)
    assert facts.value("network.SLOT 1.line_rate").in_unit("GB/s") == Decimal("12.5")
    assert facts.value("network.SLOT 1.load") < 1


@pytest.mark.arithmetic("line rate against host link", "Gbit/s of ports / 8 over GB/s of the slot")
def test_trap_ports_faster_than_a_slot_that_is_wired_narrow_are_limited():
    # Source: two of 100 Gbit/s, 25 000 MB/s, in x8 at 16 GT/s, 15 753.8 MB/s
    facts = adapter(2, "100", 4, 16, wired=8)
    assert in_english(facts.value("network.SLOT 1.limited_by")) == "host link"
    assert facts.value("network.load") == pytest.approx(Decimal("1.5869"), abs=Decimal("5e-5"))
    assert str(facts.value("expansion.SLOT 1.narrowed_by")) == "SLOT 1: x8 of x16"


PARTS = """
- kind: network-adapter
  id: nic
  name: Adapter
  source: {document: cards}
  connector: x8
  lanes: x8
  generation: 4
  ethernet:
    - {name: PORT 1..4, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}
    - {name: COPPER, speed: 1 Gbit/s, connector: rj45, medium: copper}
  brings: {positions: [{name: .PORT 1..4, takes: transceiver, form: [sfp28, sfp+]}]}
- kind: management-controller
  id: bmc
  name: Controller
  source: {document: boards}
  ethernet: [{name: MGMT, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}]
- kind: transceiver
  common: {source: {document: optics}, medium: fibre}
  parts:
    - {id: fast, name: Fast, form: sfp28, speed: 25 Gbit/s}
    - {id: slow, name: Slow, form: sfp+, speed: 10 Gbit/s}
"""


def plugged(transceivers: str) -> Facts:
    return calculated(
        "  - {name: CPU1, takes: processor}\n  - {name: BMC, takes: management-controller}\n"
        "  - {name: SLOT 1, takes: network-adapter, form: card, from: CPU1.P0, lanes: x8}\n",
        f"  CPU1: processor\n  BMC: bmc\n  SLOT 1: nic\n{transceivers}",
        catalog=PARTS,
    )


def test_cages_without_a_transceiver_are_named():
    facts = plugged("  SLOT 1.PORT 1..2: fast")
    assert facts.value("network.cages") == 4
    assert facts.value("network.transceivers") == 2
    assert facts.value("network.cages_open") == ("SLOT 1.PORT 3", "SLOT 1.PORT 4")
    assert facts.value("network.25 Gbit/s sfp28.transceivers") == 2
    assert facts.value("network.25 Gbit/s sfp28.open") == 2
    assert "network.1 Gbit/s rj45.open" not in facts


def test_a_port_runs_no_faster_than_what_is_plugged_in():
    facts = plugged("  SLOT 1.PORT 1: fast\n  SLOT 1.PORT 2: slow")
    assert facts.value("network.line_rate").in_unit("Gbit/s") == 101
    assert facts.value("network.line_rate_connected").in_unit("Gbit/s") == 36


def test_management_is_counted_apart():
    facts = plugged("")
    assert facts.value("network.ports") == 5
    assert facts.value("network.management_ports") == 1
    assert facts.value("network.management_speed").in_unit("Gbit/s") == 1
    assert facts.value("network.SLOT 1.line_rate").in_unit("Gbit/s") == 101


def test_an_adapter_without_a_link_has_no_ratio():
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n  - {name: SLOT 1, takes: network-adapter}\n",
        "  CPU1: processor\n  SLOT 1: nic",
        catalog=PARTS,
    )
    assert facts.value("network.SLOT 1.host_bandwidth") is None
    assert facts.value("network.SLOT 1.limited_by") is None
    assert facts.value("network.load") is None


rates = st.integers(1, 10**6).map(lambda megabits: DataRate.of(megabits, "Mbit/s"))


@given(rates, rates, rates)
def test_a_faster_host_link_never_raises_the_ratio(line, one, other):
    slow, fast = sorted((one, other))
    assert adapters.load(line, fast) <= adapters.load(line, slow)


@pytest.mark.arithmetic("network", "1 B = 8 bit")
def test_ports_and_host_link_are_compared_in_one_unit():
    # Gen 4 x8: 16 GT/s x 128 / 130 x 8 = 126.03 Gbit/s = 15.754 GB/s
    catalog = (
        "{kind: network-adapter, id: nic, name: N, source: {document: n}, lanes: x8, "
        "generation: 4, ethernet: [{name: PORT 1..2, speed: 25 Gbit/s, connector: sfp28, "
        "medium: copper}]}"
    )
    got = calculated(
        "  - {name: CPU1, takes: processor}\n"
        "  - {name: SLOT 1, takes: network-adapter, from: CPU1.P0, lanes: x8}\n",
        "  CPU1: processor\n  SLOT 1: nic",
        catalog=catalog,
    )
    assert show(got.value("network.SLOT 1.line_rate")) == "50\u202fGbit/s"
    assert show(got.value("network.SLOT 1.host_rate")) == "126\u202fGbit/s"
    assert show(got.value("network.SLOT 1.host_bandwidth")) == "15.75\u202fGB/s"
