"""From the supplies' load to the line and the circuit, against worked examples and tables."""

from decimal import Decimal

import pytest

from specgen.quantity import Current, Power
from tests.facts.english import in_english
from tests.facts.supplied import FLAT, TITANIUM, system
from tests.facts.systems import calculated
from tests.sorts import rest_on

# Source: Pin = Pout / eff, S = Pin / PF (2019/424, annex I (14)), I = S / V, one phase; arithmetic.
# Output W, line V, power factor, efficiency; input W, apparent power VA, current A, loss W.
WORKED = (
    (1000, 230, "1", "1", "1000", "1000", "4.347826", "0"),
    (800, 230, "0.98", "0.94", "851.0638", "868.4325", "3.775793", "51.0638"),
    (800, 230, "0.95", "0.96", "833.3333", "877.1930", "3.813883", "33.3333"),
    (1600, 208, "0.99", "0.94", "1702.1277", "1719.3208", "8.265966", "102.1277"),
    (2000, 230, "0.95", "0.94", "2127.6596", "2239.6417", "9.737572", "127.6596"),
    (750, 120, "0.98", "0.90", "833.3333", "850.3401", "7.086168", "83.3333"),
    (1200, 200, "0.99", "0.92", "1304.3478", "1317.5231", "6.587615", "104.3478"),
)
# Source: NEC (NFPA 70), 210.20(A): rating >= 125 % of the continuous load. Rating A, continuous A.
CIRCUITS = ((15, "12"), (16, "12.8"), (20, "16"), (30, "24"), (32, "25.6"))
# Source: as above, times the line voltage. Rating A, line V, W.
CIRCUIT_POWER = (
    *((15, 120, "1440"), (15, 208, "2496"), (15, 230, "2760"), (15, 240, "2880")),
    *((16, 120, "1536"), (16, 208, "2662.4"), (16, 230, "2944"), (16, 240, "3072")),
    *((20, 120, "1920"), (20, 208, "3328"), (20, 230, "3680"), (20, 240, "3840")),
    *((30, 120, "2880"), (30, 208, "4992"), (30, 230, "5520"), (30, 240, "5760")),
    *((32, 120, "3072"), (32, 208, "5324.8"), (32, 230, "5888"), (32, 240, "6144")),
)
# Source: common practice, no source: N supplies share the load, N - r after r failures.
# Layout, supplies, output W, load W; share in normal running and after the failures, %.
SHARED = (
    ("1+1", 2, 1000, 900, "45", "90"),
    ("2+1", 3, 800, 1500, "62.5", "93.75"),
    ("2+2", 4, 800, 1500, "46.875", "93.75"),
)
BETWEEN = pytest.mark.practice("electrical", "linear between the points of a curve")


@pytest.mark.arithmetic("electrical", "P / efficiency, S = P / PF, I = S / V")
@pytest.mark.parametrize(("out", "line", "factor", "eff", "into", "va", "amps", "lost"), WORKED)
def test_input_apparent_power_current_and_loss(out, line, factor, eff, into, va, amps, lost):
    facts = system(out, line=line, curve=FLAT.format(eff, factor))
    close = {"rel": Decimal("1e-6"), "abs": Decimal("1e-4")}
    found = {name: facts.value(f"power.maximum.{name}").amount
             for name in ("input", "apparent", "current", "loss")}  # fmt: skip
    assert found["input"] == pytest.approx(Decimal(into), **close)
    assert found["apparent"] == pytest.approx(Decimal(va), **close)
    assert found["current"] == pytest.approx(Decimal(amps), rel=Decimal("1e-6"))
    assert found["loss"] == pytest.approx(Decimal(lost), **close)


@pytest.mark.published("electrical", "NEC (NFPA 70), 210.20(A)")
@pytest.mark.parametrize(("rating", "allowed"), CIRCUITS)
def test_a_circuit_may_carry_four_fifths_without_pause(rating, allowed):
    facts = system(100, conditions=f", circuit_rule: nec, circuit: {rating} A")
    assert facts.value("power.circuit_allowed") == Current.of(allowed)


@pytest.mark.arithmetic("electrical", "allowed current x line voltage")
@pytest.mark.parametrize(("rating", "line", "watts"), CIRCUIT_POWER)
def test_what_a_circuit_carries_at_a_voltage(rating, line, watts):
    facts = system(100, line=line, conditions=f", circuit_rule: nec, circuit: {rating} A")
    assert facts.value("power.circuit_power") == Power.of(watts)


