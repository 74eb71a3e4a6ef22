"""Which supplies would carry a system, what a year of it costs, what boards lose."""

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specgen.facts import Declared, Fact, facts_of
from specgen.facts.calculators.supplies import failures_tolerated, whole_load
from specgen.fitness.curves import read_curve
from specgen.model import EfficiencyPoint
from specgen.pipeline import Survey
from specgen.quantity import Energy, Mass, Power, Ratio
from tests.facts.systems import PROJECT
from tests.projects import base, edited, project

RANGES = "[{{from: 100 V, to: 127 V, output: {} W}}, {{from: 200 V, to: 240 V, output: {} W}}]"
SUPPLIES = "".join(
    f"- {{kind: power-supply, id: {name}, name: {name}, source: {{document: s}}, form: {form}, "
    f"inlet: C14, outputs: {RANGES.format(low, high)}, curve_at: 230 V, "
    "curve: [{load: 0, efficiency: 0.9, power_factor: 0.95}, "
    f"{{load: 1, efficiency: 0.9, power_factor: 0.95}}]{life}}}\n"
    for name, form, low, high, life in (
        ("large", "m-crps-60", 1000, 2000, ""),
        ("middle", "m-crps-60", 850, 1100, ""),
        ("small", "m-crps-60", 800, 800, ""),
        ("gone", "m-crps-60", 900, 900, ", life: {status: discontinued}"),
        ("wide", "m-crps-73.5", 2400, 2400, ""),
    )
)
OTHER = """
- {kind: power-supply, id: other, name: Other, source: {document: s}, form: m-crps-60, inlet: C14,
   outputs: [{from: 100 V, to: 240 V, output: 1500 W}], life: {status: planned},
   curve: [{load: 0, efficiency: 0.8}, {load: 1, efficiency: 0.8}]}
"""


def powered(
    load: int, layout: str, count: int, line: int = 230, assumptions: str = "", fit: str = ""
):
    files = {
        "specgen.yaml": PROJECT + assumptions,
        "catalog/parts.yaml": SUPPLIES
        + OTHER
        + "- {kind: fan, id: load, name: Load, form: fan-40, source: {document: l}, "
        f"power: {{typical: {load} W, maximum: {load} W}}}}\n",
        "platforms/bench.yaml": f"""
id: bench
name: Bench
family: trial
source: {{document: p}}
summary: A bench
rack_units: 1
size: {{width: 482 mm, height: 43.6 mm, depth: 700 mm}}
mass: 10 kg
operating_class: A2
positions:
  - {{name: PSU 1..{count}, takes: power-supply, form: m-crps-60}}
  - {{name: LOAD, takes: fan}}
""",
        "configured/trial.yaml": f"""
id: trial
name: Trial
platform: bench
summary: A trial
conditions: {{line: {line} V, redundancy: {layout}, energy_price: 0.25, currency: euro,
  grid_factor: 0.4}}
fit: {{{fit or f"PSU 1..{count}: large"}, LOAD: load}}
""",
    }
    found = project(files)
    assert found.loaded.findings == (), found.loaded.findings
    return facts_of(found.assemblies["trial"])


@pytest.mark.parametrize(
    ("load", "layout", "count", "line", "choices"),
    [
        (750, "1+1", 2, 230, ("small", "middle", "large")),
        (900, "1+1", 2, 230, ("middle", "large")),
        (900, "1+1", 2, 120, ("large",)),
        (1500, "1+1", 2, 230, ("large",)),
        (1500, "none", 2, 230, ("small", "middle", "large")),
        (2100, "1+1", 2, 230, ()),
        (100, "1+1", 2, 150, ()),
    ],
)
def test_supplies_that_fit_and_carry_are_named_weakest_first(load, layout, count, line, choices):
    facts = powered(load, layout, count, line)
    assert facts.value("power.choices") == choices
    assert facts.value("power.smallest") == (choices[0] if choices else None)


def test_trap_a_withdrawn_supply_or_one_of_another_form_is_no_choice():
    assert not {"gone", "wide"} & set(powered(100, "none", 1).value("power.choices"))


ASSUMED = """
assumptions:
  year: {value: 8760 h, source: {document: s}}
  board_loss: {value: 4 %, source: {document: s}}
  supply_sharing_error: {value: 5 %, source: {document: s}}
"""


def test_a_year_of_typical_work():
    """By hand: 450 W x 1.04 / 0.9 = 520 W; x 8760 h = 4555.2 kWh; x 0.25 = 1138.8; x 0.4 kg."""
    facts = powered(450, "1+1", 2, assumptions=ASSUMED)
    assert facts.value("energy.year") == Energy.of("4555.2", "kWh")
    assert facts.value("energy.cost") == Decimal("1138.8")
    assert facts.value("energy.currency") == "euro"
    assert facts.value("energy.emissions") == Mass.of("1822.08", "kg")


def test_trap_energy_is_counted_at_the_line_and_not_at_the_supplies_output():
    facts = powered(450, "none", 1, assumptions=ASSUMED)
    assert facts.value("energy.year") > Energy.of(Decimal("0.450") * 8760, "kWh")


