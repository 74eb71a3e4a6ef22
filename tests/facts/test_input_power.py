"""Input power: one value, whoever prints it; AC and DC, curves and their voltages."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts import Facts
from specgen.pipeline import Survey
from specgen.quantity import Current, Power, Ratio
from tests.facts.english import in_english
from tests.facts.supplied import TITANIUM, system
from tests.timing import tries

DC_RANGE = "[{from: -40 V, to: -72 V, output: 1000 W}]"
DC_FLAT = "[{load: 0, efficiency: 0.92}, {load: 1, efficiency: 0.92}]"


def dc(load: object, **more: object) -> Facts:
    settled = {"line": -48, "outputs": DC_RANGE, "curve": DC_FLAT, "curve_at": "-48 V"}
    return system(load, **{**settled, "inlet": "two-pole terminal", **more})


# Source: Pin = Pout / efficiency; 80 PLUS Titanium, 230 V redundant. Output 1000 W each, W in all:
# 1+1 at 900 W: 45 % each, read between 94 % at 20 % and 96 % at 50 %: 95.6667 %; alone 92 %
@pytest.mark.arithmetic("electrical", "worst of normal operation and after failures")
def test_the_worst_case_is_the_greater_of_normal_operation_and_after_failures():
    facts = system(900, count=2, output=1000, curve=TITANIUM, redundancy="1+1")
    normal, failed = Decimal(900) / (Decimal(2870) / 3000), Decimal(900) / Decimal("0.92")
    assert facts.value("power.maximum.input").amount == pytest.approx(normal)
    assert facts.value("power.failure.input").amount == pytest.approx(failed)
    assert facts.value("power.input") == facts.value("power.failure.input")
    assert facts.value("power.cord_input") == facts.value("power.failure.input")


def test_normal_operation_is_the_worst_case_where_the_curve_says_so():
    # by hand: 400 W over two of 1000 W are 20 % each: 94 %, 425.5 W; alone 40 %: 95.3333 %, 419.6
    facts = system(400, count=2, output=1000, curve=TITANIUM, redundancy="1+1")
    assert facts.value("power.input").amount == pytest.approx(Decimal(400) / Decimal("0.94"))
    cord = Decimal(400) / (Decimal(286) / 300)
    assert facts.value("power.cord_input").amount == pytest.approx(cord)


DIP = (
    "[{load: 0.2, efficiency: 0.95, power_factor: 1}, {load: 0.3, efficiency: 0.9, "
    "power_factor: 1}, {load: 0.45, efficiency: 0.95, power_factor: 1}, "
    "{load: 1, efficiency: 0.93, power_factor: 1}]"
)


# Source: arithmetic: Pin = Pout / efficiency for each number of power supplies left
@pytest.mark.arithmetic("electrical", "worst of every number of failures")
def test_a_number_of_failures_between_none_and_all_promised_may_be_the_worst():
    # by hand: 900 W over 4, 3, 2 of 1000 W: 22.5, 30, 45 % each; at 30 % the curve has 90 %: 1000 W
    facts = system(
        900, count=4, output=1000, curve=DIP, redundancy="2+2", conditions=", per_rack: 3"
    )
    assert facts.value("power.failure-1.supplies") == 3
    assert facts.value("power.failure-1.input") == Power.of(1000)
    for key in ("power.input", "cooling.heat"):
        assert facts.value(key) == Power.of(1000), key
    assert facts.value("power.rack_input") == Power.of(3000)
    assert facts.value("power.maximum.input") < Power.of(1000)
    assert facts.value("power.failure.input") < Power.of(1000)
    # a cord carries most when two are left: 900 / 0.95 / 2 = 473.7 W
    assert facts.value("power.cord_input").amount == pytest.approx(
        Decimal(900) / 2 / Decimal("0.95")
    )


def test_the_loss_of_a_feed_counts_where_it_leaves_another_number():
    # three of four on feed A: without it one carries 900 W: at 90 % load the curve has 93.3636 %
    one = Decimal("0.95") + (Decimal("0.93") - Decimal("0.95")) * Decimal("0.45") / Decimal("0.55")
    facts = system(
        900, count=4, output=1000, curve=DIP, redundancy="2+2", conditions=", feeds: 2",
        more="\nfeeds: {A: PSU 1..3}",
    )  # fmt: skip
    assert facts.value("power.A.psus") == ("PSU 1", "PSU 2", "PSU 3")
    assert facts.value("power.B.psus") == ("PSU 4",)
    assert facts.value("power.without-A.supplies") == 1
    assert "power.without-B.supplies" not in facts  # three are left, as after one failure
    assert facts.value("power.cord_input").amount == pytest.approx(900 / one)
    assert in_english(facts.value("power.feed_kept")) == "yes"
    # B carries all once A is lost; A carries most when B is lost: 900 / 0.9 on three
    assert facts.value("power.B.feed_worst").amount == pytest.approx(900 / one / 230)
    assert facts.value("power.A.feed_worst").amount == pytest.approx(Decimal(1000) / 230)
    assert facts.value("power.A.feed_current").amount == pytest.approx(
        Decimal(900) / facts.value("power.maximum.efficiency").fraction / 230 * 3 / 4
    )


def test_a_feed_whose_loss_stops_the_server_adds_nothing_to_the_worst_case():
    facts = system(
        1800, count=4, output=1000, curve=DIP, redundancy="2+2", conditions=", feeds: 2",
        more="\nfeeds: {A: PSU 1..3}",
    )  # fmt: skip
    assert in_english(facts.value("power.feed_kept")) == "no"
    assert facts.value("power.without-A.share").fraction > 1
    assert facts.value("power.input") == facts.value("power.failure.input")
    assert facts.value("power.B.feed_worst") is not None


def test_a_feed_that_the_platform_names_holds_unless_the_build_says_otherwise():
    facts = system(
        900, count=4, output=1000, curve=DIP, redundancy="2+2", conditions=", feeds: 2",
        on_platform="feeds: {A: PSU 1..2, B: PSU 3..4}\n",
    )  # fmt: skip
    assert facts.value("power.A.psus") == ("PSU 1", "PSU 2")
    facts = system(
        900, count=4, output=1000, curve=DIP, redundancy="2+2", conditions=", feeds: 2",
        on_platform="feeds: {A: PSU 1..2, B: PSU 3..4}\n", more="\nfeeds: {A: PSU 4, B: PSU 1}",
    )  # fmt: skip
    assert facts.value("power.A.psus") == ("PSU 2", "PSU 4")
    assert facts.value("power.B.psus") == ("PSU 1", "PSU 3")


def test_heat_is_the_input_power_and_a_rack_takes_it_so_often():
    facts = system(
        900, count=2, output=1000, curve=TITANIUM, redundancy="1+1", conditions=", per_rack: 12"
    )
    assert facts.value("cooling.heat") == facts.value("power.input")
    assert facts.value("power.rack_input") == facts.value("power.input") * 12


states = st.sampled_from(["1+1", "2+1", "2+2", "none"])


@settings(max_examples=tries(30), deadline=None)
@given(st.integers(1, 2200), states, st.sampled_from([200, 208, 230, 240]))
def test_laws_of_input_power(load, layout, line):
    count = 1 if layout == "none" else sum(map(int, layout.split("+")))
    facts = system(load, count=count, output=1200, line=line, curve=TITANIUM, redundancy=layout)
    worst, heat = facts.value("power.input"), facts.value("cooling.heat")
    assert (worst is None) == (heat is None)
    for state in ("idle", "typical", "maximum", "failure-1", "failure"):
        got = facts.value(f"power.{state}.input")
        each = facts.value(f"power.{state}.input_each")
        current = facts.value(f"power.{state}.current")
        if got is None:
            assert each is None
            assert current is None
            continue
        close = {"rel": Decimal("1e-20")}
        carrying = facts.value(f"power.{state}.supplies")
        assert (each * carrying).amount == pytest.approx(got.amount, **close)
        factor = facts.value(f"power.{state}.power_factor")
        assert current.amount * line * factor == pytest.approx(got.amount, **close)
        assert got >= facts.value(f"power.{state}.load")
        if worst is not None:
            assert heat <= worst
            assert worst >= got
            assert facts.value("power.cord_input") >= each


def test_laws_of_input_power_in_the_demo(demo: Survey):
    for name, case in demo.cases.items():
        facts = case.facts
        worst = facts.value("power.input")
        assert worst is not None, name
        assert facts.value("cooling.heat") == worst, name
        assert worst >= facts.value("power.maximum.input"), name
        assert worst > facts.value("power.load"), name
        rack = facts.value("power.rack_input")
        assert rack == worst * case.assembly.conditions.per_rack, name


# Source: Ohm's law and P = U I: DC has neither power factor nor apparent power
@pytest.mark.arithmetic("electrical", "DC: I = P / U")
def test_dc_current_is_input_power_over_voltage():
    # by hand: 460 W / 0.92 = 500 W; 500 W / 48 V = 10.4167 A; at worst by 40 V
    facts = dc(460)
    assert facts.value("power.input") == Power.of(500)
    assert facts.value("power.maximum.current").amount == pytest.approx(Decimal("10.4166667"))
    assert facts.value("power.current").amount == Decimal("12.5")
    assert facts.value("cooling.heat") == Power.of(500)
    assert in_english(facts.value("conditions.line_type")) == "DC"


def test_dc_knows_neither_power_factor_nor_apparent_power():
    facts = dc(460)
    assert not [key for key in facts if key.endswith(("m.power_factor", "m.apparent"))]
    assert facts.value("power.apparent") is None


@pytest.mark.parametrize(
    ("line", "works"),
    [(-40, True), (-48, True), (-72, True), (-39, False), (-73, False), (48, False)],
)
def test_a_range_of_negative_voltages_is_read_either_way_round(line, works):
    assert (dc(460, line=line).value("power.supply_output") is not None) is works
    turned = "[{from: -72 V, to: -40 V, output: 1000 W}]"
    assert (dc(460, line=line, outputs=turned).value("power.supply_output") is not None) is works


def test_a_positive_voltage_is_dc_where_the_line_and_the_range_say_so():
    high = {
        "line": 380,
        "outputs": "[{from: 240 V, to: 400 V, type: dc, output: 1000 W}]",
        "curve_at": "380 V",
    }
    assert dc(460, **high).value("power.supply_output") is None
    facts = dc(460, **high, conditions=", line_type: dc")
    # by hand: 500 W / 380 V = 1.31579 A; at worst 500 W / 240 V = 2.08333 A
    assert facts.value("power.maximum.current").amount == pytest.approx(Decimal("1.3157895"))
    assert facts.value("power.current").amount == pytest.approx(Decimal("2.0833333"))


def test_a_supply_for_ac_and_dc_is_read_by_the_range_of_the_line():
    both = (
        "[{from: 200 V, to: 240 V, output: 1000 W}, {from: 336 V, to: 400 V, type: dc, "
        "output: 900 W, curve: [{load: 0, efficiency: 0.95}, {load: 1, efficiency: 0.95}]}]"
    )
    ac = system(450, outputs=both)
    direct = system(450, outputs=both, line=380, conditions=", line_type: dc")
    assert ac.value("power.supply_output") == Power.of(1000)
    assert direct.value("power.supply_output") == Power.of(900)
    assert direct.value("power.input").amount == pytest.approx(Decimal(450) / Decimal("0.95"))


TWO = "[{from: 100 V, to: 127 V, output: 800 W}, {from: 200 V, to: 240 V, output: 1000 W}]"


def test_a_curve_is_not_read_at_another_line_voltage_than_its_own():
    facts = system(400, line=120, outputs=TWO, curve=TITANIUM)
    assert facts.value("power.maximum.share") == Ratio.of(50)
    for key in (
        "power.curve",
        "power.input",
        "power.maximum.efficiency",
        "cooling.heat",
        "power.cord_current",
    ):
        assert facts.value(key) is None, key
    assert system(400, line=230, outputs=TWO, curve=TITANIUM).value("power.input") is not None


ALLOWANCE = "assumptions: {curve_allowance: {value: 2 %, source: {document: s}}}\n"


def test_with_an_allowance_it_is_read_that_much_lower_and_the_page_says_so():
    # by hand: 400 W of the 1000 W that the curve speaks of are 40 %: 95.3333 % less 2 = 93.3333 %
    facts = system(400, line=120, outputs=TWO, curve=TITANIUM, assumptions=ALLOWANCE)
    assert facts.value("power.maximum.efficiency").amount == pytest.approx(Decimal(280) / 3)
    assert in_english(facts.value("power.curve")).replace("\u202f", " ") == (
        "that of 200 V to 240 V, read at 120 V less 2 percentage points"
    )
    own = system(400, line=230, outputs=TWO, curve=TITANIUM, assumptions=ALLOWANCE)
    assert own.value("power.maximum.efficiency").amount == pytest.approx(Decimal(286) / 3)


def test_a_curve_whose_voltage_nobody_states_holds_nowhere_where_there_are_two_ranges():
    facts = system(400, outputs=TWO, curve=TITANIUM, curve_at="150 V")
    assert facts.value("power.input") is None


def test_above_the_rated_output_there_is_neither_efficiency_nor_current():
    # 850 W at 115 V lie within a curve up to 1000 W, and above what the supply gives there: 800 W
    facts = system(850, line=115, outputs=TWO, curve=TITANIUM, assumptions=ALLOWANCE)
    assert facts.value("power.maximum.share").amount > 100
    for key in ("efficiency", "power_factor", "input", "current", "current_each", "apparent"):
        assert facts.value(f"power.maximum.{key}") is None, key
    assert facts.value("power.input") is None


# Source: common practice, no source: odd power supplies on feed A, even ones on feed B
@pytest.mark.practice("electrical", "power supplies shared out over feeds in turn")
def test_feeds_share_the_load_and_one_carries_it_alone():
    # by hand: 920 W / 0.92 = 1000 W; / 48 V = 20.8333 A, half of it on each feed of two
    facts = dc(920, count=2, redundancy="1+1", conditions=", feeds: 2")
    assert facts.value("power.A.psus") == ("PSU 1",)
    assert facts.value("power.B.psus") == ("PSU 2",)
    half = Decimal(1000) / 48 / 2
    assert facts.value("power.A.feed_current").amount == pytest.approx(half)
    assert facts.value("power.B.feed_alone").amount == pytest.approx(Decimal(25))  # by 40 V
    assert in_english(facts.value("power.feed_kept")) == "yes"
    three = dc(1500, count=3, redundancy="2+1", conditions=", feeds: 2")
    assert three.value("power.A.psus") == ("PSU 1", "PSU 3")
    assert in_english(three.value("power.feed_kept")) == "no"
    assert three.value("power.B.feed_alone") is None


# Source: IEC 60320-1 10 A and 16 A; UL 498, CSA C22.2 No. 60320-1 (from memory) 15 A and 20 A
@pytest.mark.parametrize(("inlet", "iec", "nec"), [("C14", 10, 15), ("C20", 16, 20)])
def test_inlets_carry_more_in_north_america(inlet, iec, nec):
    assert system(100, inlet=inlet).value("power.inlet_rating") == Current.of(iec)
    there = system(100, inlet=inlet, conditions=", circuit_rule: nec")
    assert there.value("power.inlet_rating") == Current.of(nec)


def test_an_outlet_counts_where_it_is_stated():
    facts = system(1000, inlet="C20", conditions=", outlet: IEC 60320 C13")
    assert facts.value("power.outlet_rating") == Current.of(10)
    amps = Decimal(1000) / Decimal("0.94") / Decimal("0.98") / 230
    assert facts.value("power.cord_margin").amount == pytest.approx(10 - amps)
    assert "power.outlet_rating" in system(1000)
    assert system(1000).value("power.outlet_rating") is None
