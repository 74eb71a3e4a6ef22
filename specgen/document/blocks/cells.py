"""Facts and names as cells of tables."""

from collections.abc import Iterable

from specgen.document.tree import Cell, Column, Datum, Inline, Table, Text, link, words
from specgen.facts import Basis, Fact, Facts, Value
from specgen.facts.registry import COUNTING
from specgen.facts.terms import PROTOCOL, closed_word
from specgen.messages import Message, Words
from specgen.messages.language import NOT_DECLARED
from specgen.messages.pattern import names_of
from specgen.model import Definitions, Part, places

NONE = "\N{EN DASH}"


def value_cell(fact: Fact | None, empty: Words = NOT_DECLARED) -> Cell:
    """The value of a fact, tied to its key."""
    if fact is None or fact.value is None or fact.value == ():
        return words(empty)
    return (Datum(fact.value, fact.key),)


def cell_of(facts: Facts, key: str, empty: Words = NOT_DECLARED) -> Cell:
    """The fact under a key as a cell."""
    return value_cell(facts.get(key), empty)


def phrase(facts: Facts, pattern: str, here: str = "") -> Cell:
    """A message whose open places are facts by key; empty where one of them has no value.

    `{memory.capacity} at {memory.speed}`; in a key `here` stands for a subject.
    """
    values: dict[str, object] = {}
    for name in names_of(pattern):
        fact = facts.get(name.replace(".here.", f".{here}."))
        if fact is None or fact.value in (None, ()):
            return ()
        values[name] = Datum(fact.value, fact.key)
    return (Message(pattern, tuple(values.items())),)


def spoken(name: str) -> str:
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
    columns: tuple[Column, ...],
    rows: list[tuple[Cell, ...]],
    anchor: str,
    note: Words = "",
) -> Table | None:
    """A table, or nothing where it would have no rows."""
    return Table(title, columns, tuple(rows), anchor, words(note)) if rows else None


def column(title: Words) -> Column:
    return Column(title)


def head(title: Words) -> Column:
    """The column that names its rows."""
    return Column(title, header=True)


def short_head(title: Words) -> Column:
    """The column that names its rows by positions or other short names."""
    return Column(title, header=True, short=True)


def number(title: Words) -> Column:
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


def derived(key: str, label: Words, value: Value, formula: Words, *rests: Fact) -> Fact:
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
