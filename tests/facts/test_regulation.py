"""Regulation (EU) 2019/424 for servers: idle allowances, supplies, classes, and what is missing."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts import Basis
from specgen.facts.calculators import allowances
from specgen.pipeline import Survey
from specgen.quantity import DataRate, DataSize, Power, Ratio, Temperature
from tests.facts.english import in_english
from tests.facts.systems import calculated
from tests.sorts import rest_on

REGULATION = "Regulation (EU) 2019/424, annex II (CELEX 32019R0424, consolidated 2021-05-01)"
# Source: as named, tables 3 and 4, by arithmetic. Sockets, what it is, PerfCPU, supplies for
# redundancy, drives, modules in GiB, channels of a processor, extra ports (number, Gbit/s); limit W
CASES = {
    "A": (1, "server", "5", 1, 2, (8,) * 8, 8, ((2, 10),), "135.8"),
    "B": (2, "server", "12.5", 1, 8, (32,) * 16, 8, ((2, 25),), "338.94"),
    "C": (2, "server", "20", 1, 2, (48,) * 16 + (32,) * 8, 12, ((2, 10), (1, 100)), "501.6"),
    "D": (1, "server", "3", 0, 1, (2,) * 2, 2, (), "60"),
    "E": (2, "blade", "10", 0, 2, (16,) * 16, 8, ((2, 25),), "237.36"),
}


def server(sockets, kind, performance, spare, drives, modules, channels, ports, measured=True):
    """A server with so much of everything, and two ports of 1 Gbit/s on its board."""
    each = -(-len(modules) // sockets)
    slots = [
        f"  - {{name: DIMM {'AB'[at // each]}{at % each + 1}, takes: memory-module, "
        f"of: CPU{at // each + 1}, channel: {'AB'[at // each]}{at % each + 1}}}"
        for at in range(len(modules))
    ]
    fit = [f"DIMM {'AB'[at // each]}{at % each + 1}: m{size}" for at, size in enumerate(modules)]
    fit += [f"SLOT {n}: n{speed}x{count}" for n, (count, speed) in enumerate(ports)]
    sizes = "".join(
        f"- {{kind: memory-module, id: m{size}, name: M, source: {{document: m}}, technology: ddr5,"
        f" form: rdimm, capacity: {size} GiB, speed: 6400 MT/s, ranks: 1, device_width: 8}}\n"
        for size in sorted(set(modules))
    )
    nics = "".join(
        f"- {{kind: network-adapter, id: n{speed}x{count}, name: N, source: {{document: n}}, "
        f"ethernet: [{{name: PORT 1..{count}, speed: {speed} Gbit/s, connector: rj45, "
        f"medium: copper}}]}}\n"
        for count, speed in dict.fromkeys(ports)
    )
    parts = """
- {kind: drive, id: ssd, name: S, source: {document: d}, medium: ssd, form: 2.5-inch, swap: hot,
   interface: sata, generation: 3, capacity: 480 GB}
- {kind: power-supply, id: supply, name: P, source: {document: p}, form: m-crps-60, inlet: C14,
   outputs: [{from: 100 V, to: 240 V, output: 1000 W}]}
- {kind: network-adapter, id: lan, name: L, source: {document: l}, form: board,
   ethernet: [{name: PORT 1..2, speed: 1 Gbit/s, connector: rj45, medium: copper}]}