@pytest.mark.published("electrical", "IEC 60320-1")
@pytest.mark.parametrize(("inlet", "rating"), [("C14", 10), ("C20", 16)])
def test_inlets_carry_what_iec_says(inlet, rating):
    assert system(100, inlet=inlet).value("power.inlet_rating") == Current.of(rating)


@pytest.mark.practice("electrical", "equal sharing, N less r supplies")
@pytest.mark.parametrize(("layout", "count", "output", "load", "normal", "failed"), SHARED)
def test_supplies_share_the_load_and_those_left_share_all_of_it(
    layout, count, output, load, normal, failed
):
    facts = system(load, count=count, output=output, redundancy=layout)
    assert facts.value("power.maximum.share").amount == Decimal(normal)
    assert facts.value("power.failure.share").amount == Decimal(failed)
    assert in_english(facts.value("power.redundancy_kept")) == "yes"


# Source: as above; one of four lost leaves 500 W each, two lost 750 W
@pytest.mark.practice("electrical", "equal sharing, N less r supplies")
@pytest.mark.parametrize(("layout", "each"), [("none", 375), ("3+1", 500), ("2+2", 750)])
def test_each_of_four_carries_more_the_more_have_failed(layout, each):
    facts = system(1500, count=4, output=800, redundancy=layout)
    state = "maximum" if layout == "none" else "failure"
    assert facts.value(f"power.{state}.load_each") == Power.of(each)


# Source: common practice, no source: redundancy is tested at the lowest line voltage
@pytest.mark.practice("electrical", "redundancy is tested at the line there is")
@pytest.mark.parametrize(("line", "kept", "survived"), [(115, "no", 0), (230, "yes", 1)])
def test_trap_redundancy_holds_at_high_line_and_is_lost_at_low_line(line, kept, survived):
    facts = system(
        1000, count=2, line=line, redundancy="1+1",
        outputs="[{from: 100 V, to: 127 V, output: 850 W}, {from: 200 V, to: 240 V, output: 1100 W}]",  # noqa: E501
    )  # fmt: skip
    assert in_english(facts.value("power.redundancy_kept")) == kept
    assert facts.value("power.failures_tolerated") == survived


@pytest.mark.published("electrical", "80 PLUS 230 V internal redundant, Titanium row")
@pytest.mark.parametrize(
    ("share", "efficiency"),
    [
        *(("0.1", "90"), ("0.2", "94"), ("0.5", "96"), ("1", "91")),
        *rest_on(BETWEEN, (("0.15", "92"), ("0.75", "93.5"))),
    ],
)
def test_efficiency_is_that_of_the_curve_and_linear_between(share, efficiency):
    facts = system(Decimal(share) * 1000, output=1000, curve=TITANIUM)
    assert facts.value("power.maximum.efficiency").amount == Decimal(efficiency)


def test_trap_a_redundant_pair_is_read_at_what_each_carries_not_at_the_whole():
    pair = system(900, count=2, output=1000, curve=TITANIUM, redundancy="1+1")
    at_45 = Decimal(94) + (Decimal("0.45") - Decimal("0.2")) / Decimal("0.3") * 2
    at_90 = Decimal(96) - Decimal("0.4") / Decimal("0.5") * 5
    assert pair.value("power.maximum.efficiency").amount == pytest.approx(at_45)
    assert pair.value("power.failure.efficiency").amount == pytest.approx(at_90)


@pytest.mark.parametrize("load", [99, 1001])
def test_trap_nothing_is_read_beyond_the_ends_of_a_curve(load):
    facts = system(load, output=1000, curve=TITANIUM)
    for name in ("efficiency", "power_factor", "input", "apparent", "current"):
        assert facts.value(f"power.maximum.{name}") is None, name
    assert facts.value("cooling.heat") is None
    assert facts.value("power.cord_current") is None


def test_trap_the_reading_between_points_is_called_a_convention():
    assert "convention" in str(system(500)["power.maximum.efficiency"].source)


def test_trap_a_nameplate_is_output_not_input():
    """Source: 2000 W out at 94 % and power factor 0.95 are 2239.6 VA."""
    facts = system(2000, output=2000, curve=FLAT.format("0.94", "0.95"))
    assert facts.value("power.maximum.load") == Power.of(2000)
    assert facts.value("power.maximum.apparent").amount == pytest.approx(Decimal("2239.6417"))


