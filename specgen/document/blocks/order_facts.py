"""Figures of an order: what builds need and give, each so many times, summed."""

from collections.abc import Callable, Iterator
from typing import Final

from specgen.document.blocks.cells import derived
from specgen.document.case import Case
from specgen.document.several import Ordered
from specgen.facts import Fact, Facts, Value
from specgen.facts.calculators.acoustics import INCOHERENT, energetic_sum
from specgen.quantity import Mass, SoundPower

SUMS: Final[tuple[tuple[str, str, str], ...]] = (
    ("rack_units", "Rack units", "mechanics.rack_units"),
    ("mass", "Mass", "mechanics.mass"),
    ("input_idle", "Input power, idle", "power.idle.input"),
    ("input_typical", "Input power, typical work", "power.typical.input"),
    ("input", "Input power at most", "power.maximum.input"),
    ("apparent", "Apparent power at most", "power.maximum.apparent"),
    ("current", "Input current at most", "power.maximum.current"),
    ("heat_typical", "Heat at typical work", "cooling.heat_typical"),
    ("heat_typical_btu", "Heat at typical work, per hour", "cooling.heat_typical_btu"),
    ("heat", "Heat at most", "cooling.heat"),
    ("heat_btu", "Heat at most, per hour", "cooling.heat_btu"),
    ("airflow", "Airflow needed", "cooling.airflow_needed"),
    ("airflow_cfm", "Airflow needed, cubic feet", "cooling.airflow_needed_cfm"),
    ("energy", "Energy in a year", "energy.year"),
)
"""Key, label, and the figure of one machine that is summed."""
EXTREMES: Final[tuple[tuple[str, str, str, Callable[..., Value]], ...]] = (
    ("inlet_limit", "Inlet limit of all", "cooling.inlet_limit", min),
    ("depth_needed", "Depth needed in the rack", "mechanics.depth_needed", max),
    ("cord_current", "Highest current in a cord", "power.cord_current", max),
)
"""The figure of the machine that asks most."""


def order_facts(ordered: Ordered) -> Facts:
    """`order.KEY` for all machines; `order.KEY.BUILD` for all of one build.

    A figure that one build does not have, none has in all.
    """
    return Facts.plain(_facts(ordered))


def _facts(ordered: Ordered) -> Iterator[Fact]:
    total = sum(count for _, count in ordered.lines)
    yield derived("order.machines", "Machines", total, "sum of the numbers ordered")
    for case, count in ordered.lines:
        name = _id(case)
        yield derived(f"order.machines.{name}", "Number", count, "number ordered")
    for key, label, of in SUMS:
        yield from _summed(ordered, key, label, of)
    for key, label, of, extreme in EXTREMES:
        facts = [case.facts.get(of) for case, _ in ordered.lines]
        values = [fact.value for fact in facts if fact is not None and fact.value is not None]
        value = extreme(values) if len(values) == len(facts) else None
        rests = [fact for fact in facts if fact is not None]
        yield derived(f"order.{key}", label, value, f"the {extreme.__name__}imum", *rests)
    yield from _loud(ordered, "sound_power", "Declared sound power in all", "noise.sound_power")
    yield from _loud(ordered, "upper_limit", "Upper limit in all", "noise.upper_limit")
    yield _floor(ordered)


def _id(case: Case) -> str:
    assert case.build is not None, "an order is of builds"
    return case.build.id


def _summed(ordered: Ordered, key: str, label: str, of: str) -> Iterator[Fact]:
    parts = []
    for case, count in ordered.lines:
        fact = case.facts.get(of)
        value = None if fact is None or fact.value is None else fact.value * count  # type: ignore[operator]
        rests = () if fact is None else (fact,)
        parts.append(
            derived(f"order.{key}.{_id(case)}", label, value, "number x figure of one", *rests)
        )
    yield from parts
    values = [part.value for part in parts if part.value is not None]
    whole: Value = None
    if values and len(values) == len(parts):
        whole = values[0]
        for other in values[1:]:
            whole = whole + other  # type: ignore[operator]
    yield derived(f"order.{key}", f"{label}, all machines", whole, "sum over builds", *parts)


def _loud(ordered: Ordered, key: str, label: str, of: str) -> Iterator[Fact]:
    """Sound adds as sound does, and only levels declared by one edition of the standard."""
    levels: list[SoundPower] = []
    rests = []
    editions = {case.facts.value("noise.edition") for case, _ in ordered.lines}
    for case, count in ordered.lines:
        fact = case.facts.get(of)
        if fact is None or not isinstance(fact.value, SoundPower):
            break
        levels += [fact.value] * count
        rests.append(fact)
    else:
        if len(editions) == 1:
            yield derived(
                f"order.{key}", label, energetic_sum(tuple(levels)), str(INCOHERENT), *rests
            )
            return
    yield derived(f"order.{key}", label, None, str(INCOHERENT), *rests)


def _floor(ordered: Ordered) -> Fact:
    """All machines in one rack that has the mass the builds are told of."""
    racks = {case.facts.value("mechanics.rack_empty") for case, _ in ordered.lines}
    masses = [(case.facts.value("mechanics.mass"), count) for case, count in ordered.lines]
    rack = next(iter(racks)) if len(racks) == 1 else None
    value = None
    if isinstance(rack, Mass) and all(isinstance(mass, Mass) for mass, _ in masses):
        value = rack
        for mass, count in masses:
            assert isinstance(mass, Mass)
            value = value + mass * count
    rests = [
        fact
        for case, _ in ordered.lines
        for key in ("mechanics.mass", "mechanics.rack_empty")
        if (fact := case.facts.get(key)) is not None
    ]
    formula = "mass of all machines and of one empty rack"
    return derived("order.rack_and_machines", "One rack with all in it", value, formula, *rests)
