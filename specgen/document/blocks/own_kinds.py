"""Parts of the project's own kinds: what there is to choose from, and what a build holds."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import partial
from itertools import islice

from specgen.assembly import swap_of
from specgen.document.case import Case
from specgen.document.cells.cell_makers import (
    NONE,
    names_cell,
    part_cell,
    table_of,
    term_words,
    value_cell,
)
from specgen.document.tree import Cell, Datum, Table
from specgen.facts import Fact
from specgen.facts.declared import declared_facts
from specgen.facts.terms import SWAP, worded
from specgen.grouped import grouped
from specgen.messages import Words, listed, say
from specgen.model import Definitions, Part, called

Stated = Mapping[str, Fact]
"""What the definition of a part states, by the field."""


def stated(part: Part) -> Stated:
    """What the definition of a part states."""
    return {fact.key.removeprefix(f"{part.id}."): fact for fact in declared_facts(part)}


def field_columns(
    definitions: Definitions, parts: Collection[Part]
) -> list[tuple[Words, Callable[..., Cell]]]:
    """A column for each field that parts of one kind are chosen by, but for those that none
    declares; of a row, what the part states comes second."""

    def said(field: str, _: Part, known: Stated, *__: object) -> Cell:
        return field_cell(definitions, known.get(field))

    declared = {field for part in parts for field in stated(part)}
    return [
        (called(type(part), tuple(field.split("."))).words, partial(said, field))
        for part in islice(parts, 1)
        for field in part.choose_by
        if field in declared
    ]


def field_cell(definitions: Definitions, fact: Fact | None, empty: str = NONE) -> Cell:
    """The value of a field, short words printed as the project has them."""
    if fact is not None and isinstance(fact.value, str) and fact.key.endswith(".swap"):
        return (Datum(worded(SWAP, fact.value), fact.key),)
    if fact is not None and isinstance(fact.value, str):
        return (Datum(term_words(definitions, fact.value), fact.key),)
    return value_cell(fact, empty)


def details(definitions: Definitions, part: Part) -> Cell:
    """What parts lists say of a part behind its name: `Host ports: 4; Rate: 24 Gbit/s`."""
    known = stated(part) if part.listed_with else {}
    found = (known[field] for field in part.listed_with if field in known)
    entries = [
        say("{label}: {value}", label=fact.label, value=field_cell(definitions, fact))
        for fact in found
    ]
    return (listed(entries, "semicolon"),) if entries else ()


def fitted(case: Case) -> tuple[Table, ...]:
    """The parts of each of the project's own kinds that a build holds."""
    kinds = (case.definitions.kinds[declared.id] for declared in case.definitions.declared)
    return tuple(filter(None, (_fitted(case, kind) for kind in kinds)))


def _fitted(case: Case, kind: type[Part]) -> Table | None:
    fitted = case.assembly.fitted(kind)
    parts = {part.id: part for _, part in fitted}
    sorts = grouped(
        ((part.id, swap_of(case.assembly, place)), place.name) for place, part in fitted
    )

    def known(part: Part, swap: str | None) -> Stated:
        said = stated(part)
        if "swap" not in said:
            return said
        return {**said, "swap": replace(said["swap"], value=swap)}  # where it sits decides

    def count(part: Part, names: list[str]) -> Cell:
        return (Datum(len(names), f"{case.thing.id}.parts.{part.id}"),)

    return table_of(
        ((parts[id_], known(parts[id_], swap), names) for (id_, swap), names in sorts.items()),
        kind.named_many(),
        f"{kind.kind}-fitted",
        (say("Positions"), lambda _, __, names: names_cell(tuple(names))),
        (kind.named(), lambda part, *_: part_cell(part)),
        (say("Quantity"), lambda part, _, names: count(part, names)),
        *field_columns(case.definitions, parts.values()),
    )