@pytest.mark.parametrize(("line", "spare"), [(200, False), (230, True)])
def test_trap_an_inlet_of_ten_amperes_is_too_weak_where_the_line_is_low(line, spare):
    facts = system(2000, line=line, curve=FLAT.format("0.94", "0.95"))
    assert (facts.value("power.cord_margin").amount >= 0) is spare


def test_trap_the_rule_of_four_fifths_says_that_it_is_the_necs():
    facts = system(500, conditions=", circuit_rule: nec, circuit: 16 A")
    for key in ("power.circuit_allowed", "power.circuit_share"):
        assert "NEC" in str(facts[key].source)
    assert "NEC" in in_english(facts.value("power.circuit_rule"))


# Source: IEC 60364-4-43, 433.1 (from memory): the design current is no more than the rating
@pytest.mark.parametrize("rule", ["", ", circuit_rule: iec"])
def test_without_the_nec_a_circuit_carries_its_rating(rule):
    # by hand: 800 W / 0.94 / 0.98 / 230 V = 3.7758 A; 3.7758 / 16 = 23.6 %; 16 / 3.7758 = 4.24
    facts = system(800, conditions=f"{rule}, circuit: 16 A")
    assert facts.value("power.circuit_allowed") == Current.of(16)
    assert facts.value("power.circuit_share").amount == pytest.approx(Decimal("23.5987"))
    assert facts.value("power.circuit_servers") == 4
    assert "IEC" in in_english(facts.value("power.circuit_rule"))


def test_a_weak_cord_counts_as_much_as_a_weak_inlet():
    strong, weak = system(1000, inlet="C20"), system(1000, inlet="C20", more="\n  CORD: cord")
    assert strong.value("power.cord_rating") is None
    six = strong.value("power.cord_margin") - weak.value("power.cord_margin")
    assert six == Current.of(6)


def test_a_circuit_is_loaded_by_the_worst_of_its_states():
    nec = ", circuit_rule: nec, circuit: 16 A"
    facts = system(800, count=2, redundancy="1+1", conditions=nec)
    amps = Decimal(800) / Decimal("0.94") / Decimal("0.98") / 230
    assert facts.value("power.cord_current").amount == pytest.approx(amps)
    assert facts.value("power.circuit_share").fraction == pytest.approx(amps / Decimal("12.8"))
    assert facts.value("power.circuit_servers") == 3


def test_a_range_with_a_curve_of_its_own_is_read_by_its_own_output():
    ranges = (
        "[{from: 100 V, to: 127 V, output: 800 W, curve: [{load: 0.1, efficiency: 0.8, power_factor"
        ": 0.9}, {load: 1, efficiency: 0.9, power_factor: 0.99}]},"
        " {from: 200 V, to: 240 V, output: 1000 W}]"
    )
    low = system(800, line=120, outputs=ranges, curve=TITANIUM)
    assert low.value("power.maximum.efficiency").amount == Decimal(90)
    assert low.value("power.maximum.share").amount == Decimal(100)
    high = system(500, line=230, outputs=ranges, curve=TITANIUM)
    assert high.value("power.maximum.efficiency").amount == Decimal(96)


def test_without_a_curve_there_is_a_load_and_no_input():
    facts = system(500, curve="[]")
    assert facts.value("power.maximum.share").amount == Decimal(25)
    assert facts.value("power.maximum.input") is None


def test_a_system_without_supplies_has_no_states():
    facts = calculated("  - {name: CPU1, takes: processor}\n", "  CPU1: processor")
    assert not [key for key in facts if key.startswith("power.maximum.")]
    assert facts.value("power.cord_current") is None
    assert facts.value("cooling.heat") is None


def test_no_state_after_failures_where_none_need_be_survived():
    facts = system(500, count=2)
    assert "power.maximum.load" in facts
    assert "power.failure.load" not in facts


def test_more_failures_than_supplies_leave_no_value():
    facts = system(500, count=1, redundancy="1+1")
    assert facts.value("power.failure.supplies") == 0
    assert facts.value("power.failure.load_each") is None
    assert facts.value("power.cord_current") is None
    assert facts.value("power.choices") is None
