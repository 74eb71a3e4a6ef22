"""What each definition behind a system states: its values, on what grounds, of which source."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import Final

from specgen.assembly import Assembly
from specgen.facts.declared import declared_fact, declared_facts, printable
from specgen.facts.derived import derived
from specgen.facts.fact import Basis, Declared, Fact, Facts
from specgen.facts.terms import BASIS
from specgen.fitness.curves import declared_curves
from specgen.frozen import frozen
from specgen.messages import Message, Within, Words, listed, say
from specgen.model import NOWHERE, Part, Platform, PowerSupply, Source, Span
from specgen.model.fields import Day
from specgen.model.labels import field_words
from specgen.quantity import Ratio

UNSOURCED: Final = "no source"
"""What a source says that is none: `common practice, no source`."""
Worded = tuple[Message | None, Mapping[str, Fact]]
"""What is said of a value, with the facts that stand in it; a fact alone, where it is None."""


@frozen
class StatedValues:
    """What one definition states: of what (and what a link to it leads to), which, where."""

    of: Words
    target: str
    id: str
    values: tuple[Worded, ...]
    basis: Words
    source: Source | None
    at: Span

    @property
    def day(self) -> Day | None:
        return day_of(self.source)

    @property
    def sourced(self) -> bool:
        return self.source is not None and UNSOURCED not in self.source.document


def day_of(source: Source | None) -> Day | None:
    """The date of a source that is a document and has one."""
    return None if source is None or UNSOURCED in source.document else source.date


@frozen
class MissingInput:
    """An input without a value: its name, the positions it is about, the facts that want it."""

    label: Words
    places: tuple[str, ...]
    needed_for: Words
    at: Span


def missing_inputs(assembly: Assembly, facts: Facts) -> tuple[MissingInput, ...]:
    """Inputs without a value, alike ones together, each with the facts that want it."""
    places: dict[tuple[Span, Words], dict[str, None]] = {}
    wanted: dict[tuple[Span, Words], dict[Words, None]] = {}
    for fact in facts.values():
        for rest in fact.inputs:
            if isinstance(rest, Declared) and rest.silent:
                key = (_lacking_at(assembly, rest), rest.label)
                wanted.setdefault(key, {})[fact.label] = None
                if rest.subject and not _names(rest.label, rest.subject):
                    places.setdefault(key, {})[rest.subject] = None
    return tuple(
        MissingInput(label, tuple(places.get((span, label), ())), listed(labels, "semicolon"), span)
        for (span, label), labels in wanted.items()
    )


def _names(label: Words, thing: str) -> bool:
    """Whether what a value is called begins with the position, as `inputs.of_thing` has it."""
    return isinstance(label, Message) and label.named.get("thing") == thing


def _lacking_at(assembly: Assembly, leaf: Declared) -> Span:
    """Where a value that is missing would be written: in the part that its position holds."""
    place = assembly.places.get(leaf.subject)
    part = None if place is None else place.part or place.closed_by
    return leaf.span if leaf.span != NOWHERE or part is None else part.origin.at("id")


def stated_values(assembly: Assembly, facts: Facts) -> Iterator[StatedValues]:
    """What each definition behind the system states."""
    for thing in _things(assembly):
        values = (*_values(_written(thing)), *_tabled(thing))
        kind = "part" if isinstance(thing, Part) else "platform"
        yield StatedValues(
            thing.name,
            f"{kind}:{thing.id}",
            thing.id,
            values,
            BASIS[Basis.DECLARED],
            thing.source,
            thing.origin.at("id"),
        )
    yield from _beside(assembly, facts)


def sources(assembly: Assembly, facts: Facts) -> Iterator[Source | None]:
    """The source of each of these, without its values."""
    yield from (thing.source for thing in _things(assembly))
    yield from (stated.source for stated in _beside(assembly, facts))


def _things(assembly: Assembly) -> tuple[Part | Platform, ...]:
    """The platform and every part of the system, each once."""
    things: dict[str, Part | Platform] = {assembly.platform.id: assembly.platform}
    for _, part in assembly.everything():
        things.setdefault(part.id, part)
    return tuple(things.values())


def _written(thing: Part | Platform) -> list[Fact]:
    """What its definition says, without what holds where it says nothing."""
    return [
        fact
        for fact in declared_facts(thing)
        if any(isinstance(rest, Declared) and rest.span != NOWHERE for rest in fact.inputs)
    ]


def _values(facts: list[Fact]) -> tuple[Worded, ...]:
    return tuple(
        (say("{label} {value}", label=fact.label), {"value": fact})
        for fact in facts
        if fact.value is not None
    )


def _tabled(thing: Part | Platform) -> Iterator[Worded]:
    """Values that stand in tables of a definition: outputs and efficiency of a supply."""
    if not isinstance(thing, PowerSupply):
        return

    def of(value: object, *path: str | int) -> Fact:
        return declared_fact(thing, path, printable(value))

    for at, output in enumerate(thing.outputs):
        least = of(output.from_, "outputs", at, "from")
        rated = of(output.output, "outputs", at, "output")
        yield say("Output from {voltage}: {output}"), {"voltage": least, "output": rated}
    for points, path, _ in declared_curves(thing):
        for at, point in enumerate(points):
            load = of(Ratio.of_fraction(point.load), *path, at, "load")
            share = of(Ratio.of_fraction(point.efficiency), *path, at, "efficiency")
            yield say("Efficiency at {load}: {efficiency}"), {"load": load, "efficiency": share}


def _beside(assembly: Assembly, facts: Facts) -> Iterator[StatedValues]:
    """What is stated beside parts: measured, asked for, assumed."""
    yield from _measured(assembly, facts)
    yield from _conditions(facts)
    yield from _assumptions(assembly)


def _measured(assembly: Assembly, facts: Facts) -> Iterator[StatedValues]:
    build = assembly.build
    if build is None or build.measured is None:
        return
    keys = ("idle", "idle_warm", "maximum", "performance", "efficiency_active")
    found = [facts[f"regulation.{key}"] for key in keys if f"regulation.{key}" in facts]
    yield StatedValues(
        build.name,
        f"build:{build.id}",
        f"{build.id}.measured",
        _values(found),
        BASIS[Basis.MEASURED],
        build.measured.source,
        build.origin.at("measured"),
    )


def _conditions(facts: Facts) -> Iterator[StatedValues]:
    for key in facts:
        if not key.startswith("conditions."):
            continue
        fact = facts[key]
        leaves = [rest for rest in fact.inputs if isinstance(rest, Declared)]
        if fact.value is not None and leaves and leaves[0].source is None:
            of = say("Condition: {name}", name=Within(fact.label))
            values = ((None, {"value": fact}),)
            yield StatedValues(of, "", key, values, say("asked for"), None, leaves[0].span)


def _assumptions(assembly: Assembly) -> Iterator[StatedValues]:
    project = assembly.definitions.project
    for field in fields(project.assumptions):
        assumed = getattr(project.assumptions, field.name)
        value, source = getattr(assumed, "value", None), getattr(assumed, "source", None)
        if value is None:
            continue
        label = field_words(type(project.assumptions), (field.name,))
        fact = derived(f"assumptions.{field.name}", label, value, say("as declared"))
        of = say("Assumption: {name}", name=label)
        at = project.origin.at("assumptions", field.name)
        values = ((None, {"value": fact}),)
        yield StatedValues(of, "", fact.key, values, say("assumed"), source, at)
