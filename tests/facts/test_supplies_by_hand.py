"""Power supplies with a curve for each range of line voltage; how each value comes about."""

from decimal import Decimal

import pytest

from specgen.facts.calculators.circuits import whole_times
from specgen.quantity import Power, Ratio
from tests.facts.english import in_english
from tests.facts.supplied import TITANIUM, system

pytestmark = pytest.mark.arithmetic("supplies", "worked out by hand from the curves")

# (load, efficiency, power factor), for 750 W at the low line and for 1100 W at the high one
LOW = (
    "[{load: 0.1, efficiency: 0.86, power_factor: 0.9}, {load: 0.2, efficiency: 0.9, "
    "power_factor: 0.95}, {load: 0.5, efficiency: 0.92, power_factor: 0.98}, "
    "{load: 1, efficiency: 0.89, power_factor: 0.995}]"
)
RANGES = (
    f"[{{from: 90 V, to: 132 V, output: 750 W, curve: {LOW}}}, "
    f"{{from: 180 V, to: 264 V, output: 1100 W, curve: {TITANIUM}}}]"
)
DC = "[{from: -40 V, to: -72 V, output: 1000 W}]"
CURVE_OF_DC = (
    "[{load: 0.1, efficiency: 0.88}, {load: 0.5, efficiency: 0.94}, {load: 1, efficiency: 0.9}]"
)


def near(quantity, value):
    assert abs(quantity.amount - Decimal(value)) < Decimal("0.00005"), quantity


def test_two_and_two_at_the_low_line():
    """600 W on four, three, two: 150, 200, 300 W each, 20, 26.667, 40 % of 750 W."""
    facts = system(600, line=115, count=4, outputs=RANGES, curve="[]", redundancy="2+2")
    part = Decimal(1)  # of the way from 20 to 50 % of the output
    for state, on_the_way in (
        ("maximum", 0),
        ("failure-1", part * 2 / 9),
        ("failure", part * 2 / 3),
    ):
        efficiency = Decimal("0.9") + on_the_way * Decimal("0.02")
        factor = Decimal("0.95") + on_the_way * Decimal("0.03")
        drawn = 600 / efficiency
        near(facts.value(f"power.{state}.input"), drawn)
        near(facts.value(f"power.{state}.apparent"), drawn / factor)
        near(facts.value(f"power.{state}.current"), drawn / factor / 115)
    near(facts.value("power.input"), "666.6667")  # all four: each furthest from its best load
    near(facts.value("power.apparent"), "701.7544")  # 666.6667 / 0.95
    near(facts.value("power.cord_current"), "2.9446")  # two left: 300 / 0.913333 / 0.97 / 115
    assert facts.value("power.available") == Power.of(1500)
    assert facts.value("power.failures_tolerated") == 3  # one of 750 W carries 600 W


def test_the_same_at_the_high_line_is_read_off_the_other_curve():
    """150 W each are 13.636 % of 1100 W: 0.90 + 0.04 x 0.3636 = 0.914545."""
    facts = system(600, line=230, count=4, outputs=RANGES, curve="[]", redundancy="3+1")
    near(facts.value("power.maximum.input"), "656.0636")  # 600 / 0.914545
    near(facts.value("power.maximum.power_factor") * Power.of(1), "0.918182")  # 0.9 + 0.05 x 0.3636
    assert facts.value("power.available") == Power.of(3300)


def test_direct_current_at_the_low_end_of_the_range():
    """500 W of 1000 W: 94 %, 531.9149 W; 9.8503 A at 54 V, 13.2979 A at 40 V."""
    facts = system(
        500, line=-54, outputs=DC, curve=CURVE_OF_DC, curve_at="-48 V", inlet="terminals"
    )
    near(facts.value("power.input"), "531.9149")
    near(facts.value("power.maximum.current"), "9.8503")
    near(facts.value("power.current"), "13.2979")
    near(facts.value("power.cord_current"), "13.2979")


@pytest.mark.memory("supplies", "Regulation (EU) 2019/424, annex III: measured at 230 V")
def test_the_regulation_asks_for_the_curve_at_230_v_wherever_it_stands():
    """Points of `TITANIUM`, though the server works at 115 V."""
    facts = system(600, line=115, count=2, outputs=RANGES, curve="[]")
    for load, percent in ((10, 90), (20, 94), (50, 96), (100, 91)):
        assert facts.value(f"regulation.efficiency_{load}") == Ratio.of(percent)
    assert facts.value("regulation.power_factor_50") == Decimal("0.98")
    assert in_english(facts.value("regulation.supplies_reach_least")) == "yes"
    # a curve measured at 115 V says nothing of 230 V
    both = "[{from: 90 V, to: 132 V, output: 750 W}, {from: 180 V, to: 264 V, output: 1100 W}]"
    facts = system(600, line=115, outputs=both, curve=LOW, curve_at="115 V")
    assert facts.value("regulation.efficiency_50") is None
    assert facts.value("regulation.supplies_reach_least") is None
    # what is made for 115 V alone is measured there
    only = "[{from: 90 V, to: 132 V, output: 750 W}]"
    facts = system(600, line=115, outputs=only, curve=LOW, curve_at="115 V")
    assert facts.value("regulation.efficiency_50") == Ratio.of(92)


def test_what_goes_whole_into_a_circuit_is_not_lost_in_the_last_place():
    """552 W / 0.9 / 230 V = 2.6667 A: six of them are 16 A, and a division has no last place."""
    flat = (
        "[{load: 0, efficiency: 0.9, power_factor: 1}, {load: 1, efficiency: 0.9, power_factor: 1}]"
    )
    facts = system(552, curve=flat, conditions=", circuit: 16 A")
    assert facts.value("power.circuit_servers") == 6
    assert [whole_times(Decimal(text)) for text in ("5.99", "6", "6.01")] == [5, 6, 6]


def test_sums_are_in_one_unit_whatever_their_parts_are_written_in():
    facts = system(600, outputs="[{from: 100 V, to: 240 V, output: 2 kW}]")
    for key in ("power.maximum", "power.available", "power.headroom", "mechanics.mass"):
        assert facts.value(key).unit.symbol == ("kg" if "mass" in key else "W")


@pytest.mark.memory("supplies", "Regulation (EU) 2019/424, annex II, 1.1: not for supplies for DC")
def test_a_supply_for_dc_has_its_efficiency_and_no_power_factor():
    """What the curve declares at its loads was not declared in the information sheet."""
    facts = system(
        500, line=-48, outputs=DC, curve=CURVE_OF_DC, curve_at="-48 V", inlet="terminals"
    )
    for load, percent in ((10, 88), (50, 94), (100, 90)):
        assert facts.value(f"regulation.efficiency_{load}") == Ratio.of(percent)
    assert facts.value("regulation.efficiency_20") is None  # no point of the curve
    words = "does not apply: power supplies for DC"
    assert in_english(facts.value("regulation.power_factor_50")) == words
    assert in_english(facts.value("regulation.supplies_reach_least")) == words
    assert not any("(e)" in str(each) for each in facts.value("regulation.missing"))