def test_what_is_lost_between_supplies_and_parts_is_load_and_takes_headroom():
    with_loss, without = powered(1000, "none", 1, assumptions=ASSUMED), powered(1000, "none", 1)
    assert with_loss.value("power.maximum") == without.value("power.maximum") == Power.of(1000)
    assert with_loss.value("power.board_loss") == Power.of(40)
    assert with_loss.value("power.maximum.load") == Power.of(1040)
    assert with_loss.value("power.headroom") == Power.of(960)
    assert without.value("power.headroom") == Power.of(1000)
    assert without.value("energy.year") is None  # no year is assumed


def test_the_supply_that_carries_most_may_carry_more_than_its_share():
    # by hand: 1000 W x 1.04 over two of 2000 W are 26 % each, x 1.05 = 27.3 %; over one alone 52 %
    facts = powered(1000, "none", 2, assumptions=ASSUMED)
    assert facts.value("power.uneven_share").amount == pytest.approx(Decimal("27.3"))


def test_trap_a_supply_that_is_left_alone_shares_with_nobody():
    facts = powered(1000, "1+1", 2, assumptions=ASSUMED)
    assert facts.value("power.failure.share").amount == pytest.approx(Decimal(52))
    assert facts.value("power.uneven_share") == facts.value("power.failure.share")


def test_supplies_that_differ_have_no_common_curve():
    alike = powered(500, "none", 2, fit="PSU 1..2: large")
    mixed = powered(500, "none", 2, fit="PSU 1: large, PSU 2: other")
    assert alike.value("power.maximum.efficiency") == Ratio.of(90)
    assert mixed.value("power.maximum.share") is not None
    assert mixed.value("power.maximum.efficiency") is None


shares = st.decimals(min_value="0.01", max_value="1", places=3)


@st.composite
def curves(draw: st.DrawFn) -> tuple[EfficiencyPoint, ...]:
    """Curves of supplies that could be: more output needs more input."""
    loads = sorted(draw(st.sets(shares, min_size=2, max_size=6)))
    values = [draw(st.decimals(min_value="0.5", max_value="1", places=3)) for _ in loads]
    inputs = [load / value for load, value in zip(loads, values, strict=True)]
    assume(inputs == sorted(inputs))
    return tuple(
        EfficiencyPoint(load=load, efficiency=value)
        for load, value in zip(loads, values, strict=True)
    )


@given(curves(), shares, shares)
def test_more_load_never_lowers_input(points, one, other):
    low, high = sorted((one, other))
    less, more = (read_curve(points, share, "efficiency") for share in (low, high))
    if less is not None and more is not None:
        assert low / less <= high / more + Decimal("1e-20")


@given(curves(), shares)
def test_efficiency_lies_between_its_neighbours_and_nowhere_beyond(points, share):
    value = read_curve(points, share, "efficiency")
    inside = points[0].load <= share <= points[-1].load
    assert (value is not None) == inside
    if value is not None:
        efficiencies = [point.efficiency for point in points]
        assert min(efficiencies) <= value <= max(efficiencies)


@given(st.integers(1, 5000), st.integers(0, 8), st.integers(1, 3000))
def test_as_many_may_fail_as_leave_enough(load, count, output):
    spare = failures_tolerated(count, Power.of(output), Power.of(load))
    assert 0 <= spare <= max(count - 1, 0)
    if spare:
        assert output * (count - spare) >= load
    if output * count >= load and count:
        assert output * (count - spare - 1) < load or spare == count - 1


@given(st.integers(0, 5000), st.integers(0, 30), st.integers(0, 30))
def test_more_loss_never_lowers_the_load(load, one, other):
    low, high = sorted((Ratio.of(one), Ratio.of(other)))
    assert whole_load(Power.of(load), low) <= whole_load(Power.of(load), high)


def test_in_every_demo_build_more_work_takes_more_from_the_line(demo: Survey):
    for name, case in demo.cases.items():
        inputs = [case.facts.value(f"power.{state}.input")
                  for state in ("idle", "typical", "maximum")]  # fmt: skip
        assert None not in inputs, name
        assert inputs == sorted(inputs), name
        assert case.facts.value("cooling.heat") >= inputs[-1], name
        assert case.facts.value("power.cord_margin").amount >= 0, name


def test_the_smallest_choice_of_a_demo_build_is_no_stronger_than_the_one_fitted(demo: Survey):
    for name, case in demo.cases.items():
        assert case.facts.value("power.smallest") is not None, name


def lines(fact: Fact | Declared) -> set[tuple[str, int]]:
    """The lines that a value rests on."""
    if isinstance(fact, Declared):
        return {(fact.span.file, fact.span.line)}
    return set().union(*(lines(entry) for entry in fact.inputs)) if fact.inputs else set()


CHANGES = (
    ("specgen.yaml", "line: 230 V", "line: 220 V"),
    ("configured/lantern-full.yaml", "inlet: 30 degC", "inlet: 31 degC"),
    ("configured/lantern-full.yaml", "redundancy: 1+1", "redundancy: none"),
)


@pytest.mark.parametrize(("file", "old", "new"), CHANGES, ids=lambda text: text[:12])
def test_only_values_that_rest_on_a_line_change_with_it(file, old, new):
    before = facts_of(project(base()).assemblies["lantern-full"])
    at = base()[file].split(old)[0].count("\n") + 1
    after = facts_of(project(edited(file, old, new)).assemblies["lantern-full"])
    same = [key for key in before if key in after]
    changed = {key for key in same if before[key].value != after[key].value}
    assert changed
    assert changed <= {key for key in same if (file, at) in lines(before[key])}
