"""What a system's values rest on, for engineers who sign: values, sources, basis, age."""

from collections.abc import Iterator, Mapping
from datetime import date

from specgen.document.case import Case
from specgen.document.cells.cell_makers import (
    NONE,
    heads,
    table,
    table_of,
    value_cell,
)
from specgen.document.cells.fact_cells import title_of
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
from specgen.facts import Fact
from specgen.facts.derived import derived
from specgen.facts.stated_values import StatedValues, missing_inputs, sources, stated_values
from specgen.facts.stated_values import day_of as dated
from specgen.facts.terms import closed_word
from specgen.messages import Message, Words, listed, say, say_many
from specgen.messages.language import NONE as NONE_SET
from specgen.model import NOWHERE, Span, natural, places
from specgen.quantity import Duration


def day_of(case: Case) -> date | None:
    """The day of the document: of the build, else of the project; never that of a clock."""
    own = case.build.date if case.build is not None else None
    return own or case.definitions.project.date


def open_points(case: Case) -> Table | None:
    """What has no value, no source, or a source without a date: what to look at first."""
    rows: list[tuple[Cell, ...]] = []
    for silent in missing_inputs(case.assembly, case.facts):
        what = silent.label
        if silent.places:
            what = say("{places}: {label}", places=places(silent.places), label=silent.label)
        rows.append((words(what), words(say("no value")), words(silent.needed_for), _at(silent.at)))
    for stated in _everything(case):
        if stated.day is None:
            lack = say("source without a date") if stated.sourced else say("no source")
            rows.append((_of(stated), words(lack), _values(stated), _at(stated.at)))
    columns = heads(
        say("Of what"), say("What is missing"), say("Values, or what needs one"), say("Where")
    )
    return table(say("Open points"), columns, rows, "open-table")


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
        (say("Of what"), lambda _, stated: _of(stated)),
        (say("Values"), lambda _, stated: _values(stated)),
        (say("Basis"), lambda _, stated: stated.basis),
        (say("Source, its date, and where it is stated"), _document),
        (say("Age"), lambda of, stated: _age(case, stated, of, day)),
        note=note,
    )


def _document(day: date, stated: StatedValues) -> Cell:
    source = stated.source
    assert source is not None
    known = {"document": source.document, "page": source.page, "day": day}
    named = say("{document}, page {page}, {day}") if source.page else say("{document}, {day}")
    return (named.filled(**known), Break(), *_at(stated.at))


def _age(case: Case, stated: StatedValues, of: date, day: date | None) -> Cell:
    if day is None:
        return words(NONE)
    days = (day - of).days
    if days < 0:
        return words(say("after this document"))
    key = f"{case.thing.id}.review.{stated.id}.age"
    formula = say("date of the document less that of the source")
    return value_cell(derived(key, say("Age of the source"), Duration.of(days, "d"), formula))


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
        (say("Values that are missing"), len(missing_inputs(case.assembly, case.facts))),
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
    found = [*sources(case.assembly, case.facts)]
    days = list(filter(None, map(dated, found)))
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


def _everything(case: Case) -> Iterator[StatedValues]:
    return stated_values(case.assembly, case.facts)


def _of(stated: StatedValues) -> Cell:
    return link(stated.of, stated.target) if stated.target else words(stated.of)


def _values(stated: StatedValues) -> Cell:
    """What a definition states, each value with its label where it is one of several."""
    said = [_said(*each) for each in stated.values]
    if len(said) == 1 and stated.values[0][0] is None:
        return said[0]
    return words(listed(said, "semicolon") if said else say("no values"))


def _said(pattern: Message | None, facts: Mapping[str, Fact]) -> Cell:
    cells = {name: _in_words(fact) for name, fact in facts.items()}
    return cells["value"] if pattern is None else (pattern.filled(**pattern.named, **cells),)


def _in_words(fact: Fact) -> Cell:
    """A value, a short word out of a fixed list in the language."""
    return words(closed_word(fact.value)) if isinstance(fact.value, str) else value_cell(fact)


def signatures(*roles: str) -> Table | None:
    """Lines to sign on, one a role."""
    blank = words("")
    found = (title_of(role, say("a role")) for role in roles)
    rows: list[tuple[Cell, ...]] = [(words(role), blank, blank, blank) for role in found]
    columns = heads(say("Reviewed as"), say("Name"), say("Date"), say("Signature"))
    return table(say("Reviewed by"), columns, rows, "signatures-table")
