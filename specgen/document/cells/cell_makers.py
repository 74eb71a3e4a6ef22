"""Facts and names as cells of tables."""

import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Final, TypeVarTuple

from specgen.document.cells.compared_rows import NONE as NONE
from specgen.document.cells.compared_rows import without_void
from specgen.document.tree import Align, Cell, Column, Datum, Inline, Table, link, plain_text, words
from specgen.facts import Fact, Facts, ledger_of
from specgen.facts.declared import declared_fact, printable
from specgen.facts.terms import PROTOCOL, closed_word
from specgen.messages import DOES_NOT_APPLY, NOT_DECLARED, Words
from specgen.model import Definitions, Part, Platform, Position, places
from specgen.model.labels import label_of_field
from specgen.quantity import Quantity

ACCEPTS: Final = label_of_field(Position, "takes")
WEIGHT: Final = label_of_field(Part, "mass")
_ON_A_LINE: Final = 30
"""Letters of what may stand among numbers, such as "more than 1 million years"."""
_WIDTH: Final = re.compile(r"x\d+")
"""Lanes, as the trade writes their number."""


def value_cell(fact: Fact | None, empty: Words = NOT_DECLARED) -> Cell:
    """The value of a fact, tied to its key."""
    if fact is None or fact.value is None or fact.value == ():
        return without_value(fact, words(empty)) or ()
    return (Datum(fact.value, fact.key),)


def without_value(fact: Fact | None, silent: Cell | None) -> Cell | None:
    """What stands for a value that is not there: where a cell would say that it is not declared,
    that it does not apply if that is why."""
    if silent == words(NOT_DECLARED) and fact is not None and fact.value is None:
        return words(NOT_DECLARED if fact.undeclared() else DOES_NOT_APPLY)
    return silent


def stated_cell(
    thing: Part | Platform, value: object, *path: str | int, empty: Words = NOT_DECLARED
) -> Cell:
    """A value as a definition states it at a path."""
    return value_cell(declared_fact(thing, path, printable(value)), empty)


def cell_of(facts: Facts, key: str, empty: Words = NOT_DECLARED) -> Cell:
    """The fact under a key as a cell."""
    return value_cell(facts.get(key), empty)


def head_of(definitions: Definitions, key: str) -> Words:
    """What a column of the facts under a key is headed with: `memory.{processor}.speed`."""
    return ledger_of(definitions).by_key[key].short


def fact_column(
    definitions: Definitions, facts: Facts, key: str, empty: Words = NOT_DECLARED
) -> tuple[Words, Callable[..., Cell]]:
    """A column of `table_of` that says a fact of what the row's first thing names."""
    before, _, rest = key.partition("{")
    after = rest.partition("}")[2]
    return head_of(definitions, key), lambda name, *_: cell_of(
        facts, f"{before}{name}{after}", empty
    )


def term_name(name: str) -> str:
    """A protocol or interface as the trade spells it."""
    return PROTOCOL.get(name, name)


def term_words(definitions: Definitions, word: str) -> Words:
    """A short word of a definition: as the project has it, else as the trade or we say it."""
    own = definitions.term(word)
    return own if own != word else closed_word(word)


def part_cell(part: Part) -> Cell:
    """A part's name, leading to its own entry."""
    return link(part.name, f"part:{part.id}")


def names_cell(names: tuple[str, ...]) -> Cell:
    """Positions in short form."""
    return words(places(names))


def table(
    title: Words,
    columns: Iterable[Column],
    rows: list[tuple[Cell, ...]],
    anchor: str,
    note: Words = "",
) -> Table | None:
    """A table whose numbers stand to the right, or nothing where it would have no rows."""
    if not rows:
        return None
    first, *others = columns
    aligned = (
        replace(each, align=align_of(row[at] for row in rows)) if each.align == "start" else each
        for at, each in enumerate(others, start=1)
    )
    return Table(title, (first, *aligned), tuple(rows), anchor, words(note))


Things = TypeVarTuple("Things")


def table_of(
    things: Iterable[tuple[*Things]],
    title: Words,
    anchor: str,
    *columns: tuple[Words | Column, Callable[[*Things], Cell | Words]] | None,
    note: Words = "",
    short: bool = False,
) -> Table | None:
    """A row for each of some things: a column is its head and what it says of one, None is none.

    Columns that say nothing of any are left out.
    """
    shown = [each for each in columns if each is not None]
    rows = [tuple(_worded(says(*thing)) for _, says in shown) for thing in things]
    made = table(title, heads(*(head for head, _ in shown), short=short), rows, anchor, note)
    return None if made is None else without_void(made)


def _worded(said: Cell | Words) -> Cell:
    return said if isinstance(said, tuple) else words(said)


def heads(*titles: Words | Column, short: bool = False) -> tuple[Column, ...]:
    """Columns, the first of which names the rows; `short`: by a position or other short name."""
    first, *others = (each if isinstance(each, Column) else Column(each) for each in titles)
    return (replace(first, header=True, short=short), *others)


def align_of(column: Iterable[Cell], silent: Cell = ()) -> Align:
    """Numbers to the right: where most of what is said in a column, `silent` apart, is one.

    A sentence among them would stand on one line, and push what follows off the page.
    """
    nothing = ((), silent, words(NONE), words(NOT_DECLARED), words(DOES_NOT_APPLY))
    filled = [cell for cell in column if cell not in nothing]
    others = [cell for cell in filled if len(cell) > 1 or not _is_number(cell[0])]
    few = len(others) * 2 < len(filled)
    return "end" if few and all(len(plain_text(each)) <= _ON_A_LINE for each in others) else "start"


def _is_number(inline: Inline) -> bool:
    if not isinstance(inline, Datum):
        return False
    value = inline.value
    return isinstance(value, Quantity | Decimal | int) or (
        isinstance(value, str) and _WIDTH.fullmatch(value) is not None
    )