"""
    found = f"\nmeasured: {{source: {{document: report}}, idle: 50 W, performance: {performance}}}"
    return calculated(
        f"  - {{name: CPU1..{sockets}, takes: processor}}\n"
        + "\n".join(slots)
        + f"\n  - {{name: BAY 1..{drives}, takes: drive}}\n"
        "  - {name: PSU 1..2, takes: power-supply}\n  - {name: LAN, takes: network-adapter}\n"
        f"  - {{name: SLOT 0..{len(ports)}, takes: network-adapter}}\nregulated_as: {kind}",
        f"  CPU1..{sockets}: processor\n  BAY 1..{drives}: ssd\n  PSU 1..{spare + 1}: supply\n"
        "  LAN: lan\n" + "\n".join(f"  {line}" for line in fit) + (found if measured else ""),
        catalog=sizes + nics + parts,
        conditions=f"{{redundancy: {'1+1' if spare else 'none'}}}",
        channels=channels,
    )


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize("case", CASES)
def test_the_limit_of_idle_power_is_the_base_and_every_allowance(case):
    *given, limit = CASES[case]
    assert server(*given).value("regulation.idle_limit") == Power.of(limit)


# Source: as named; the steps of case A
STEPS_OF_A = {
    "base": 25,
    "performance": 50,
    "supplies": 10,
    "drives": 10,
    "memory": "10.8",
    "channels": 0,
    "ports": 30,
}


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize("item", STEPS_OF_A)
def test_each_allowance_is_itemised(item):
    *given, _ = CASES["A"]
    assert server(*given).value(f"regulation.idle_{item}") == Power.of(STEPS_OF_A[item])


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize(("gibibytes", "watts"), [(2, "0"), (4, "0"), (5, "0.18"), (64, "10.8")])
def test_trap_the_first_four_gigabytes_are_free(gibibytes, watts):
    assert allowances.by_memory(DataSize.of(gibibytes, "GiB")) == Power.of(watts)


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize(("channels", "watts"), [(0, 0), (8, 0), (9, 4), (16, 32), (24, 64)])
def test_trap_the_first_eight_channels_are_free(channels, watts):
    assert allowances.by_channels(channels) == Power.of(watts)


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize(
    ("speed", "watts"),
    [
        *(("0.1", 0), ("1", 2), ("2.5", 4), ("9.9", 4), ("10", 15), ("24.9", 15), ("25", 20)),
        *(("49.9", 20), ("50", 26), ("400", 26)),
    ],
)
def test_a_port_gets_by_its_speed(speed, watts):
    assert allowances.port_watts(DataRate.of(speed, "Gbit/s")) == watts


def test_trap_the_first_two_ports_on_the_board_are_free():
    *given, _ = CASES["D"]
    assert server(*given).value("regulation.idle_ports") == Power.of(0)
    given[-1] = ((2, 1),)
    assert server(*given).value("regulation.idle_ports") == Power.of(4)


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize(
    ("sockets", "kind", "base", "performance"),
    [(1, "server", 25, 40), (2, "server", 38, 28), (1, "blade", 40, 40), (2, "blade", 40, 28),
     (2, "multi-node", 40, 28)],
)  # fmt: skip
def test_trap_blades_keep_the_factor_of_their_sockets_and_have_a_base_of_their_own(
    sockets, kind, base, performance
):
    facts = server(sockets, kind, "4", 0, 1, (2,) * sockets, 2, ())
    assert facts.value("regulation.idle_base") == Power.of(base)
    assert facts.value("regulation.idle_performance") == Power.of(performance)


@pytest.mark.published("regulation", REGULATION)
@pytest.mark.parametrize("kind", ["resilient", "high-performance", "integrated-accelerator"])
def test_some_servers_have_no_limit_of_idle_power(kind):
    facts = server(2, kind, "4", 0, 1, (2, 2), 2, ())
    assert facts.value("regulation.idle_base") is None
    assert facts.value("regulation.idle_limit") is None


@pytest.mark.published("regulation", REGULATION)
def test_four_sockets_have_duties_and_no_limit():
    facts = calculated("  - {name: CPU1..4, takes: processor}\n", "  CPU1..2: processor")
    assert in_english(facts.value("regulation.product_type")) == "4-socket server"
    assert facts.value("regulation.idle_base") is None


def test_what_has_no_processor_socket_is_no_server():
    """A storage shelf, once a `0-socket server`."""
    told = in_english(allowances.product_type(0, "server"))
    assert told == "no server: it has no processor socket"


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("server", "2-socket server"),
        ("blade", "2-socket blade server"),
        ("multi-node", "2-socket multi-node server"),
        ("resilient", "2-socket resilient server"),
        ("high-performance", "2-socket high-performance server"),
        ("integrated-accelerator", "2-socket server with an integrated accelerator"),
    ],
)
def test_the_product_type_is_told_in_words(kind, words):
    facts = server(2, kind, "4", 0, 1, (2, 2), 2, ())
    assert in_english(facts.value("regulation.product_type")) == words


def test_trap_performance_is_measured_and_never_made_of_cores_and_clock():
    *given, _ = CASES["A"]
    facts = server(*given, measured=False)
    assert facts.value("regulation.performance") is None
    assert facts.value("regulation.idle_limit") is None
    assert "(m) performance of the processors" in in_english(facts.value("regulation.missing"))


def test_what_is_measured_says_so_and_names_its_report():
    *given, _ = CASES["A"]
    fact = server(*given)["regulation.idle"]
    assert fact.basis is Basis.MEASURED
    assert fact.value == Power.of(50)
    assert fact.inputs[0].source.document == "report"


# Source: 80 PLUS, 230 V internal redundant, at 10, 20, 50, 100 % (by an encyclopaedia), and power
# factors at 50 % (Platinum as published, others from memory); least values: annex II, 1.1.1 and
# 1.1.2, from 2023-01-01; what stands at 10 % below Titanium, and Ruby's power factor, is ours.
# Level, efficiencies, power factor; reaches with one output, with several.
LEVELS = (
    ("Bronze", (80, 81, 85, 81), "0.90", "no", "no"),
    ("Silver", (82, 85, 89, 85), "0.90", "no", "no"),
    ("Gold", (85, 88, 92, 88), "0.90", "no", "no"),
    ("Platinum", (88, 90, 94, 91), "0.95", "no", "yes"),
    ("Titanium", (90, 94, 96, 91), "0.95", "yes", "yes"),
)
# from memory: what the newest level asks of the power factor
NEWEST = (("Ruby", (91, 95, "96.5", 92), "0.96", "yes", "yes"),)


def supplied(efficiencies, factor: str | None, several: bool, loads=("0.1", "0.2", "0.5", "1")):
    points = ", ".join(
        f"{{load: {load}, efficiency: {Decimal(value) / 100}"
        + (f", power_factor: {factor}" if factor else "")
        + "}"
        for load, value in zip(loads, efficiencies, strict=True)
    )
    return calculated(
        "  - {name: CPU1, takes: processor}\n  - {name: PSU, takes: power-supply}\n",
        "  CPU1: processor\n  PSU: supply",
        catalog=f"""
