"""Tables as a reader compares their rows: nothing void, nothing said twice."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from specgen.document.tree import (
    Cell,
    Datum,
    Emphasis,
    Hyperlink,
    Inline,
    Strong,
    Table,
    words,
)
from specgen.messages import Words, listed, say
from specgen.model import places

Thing = TypeVar("Thing")
NONE: Final = "\N{EN DASH}"
FEW: Final = 3
"""Rows from which on what is the same in all of them is said once, below."""


def without_void(table: Table) -> Table:
    """Less the columns in which no row says anything."""
    void = ((), words(NONE))
    columns = zip(*table.rows, strict=True)
    return _kept(table, [any(cell not in void for cell in cells) for cells in columns])


def said_once(table: Table, labels: Sequence[Words] = ()) -> Table:
    """What is the same in every row stands below the table, unless nothing is left to compare.

    There a head that several columns have, each told by its neighbour, gives way to the `labels`.
    """
    same = [
        not column.header and len(set(map(_said, cells))) == 1 and len(cells[0]) == 1
        for column, cells in zip(table.columns, zip(*table.rows, strict=True), strict=True)
    ]
    if len(table.rows) < FEW or not any(same) or same.count(False) < FEW:
        return table
    first, heads = table.rows[0], [column.title for column in table.columns]
    below = [
        say(
            "{label}: {value}.",
            label=labels[at] if labels and heads.count(head) > 1 else head,
            value=first[at][0],
        )
        for at, head in enumerate(heads)
        if same[at]
    ]
    note = [*table.note, *below]
    sentences: Cell = (listed(note, "sentence"),) if len(note) > 1 else tuple(note)
    return replace(_kept(table, [not each for each in same]), note=sentences)


def together(rows: Mapping[str, Sequence[Cell]]) -> dict[tuple[str, ...], Sequence[Cell]]:
    """Positions of which the same is said, as one row; in the order of the first of each."""
    alike: dict[tuple[Cell, ...], list[str]] = {}
    for name, cells in rows.items():
        alike.setdefault(tuple(map(_said, cells)), []).append(name)
    return {tuple(names): rows[names[0]] for names in alike.values()}


def names_of(names: tuple[str, ...]) -> Cell:
    """The head of such a row."""
    return words(places(names))


def _kept(table: Table, keep: Sequence[bool]) -> Table:
    if all(keep):
        return table
    return replace(
        table,
        columns=_those(table.columns, keep),
        rows=tuple(_those(row, keep) for row in table.rows),
    )


def _those(things: Iterable[Thing], keep: Sequence[bool]) -> tuple[Thing, ...]:
    return tuple(each for each, kept in zip(things, keep, strict=True) if kept)


def _said(cell: Cell) -> Cell:
    """A cell without the keys of its facts: two facts may say the same."""
    return tuple(map(_unkeyed, cell))


def _unkeyed(inline: Inline) -> Inline:
    match inline:
        case Datum(value):
            return Datum(value)
        case Strong(children) | Emphasis(children) | Hyperlink(children):
            return replace(inline, children=_said(children))
    return inline
