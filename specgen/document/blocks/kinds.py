"""Parts of the project's own kinds: what there is to choose from, and what a build holds."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from specgen.assembly import swap_of
from specgen.document.blocks.cells import (
    NONE,
    heads,
    names_cell,
    part_cell,
    table,
    term_words,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Datum, Table
from specgen.facts import Fact
from specgen.facts.declared import declared_facts
from specgen.grouped import grouped
from specgen.messages import Words, listed, say
from specgen.model import Definitions, Part, called

Stated = Mapping[str, Fact]
"""What the definition of a part states, by the field."""


def stated(part: Part) -> Stated:
    """What the definition of a part states."""
    return {fact.key.removeprefix(f"{part.id}."): fact for fact in declared_facts(part)}


def chosen_by(parts: Iterable[Part]) -> tuple[str, ...]:
    """The fields that parts of one kind are chosen by, but for those that none declares."""
    known = [(part, stated(part)) for part in parts]
    return tuple(
        field
        for field in (known[0][0].choose_by if known else ())
        if any(field in facts for _, facts in known)
    )


def field_title(parts: Iterable[Part], field: str) -> Words:
    """The head of a field's column."""
    return called(type(next(iter(parts))), tuple(field.split("."))).words


def field_cell(definitions: Definitions, fact: Fact | None, empty: str = NONE) -> Cell:
    """The value of a field, short words printed as the project has them."""
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
    made = (_fitted(case, kind) for kind in kinds)
    return tuple(each for each in made if each is not None)


def _fitted(case: Case, kind: type[Part]) -> Table | None:
    parts = {part.id: part for _, part in case.assembly.fitted(kind)}
    places = grouped(
        ((part.id, swap_of(case.assembly, place)), place.name)
        for place, part in case.assembly.fitted(kind)
    )
    fields = chosen_by(parts.values())
    rows: list[tuple[Cell, ...]] = []
    for (name, swap), names in places.items():
        known = dict(stated(parts[name]))
        if "swap" in known:  # where it sits decides
            known["swap"] = replace(known["swap"], value=swap)
        rows.append(
            (
                names_cell(tuple(names)),
                part_cell(parts[name]),
                (Datum(len(names), f"{case.thing.id}.parts.{name}"),),
                *(field_cell(case.definitions, known.get(field)) for field in fields),
            )
        )
    titles = (field_title(parts.values(), field) for field in fields)
    columns = heads(say("Positions"), kind.named(), say("Quantity"), *titles)
    return table(kind.named_many(), columns, rows, f"{kind.kind}-fitted")
