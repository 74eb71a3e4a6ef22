"""Every value of every demo build has its words, its pedigree and its place."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal

import pytest

from specgen.document.case import Case
from specgen.facts import CALCULATORS, Declared, Fact
from specgen.facts.fact_data import fact_data
from specgen.pipeline import Survey
from specgen.quantity import Power, Quantity, plain, show
from tests.projects import SHARES, every_build


def leaves(fact: Fact, seen: set[int]) -> Iterator[Declared]:
    for entry in fact.inputs:
        if isinstance(entry, Declared):
            yield entry
        elif id(entry) not in seen:
            seen.add(id(entry))
            yield from leaves(entry, seen)


Share = Callable[[Survey], Mapping[str, Case]]


def every_fact(demo: Survey, share: Share = every_build) -> Iterator[tuple[str, Fact]]:
    for name, case in share(demo).items():
        for fact in case.facts.values():
            yield name, fact


def test_every_build_has_its_values(demo: Survey):
    assert len(demo.cases) >= 25
    singles = [calculator.key for calculator in CALCULATORS if calculator.over is None]
    for name, case in demo.cases.items():
        assert len(case.facts) >= 80, name
        assert set(singles) <= set(case.facts), name
        assert all(case.facts[key].key == key for key in case.facts)


def test_every_value_says_what_it_is_how_it_came_about_and_by_which_source(demo: Survey):
    for name, fact in every_fact(demo):
        assert fact.label, (name, fact.key)
        assert fact.formula, (name, fact.key)
        assert fact.source, (name, fact.key)


@pytest.mark.parametrize("share", SHARES)
def test_every_value_can_be_shown_and_handed_on(demo: Survey, share: Share):
    for name, fact in every_fact(demo, share):
        assert show(fact.said), (name, fact.key)
        assert fact_data(fact)["shown"] == show(fact.said)


DEFAULTS: Mapping[str, object] = {
    "memory mode": "independent",
    "regulated as": "server",
    "groups": 2,
    "spares": (),
    "several outputs": False,
    "needs count": 1,
}
"""Fields that hold a value where nobody wrote one, by the end of their labels; and that value."""


def test_every_leaf_of_every_pedigree_has_a_place(demo: Survey):
    """The line where it is written; none where it is silent about it, or has its default."""
    seen: set[int] = set()
    checked = 0
    texts = demo.sources.texts
    for name, fact in every_fact(demo):
        for leaf in leaves(fact, seen):
            span, label = leaf.span, str(leaf.label)
            assert label
            if span.file:
                assert span.file in texts, (name, fact.key, label)
                assert 1 <= span.line <= texts[span.file].count("\n") + 1
                checked += 1
            elif leaf.value is not None:
                default = next((each for each in DEFAULTS if label.endswith(each)), "")
                assert default, (name, fact.key, label)
                assert str(leaf.value) == str(DEFAULTS[default]), (name, fact.key, label)
    assert checked > 10_000


def test_a_value_that_is_there_rests_on_something(demo: Survey):
    """What is counted may be none, and a sum over none is 0; anything else has inputs."""
    bare = {
        fact.template
        for _, fact in every_fact(demo)
        if fact.value is not None and not fact.inputs and not _nothing(fact)
    }
    assert bare == set()


def _nothing(fact: Fact) -> bool:
    if isinstance(fact.value, Quantity):
        return not fact.value.amount
    return fact.value in (0, ())


@pytest.mark.parametrize(
    ("part", "whole"),
    [
        ("processors.count", "processors.sockets"),
        ("memory.modules", "memory.slots_usable"),
        ("memory.slots_usable", "memory.slots"),
        ("memory.channels_used", "memory.channels"),
        ("storage.bays_filled", "storage.bays_usable"),
        ("storage.bays_usable", "storage.bays"),
        ("storage.usable", "storage.raw"),
        ("power.idle", "power.typical"),
        ("power.typical", "power.maximum"),
        ("power.maximum", "power.available"),
    ],
)
def test_a_part_is_never_more_than_its_whole(demo: Survey, part: str, whole: str):
    compared = 0
    for name, case in demo.cases.items():
        less, more = case.facts.value(part), case.facts.value(whole)
        assert less is None or more is None or less <= more, name
        compared += less is not None and more is not None
    assert compared >= 15


def test_slots_add_up(demo: Survey):
    for name, case in demo.cases.items():
        kinds = ("used", "free", "unusable")
        parts = [case.facts.value(f"expansion.slots_{kind}") for kind in kinds]
        assert sum(parts) == case.facts.value("expansion.slots"), name


def test_lanes_in_use_and_free_add_up_to_those_owned(demo: Survey):
    for name, case in demo.cases.items():
        for fact in case.facts.of_all("expansion.{processor}.lanes"):
            used = case.facts.value(f"expansion.{fact.subject}.lanes_used")
            free = case.facts.value(f"expansion.{fact.subject}.lanes_free")
            assert used + free == fact.value, name
            assert free >= 0, name


def test_subsystems_add_up_to_the_whole(demo: Survey):
    for name, case in demo.cases.items():
        for level in ("idle", "typical", "maximum"):
            parts = [fact.value for fact in case.facts.of_all(f"power.{{subsystem}}.{level}")]
            whole = case.facts.value(f"power.{level}")
            if None in parts:
                assert whole is None, (name, level)
            else:
                assert sum(parts, Power.zero()) == whole, (name, level)


# Source: by hand from the lines of builds/: 187 W of the processor, 8 x 4.4 W of memory, 2 x 14 W
# on the boot module, 21.4 W of network, 6 x 16 W of fans, 42 W, 8 W and 0.3 W of boards: 417.9 W
@pytest.mark.arithmetic("electrical", "a build on a plant of -48 V")
def test_the_build_on_dc_by_hand(demo: Survey):
    facts = demo.cases["lantern-exchange"].facts
    load = facts.value("power.load").amount
    assert plain(facts.value("power.load")) == "418 W"
    # two share it, 20.9 % each: between 93 % at 20 % and 94.5 % at 50 %
    normal = Decimal("0.93") + (load / 2000 - Decimal("0.2")) * Decimal("0.015") / Decimal("0.3")
    # one alone, 41.8 %: on the same stretch of the curve
    alone = Decimal("0.93") + (load / 1000 - Decimal("0.2")) * Decimal("0.015") / Decimal("0.3")
    assert facts.value("power.input").amount == pytest.approx(load / normal)
    assert facts.value("power.failure.input").amount == pytest.approx(load / alone)
    assert facts.value("cooling.heat") == facts.value("power.input")
    # I = P / U: 444.2 W / 48 V = 9.25 A on one cord; the supply works down to -40 V, where the same
    # power takes 11.1 A, of 25 A of the circuit: 44.4 %
    assert plain(facts.value("power.failure.current_each")) == "9.25 A"
    assert plain(facts.value("power.line_lowest")) == "-40 V"
    cord = load / alone / 40
    assert facts.value("power.cord_current").amount == pytest.approx(cord)
    assert plain(facts.value("power.cord_current")) == "11.1 A"
    assert facts.value("power.B.feed_worst").amount == pytest.approx(cord)
    assert facts.value("power.B.feed_alone").amount == pytest.approx(cord)
    assert plain(facts.value("power.circuit_share")) == "44.4 %"
    assert plain(facts.value("power.circuit_power")) == "1000 W"
    assert facts.value("power.A.psus") == ("PSU 2",)
    assert facts.value("power.apparent") is None
    assert not [key for key in facts if key.endswith((".power_factor", "m.apparent"))]


@pytest.mark.arithmetic("electrical", "worst current on AC is that at the line voltage")
def test_on_ac_the_line_voltage_counts(demo: Survey):
    facts = demo.cases["capstan-eyes"].facts
    assert facts.value("power.line_lowest") == facts.value("conditions.line")
    states = [fact.value.amount for fact in facts.of_all("power.{state}.current_each")
              if fact.subject in ("maximum", "failure") and fact.value is not None]  # fmt: skip
    assert facts.value("power.cord_current").amount >= max(states)
