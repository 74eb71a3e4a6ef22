"""What a system's values rest on, for engineers who sign: values, sources, basis, age."""

from collections.abc import Iterator
from dataclasses import fields
from datetime import date
from typing import Final

from specgen.document.blocks.cells import (
    NONE,
    derived,
    heads,
    stated_cell,
    table,
    table_of,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import (
    Break,
    Cell,
    Datum,
    FactList,
    Literal,
    Paragraph,
    Table,
    link,
    words,
)
from specgen.facts import Basis, Declared, Fact
from specgen.facts.declared import declared_facts
from specgen.facts.terms import BASIS, closed_word
from specgen.fitness.curves import declared_curves
from specgen.frozen import frozen
from specgen.messages import Within, Words, listed, say, say_many
from specgen.messages.language import NONE as NONE_SET
from specgen.model import NOWHERE, Part, Platform, PowerSupply, Source, Span, natural, places
from specgen.model.labels import field_words
from specgen.quantity import Duration, Ratio

UNSOURCED: Final = "no source"
"""What a source says that is none: `common practice, no source`."""


@frozen
class SourcedValues:
    """Values that one definition states: of what, which, on what grounds, where."""

    of: Cell
    id: str
    values: Cell
    basis: Words
    source: Source | None
    at: Span

    @property
    def day(self) -> date | None:
        return _day_of(self.source)

    @property
    def sourced(self) -> bool:
        return self.source is not None and UNSOURCED not in self.source.document


def _day_of(source: Source | None) -> date | None:
    """The date of a source that is a document and has one."""
    return None if source is None or UNSOURCED in source.document else source.date


@frozen
class MissingInput:
    """An input without a value: its name, the positions it is about, the facts that want it."""

    label: Words
    places: tuple[str, ...]
    needed_for: Words
    at: Span


def day_of(case: Case) -> date | None:
    """The day of the document: of the build, else of the project; never that of a clock."""
    own = case.build.date if case.build is not None else None
    return own or case.definitions.project.date


def open_points(case: Case) -> Table | None:
    """What has no value, no source, or a source without a date: what to look at first."""
    rows: list[tuple[Cell, ...]] = []
    for silent in _silent(case):
        what = silent.label
        if silent.places:
            what = say("{places}: {label}", places=places(silent.places), label=silent.label)
        rows.append((words(what), words(say("no value")), words(silent.needed_for), _at(silent.at)))
    for stated in _everything(case):
        if stated.day is None:
            lack = say("source without a date") if stated.sourced else say("no source")
            rows.append((stated.of, words(lack), stated.values, _at(stated.at)))
    columns = heads(
        say("Of what"), say("What is missing"), say("Values, or what needs one"), say("Where")
    )
    return table(say("To be looked at first"), columns, rows, "open-table")


def sourced(case: Case) -> Table | None:
    """Every value with a dated source, the oldest source first."""
    day = day_of(case)
    found = [(each.day, each) for each in _everything(case) if each.day is not None]
    found.sort(key=lambda dated: (dated[0], natural(dated[1].id)))
    note = say("This document has no date.")
    if day is not None:
        note = say("Age is counted to the date of this document.")
    return table_of(
        found,
        say("Declared values by the age of their source"),
        "sourced-table",
        (say("Of what"), lambda _, stated: stated.of),
        (say("Values"), lambda _, stated: stated.values),
        (say("Basis"), lambda _, stated: stated.basis),
        (say("Source, its date, and where it is stated"), _document),
        (say("Age"), lambda of, stated: _age(case, stated, of, day)),
        note=note,
    )


def _document(day: date, stated: SourcedValues) -> Cell:
    source = stated.source
    assert source is not None
    known = {"document": source.document, "page": source.page, "day": day}
    named = say("{document}, page {page}, {day}") if source.page else say("{document}, {day}")
    return (named.filled(**known), Break(), *_at(stated.at))


def _age(case: Case, stated: SourcedValues, of: date, day: date | None) -> Cell:
    if day is None:
        return words(NONE)
    days = (day - of).days
    if days < 0:
        return words(say("after this document"))
    key = f"{case.thing.id}.review.{stated.id}.age"
    fact = derived(key, "Age of the source", Duration.of(days, "d"), "date less date of source")
    return value_cell(fact)


def _at(span: Span) -> Cell:
    return (Literal(span.shown),) if span != NOWHERE else words(NONE)


def summary(case: Case) -> FactList:
    """How many values there are, of what grounds."""
    found = list(_everything(case))
    dated = sum(stated.day is not None for stated in found)
    counts = (
        (say("Definitions that state values"), len(found)),
        (say("With a source and its date"), dated),
        (say("Without"), len(found) - dated),
        (say("Values that are missing"), len(_silent(case))),
    )
    entries: list[tuple[Words, Cell]] = [
        (label, (Datum(count, f"{case.thing.id}.review.count_{at}"),))
        for at, (label, count) in enumerate(counts)
    ]
    day = day_of(case)
    entries.append(
        (say("Date of this document"), words(say("{day}", day=day) if day else NONE_SET))
    )
    return FactList(say("What there is to review"), tuple(entries))


def source_note(case: Case) -> Paragraph:
    """What the values rest on, in a sentence or two: how many definitions, the oldest source."""
    found = [*_sources(case)]
    days = list(filter(None, map(_day_of, found)))
    key = f"{case.thing.id}.review.count"
    count, bare = Datum(len(days), f"{key}_dated"), len(found) - len(days)
    text = say("Its values rest on {count} definitions with a dated source.", count=count)
    if days:
        text = say(
            "Its values rest on {count} definitions with a dated source, the oldest of {oldest}.",
            count=count,
            oldest=min(days),
        )
    if not bare:
        return Paragraph((text,))
    others = say_many(
        bare,
        "{number} value has no dated source.",
        "{number} values have no dated source.",
        number=Datum(bare, f"{key}_undated"),
    )
    return Paragraph((listed([text, others], "sentence"),))


def _silent(case: Case) -> tuple[MissingInput, ...]:
    """Inputs without a value, alike ones together, each with the facts that want it."""
    places: dict[tuple[Span, Words], dict[str, None]] = {}
    wanted: dict[tuple[Span, Words], dict[Words, None]] = {}
    for fact in case.facts.values():
        for rest in fact.inputs:
            if isinstance(rest, Declared) and rest.silent:
                key = (_lacking_at(case, rest), rest.label)
                wanted.setdefault(key, {})[fact.label] = None
                if rest.subject:
                    places.setdefault(key, {})[rest.subject] = None
    return tuple(
        MissingInput(label, tuple(places.get((span, label), ())), listed(labels, "semicolon"), span)
        for (span, label), labels in wanted.items()
    )


def _lacking_at(case: Case, leaf: Declared) -> Span:
    """Where a value that is missing would be written: in the part that its position holds."""
    place = case.assembly.places.get(leaf.subject)
    part = None if place is None else place.part or place.closed_by
    return leaf.span if leaf.span != NOWHERE or part is None else part.origin.at("id")


def _everything(case: Case) -> Iterator[SourcedValues]:
    """What each definition behind the system states."""
    yield from _platform_and_parts(case)
    yield from _measured(case)
    yield from _conditions(case)
    yield from _assumptions(case)


def _things(case: Case) -> dict[str, Part | Platform]:
    """The platform and every part of the system, each once."""
    things: dict[str, Part | Platform] = {case.platform.id: case.platform}
    for _, part in case.assembly.everything():
        things.setdefault(part.id, part)
    return things


def _sources(case: Case) -> Iterator[Source | None]:
    """The source of each of `_everything`, without its values."""
    yield from (thing.source for thing in _things(case).values())
    others = (*_measured(case), *_conditions(case), *_assumptions(case))
    yield from (stated.source for stated in others)


def _platform_and_parts(case: Case) -> Iterator[SourcedValues]:
    for name, thing in _things(case).items():
        found = (*_values(_written(thing)), *_tabled(thing))
        values = words(listed(found, "semicolon") if found else say("no values"))
        kind = "part" if isinstance(thing, Part) else "platform"
        of = link(thing.name, f"{kind}:{name}")
        yield SourcedValues(
            of, name, values, BASIS[Basis.DECLARED], thing.source, thing.origin.at("id")
        )


def _written(thing: Part | Platform) -> list[Fact]:
    """What its definition says, without what holds where it says nothing."""
    return [
        fact
        for fact in declared_facts(thing)
        if any(isinstance(rest, Declared) and rest.span != NOWHERE for rest in fact.inputs)
    ]


def _tabled(thing: Part | Platform) -> Iterator[Cell]:
    """Values that stand in tables of a definition: outputs and efficiency of a supply."""
    if not isinstance(thing, PowerSupply):
        return
    for at, output in enumerate(thing.outputs):
        least = stated_cell(thing, output.from_, "outputs", at, "from")
        rated = stated_cell(thing, output.output, "outputs", at, "output")
        yield (say("Output from {voltage}: {output}", voltage=least, output=rated),)
    for points, path, _ in declared_curves(thing):
        for at, point in enumerate(points):
            load = stated_cell(thing, Ratio.of_fraction(point.load), *path, at, "load")
            share = Ratio.of_fraction(point.efficiency)
            efficiency = stated_cell(thing, share, *path, at, "efficiency")
            yield (say("Efficiency at {load}: {efficiency}", load=load, efficiency=efficiency),)


def _values(facts: list[Fact]) -> Iterator[Cell]:
    for fact in facts:
        if fact.value is not None:
            yield (say("{label} {value}", label=fact.label, value=_in_words(fact)),)


def _in_words(fact: Fact) -> Cell:
    """A value, a short word out of a fixed list in the language."""
    return words(closed_word(fact.value)) if isinstance(fact.value, str) else value_cell(fact)


def _measured(case: Case) -> Iterator[SourcedValues]:
    build = case.build
    if build is None or build.measured is None:
        return
    keys = ("idle", "idle_warm", "maximum", "performance", "efficiency_active")
    facts = [case.facts[f"regulation.{key}"] for key in keys if f"regulation.{key}" in case.facts]
    of = link(build.name, f"build:{build.id}")
    source, at = build.measured.source, build.origin.at("measured")
    values = words(listed(_values(facts), "semicolon"))
    yield SourcedValues(of, f"{build.id}.measured", values, BASIS[Basis.MEASURED], source, at)


def _conditions(case: Case) -> Iterator[SourcedValues]:
    for key in case.facts:
        if not key.startswith("conditions."):
            continue
        fact = case.facts[key]
        leaves = [rest for rest in fact.inputs if isinstance(rest, Declared)]
        if fact.value is not None and leaves and leaves[0].source is None:
            of = words(say("Condition: {name}", name=Within(fact.label)))
            yield SourcedValues(of, key, value_cell(fact), say("asked for"), None, leaves[0].span)


def _assumptions(case: Case) -> Iterator[SourcedValues]:
    project = case.definitions.project
    for field in fields(project.assumptions):
        assumed = getattr(project.assumptions, field.name)
        value, source = getattr(assumed, "value", None), getattr(assumed, "source", None)
        if value is None:
            continue
        label = field_words(type(project.assumptions), (field.name,))
        fact = derived(f"assumptions.{field.name}", label, value, say("as declared"))
        of = words(say("Assumption: {name}", name=label))
        at = project.origin.at("assumptions", field.name)
        yield SourcedValues(of, fact.key, value_cell(fact), say("assumed"), source, at)


def signatures(*roles: str) -> Table | None:
    """Lines to sign on, one a role."""
    blank = words("")
    rows: list[tuple[Cell, ...]] = [(words(role), blank, blank, blank) for role in roles]
    columns = heads(say("Reviewed as"), say("Name"), say("Date"), say("Signature"))
    return table(say("Signatures"), columns, rows, "signatures-table")
