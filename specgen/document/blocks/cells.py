"""Facts and names as cells of tables."""

import re
from collections.abc import Iterable

from specgen.document.tree import Cell, Column, Figure, Inline, Table, Text, link, words
from specgen.facts import Basis, Fact, Facts, Value
from specgen.facts.registry import COUNTING
from specgen.model import Part, condensed
from specgen.quantity import split

SPOKEN = {"pcie": "PCIe", "nvme": "NVMe", "sas": "SAS", "sata": "SATA", "usb": "USB"}
NONE = "\N{EN DASH}"


def value_cell(fact: Fact | None, empty: str = "not declared") -> Cell:
    """The value of a fact as it is printed, tied to its key."""
    if fact is None or fact.value is None or fact.value == ():
        return words(empty)
    number, unit = split(fact.value)
    return (Figure(number, unit, fact.key),)


def cell_of(facts: Facts, key: str, empty: str = "not declared") -> Cell:
    """The fact under a key as a cell."""
    return value_cell(facts.get(key), empty)


def phrase(facts: Facts, pattern: str) -> Cell:
    """The words of a pattern with its facts put in; empty where one of them has no value.

    `{memory.capacity} at {memory.speed}`.
    """
    cell: list[Inline] = []
    for at, piece in enumerate(re.split(r"[{}]", pattern)):
        if at % 2 == 0:
            cell += words(piece)
            continue
        fact = facts.get(piece)
        if fact is None or fact.value in (None, ()):
            return ()
        cell += value_cell(fact)
    return tuple(cell)


def spoken(name: str) -> str:
    """A protocol or interface as the trade spells it."""
    return SPOKEN.get(name, name)


def part_cell(part: Part) -> Cell:
    """A part's name, leading to its own entry."""
    return link(part.name, f"part:{part.id}")


def names_cell(names: tuple[str, ...]) -> Cell:
    """Positions in short form."""
    return words(condensed(names))


def table(
    title: str,
    columns: tuple[Column, ...],
    rows: list[tuple[Cell, ...]],
    anchor: str,
    note: str = "",
) -> Table | None:
    """A table, or nothing where it would have no rows."""
    return Table(title, columns, tuple(rows), anchor, words(note)) if rows else None


def column(title: str) -> Column:
    return Column(title)


def head(title: str) -> Column:
    """The column that names its rows."""
    return Column(title, header=True)


def short_head(title: str) -> Column:
    """The column that names its rows by positions or other short names."""
    return Column(title, header=True, short=True)


def number(title: str) -> Column:
    """A column of figures."""
    return Column(title, align="end")


def joined(cells: Iterable[Cell], between: str = "; ") -> Cell:
    """Cells in a row; empty ones are left out."""
    made: list[Inline] = []
    for cell in cells:
        if cell and made:
            made.append(Text(between))
        made += cell
    return tuple(made)


def derived(key: str, label: str, value: Value, formula: str, *rests: Fact) -> Fact:
    """A figure that a block works out from facts, with its pedigree."""
    return Fact(
        key=key,
        template=key,
        label=label,
        value=value,
        basis=Basis.CALCULATED,
        formula=formula,
        source=COUNTING,
        rests=(rests,),
    )


def sentence(text: str) -> str:
    """The text with a capital letter in front."""
    return text[:1].upper() + text[1:]