- {{kind: power-supply, id: supply, name: P, source: {{document: p}}, form: m-crps-60, inlet: C14,
   outputs: [{{from: 100 V, to: 127 V, output: 900 W}}, {{from: 200 V, to: 240 V, output: 1100 W}}],
   several_outputs: {str(several).lower()}, curve: [{points}]}}
""",
    )


@pytest.mark.published("regulation", REGULATION + ", 1.1.1 and 1.1.2; 80 PLUS")
@pytest.mark.parametrize("several", [False, True], ids=["one output", "several outputs"])
@pytest.mark.parametrize(
    "level",
    [*LEVELS, *rest_on(pytest.mark.memory("regulation", "80 PLUS"), [NEWEST])],
    ids=lambda level: level[0],
)
def test_which_levels_reach_the_least_of_2023(level, several):
    _, efficiencies, factor, one, many = level
    facts = supplied(efficiencies, factor, several)
    assert in_english(facts.value("regulation.supplies_reach_least")) == (many if several else one)


def test_trap_platinum_is_not_enough_any_more():
    facts = supplied((88, 90, 94, 91), "0.95", False)
    assert in_english(facts.value("regulation.supplies_reach_least")) == "no"
    assert facts.value("regulation.efficiency_20") == Ratio.of(90)
    assert facts.value("regulation.least_efficiency_20") == Ratio.of(94)


def test_trap_ten_per_cent_load_is_asked_of_one_output_only():
    several = supplied((50, 94, 96, 91), "0.95", True)
    assert in_english(several.value("regulation.supplies_reach_least")) == "yes"
    many = supplied((90, 94, 96, 91), "0.95", True)
    assert many.value("regulation.least_efficiency_10") is None
    one = supplied((50, 94, 96, 91), "0.95", False)
    assert one.value("regulation.least_efficiency_10") == Ratio.of(90)
    assert in_english(one.value("regulation.supplies_reach_least")) == "no"


def test_a_value_that_is_not_declared_at_its_load_is_missing_and_not_read_off_the_curve():
    facts = supplied((94, 96, 91), None, False, loads=("0.15", "0.5", "1"))
    assert facts.value("regulation.efficiency_20") is None
    assert facts.value("regulation.supplies_reach_least") is None
    missing = in_english(facts.value("regulation.missing"))
    assert "(e) efficiency at 20 % load" in missing
    assert "(e) efficiency at 50 % load" not in missing
    assert "(f) power factor at 50 % load" in missing


def test_rated_output_is_the_nameplate_whatever_the_line():
    facts = supplied((90, 94, 96, 91), "0.95", False)
    assert facts.value("regulation.rated_output") == Power.of(1100)


@pytest.mark.published("regulation", REGULATION + ", table 6")
def test_the_operating_class_is_printed_as_the_table_has_it():
    facts = calculated("  - {name: CPU1, takes: processor}\n", "  CPU1: processor")
    assert facts.value("regulation.inlet_lowest") == Temperature.of(10)
    assert facts.value("regulation.inlet_highest") == Temperature.of(35)
    assert facts.value("regulation.dew_point") == Temperature.of(21)
    assert "80 %" in in_english(facts.value("regulation.humidity"))


def test_trap_the_table_of_the_regulation_knows_no_altitude():
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n", "  CPU1: processor",
        conditions="{altitude: 3000 m}",
    )  # fmt: skip
    assert facts.value("regulation.inlet_highest") == Temperature.of(35)
    assert facts.value("cooling.class_limit") == Temperature.of(28)


@pytest.mark.published("regulation", REGULATION + ", table 6")
@pytest.mark.parametrize("metres", [0, 3000])
def test_trap_what_is_recommended_falls_with_no_altitude(metres):
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n", "  CPU1: processor",
        conditions=f"{{altitude: {metres} m}}",
    )  # fmt: skip
    assert facts.value("regulation.recommended_lowest") == Temperature.of(18)
    assert facts.value("regulation.recommended_highest") == Temperature.of(27)


def test_a_cage_without_a_module_is_no_active_port(demo: Survey):
    for name, case in demo.cases.items():
        ports = case.facts.value("regulation.idle_ports")
        assert ports is not None, name
        assert ports.amount <= 26 * case.facts.value("network.ports"), name


def test_the_result_says_that_it_is_no_conformity_assessment(demo: Survey):
    for case in demo.cases.values():
        assert "not a conformity assessment" in in_english(case.facts.value("regulation.nature"))


def test_nothing_is_missing_only_where_everything_is_declared(demo: Survey):
    missing = {name: case.facts.value("regulation.missing") for name, case in demo.cases.items()}
    assert missing["pocket-lamp-room"] == ()
    assert any(missing.values())
    for name, case in demo.cases.items():
        if not missing[name]:
            assert case.facts.value("regulation.idle_room").amount >= 0, name


rates = st.integers(1, 8000)


@given(rates, rates)
def test_a_faster_port_never_gets_less(one, other):
    low, high = (allowances.port_watts(DataRate.of(n, "Gbit/s") / 10) for n in sorted((one, other)))
    assert low <= high


@given(st.integers(0, 4096), st.integers(0, 4096))
def test_more_memory_never_gets_less(one, other):
    low, high = (allowances.by_memory(DataSize.of(n, "GiB")) for n in sorted((one, other)))
    assert low <= high


@pytest.mark.published("regulation", REGULATION + ", table 4")
@pytest.mark.parametrize(
    ("modules", "watts"),
    [
        ("", 0),  # two of 10 Gbit/s on the board, which are free, and four empty cages
        ("  NIC.P1..P2: fast\n", 40),  # two of 25 Gbit/s: 20 W each
        ("  NIC.P2: fast\n", 20),  # the cage before it is empty
        ("  NIC.P1..P2: fast\n  NIC.P3: slow\n", 55),  # a port of 25 runs a module of 10: 15 W
    ],
)
def test_a_port_counts_at_the_rate_of_its_module(modules, watts):
    facts = calculated(
        "  - {name: CPU1, takes: processor}\n"
        "  - {name: LAN, takes: network-adapter, form: board, from: CPU1.P0, lanes: x4}\n"
        "  - {name: NIC, takes: network-adapter, form: card, from: CPU1.P1, lanes: x8}\n",
        f"  CPU1: processor\n  LAN: board\n  NIC: adapter\n{modules}",
        catalog="""
- {kind: network-adapter, id: board, name: Board ports, form: board, source: {document: n},
   ethernet: [{name: P1..P2, speed: 10 Gbit/s, connector: rj45, medium: copper}]}
- {kind: network-adapter, id: adapter, name: Adapter, source: {document: n}, lanes: x8,
   generation: 3,
   ethernet: [{name: P1..P4, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}],
   brings: {positions: [{name: .P1..P4, takes: transceiver, form: [sfp28, sfp+]}]}}
- {kind: transceiver, id: fast, name: Fast, form: sfp28, speed: 25 Gbit/s, medium: fibre,
   source: {document: n}}
- {kind: transceiver, id: slow, name: Slow, form: sfp+, speed: 10 Gbit/s, medium: fibre,
   source: {document: n}}
""",
    )
    assert facts.value("regulation.idle_ports") == Power.of(watts)
