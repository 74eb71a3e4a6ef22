"""What every printed value should be: its key looked up anew, its digits read back.

A key is a fact of the system (`power.maximum`), of one system among others (`BUILD.power.maximum`),
of an order, of a platform's limits, or a field of a definition (`rdimm-32-5600.speed`).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from decimal import Decimal
from functools import cached_property
from typing import Any

from specgen.document.case import Case
from specgen.document.tree import (
    Cell,
    Document,
    Figure,
    Hyperlink,
    Listing,
    Literal,
    Paragraph,
    Table,
    Value,
)
from specgen.facts.declared import OWN, printable
from specgen.facts.fact import Fact, Facts
from specgen.facts.terms import PROTOCOL, SWAP, closed_word
from specgen.messages import Language, Message
from specgen.model import Definitions, called, expand
from specgen.quantity import Quantity
from specgen.quantity.units import UNITS, Unit

NOTHING = object()


@dataclass(frozen=True)
class Either:
    """Values that have one key, of which one is meant."""

    values: tuple[object, ...]


def values(node: object, row: str = "") -> Iterator[tuple[Value, str]]:
    """Every printed value of a document, in the order of reading, with what its row is about.

    The first cell of a row that is about one system or part leads to it: `build:x`, `part:y`; so
    does the first paragraph of an entry of a list.
    """
    if isinstance(node, Value):
        yield node, row
    elif isinstance(node, Table):
        for cells in node.rows:
            yield from values(cells, _subject(cells[0]))
        yield from values(node.note)
    elif isinstance(node, Listing):
        for first, *others in node.items:
            about = _subject(first.children) if isinstance(first, Paragraph) else ""
            yield from values((first, *others), about or row)
    elif isinstance(node, tuple):
        for each in node:
            yield from values(each, row)
    elif is_dataclass(node) and not isinstance(node, Literal | Figure):
        for entry in fields(node):
            yield from values(getattr(node, entry.name), row)


def _subject(cell: Cell) -> str:
    first = cell[0] if len(cell) == 1 else None
    return first.target.partition(":")[2] if isinstance(first, Hyperlink) else ""


def tables(document: Document) -> Mapping[str, Table]:
    """The tables of a document by their anchors."""
    return {each.anchor: each for each in document.blocks if isinstance(each, Table)}


_SIGNS: dict[str, Mapping[str, Unit]] = {}


def _signs(language: Language) -> Mapping[str, Unit]:
    """The units by their signs in a language."""
    if language.tag not in _SIGNS:
        found = {language.unit(unit.sign): unit for unit in UNITS}
        _SIGNS[language.tag] = found
    return _SIGNS[language.tag]


def read_back(number: str, language: Language) -> Decimal | None:
    """The number that digits stand for in a language; None where they are words."""
    signs = language.signs
    plain = number.replace(signs.group, "").replace("\u202f", "").replace("\u2212", "-")
    try:
        return Decimal(plain.replace(signs.point, "."))
    except ArithmeticError:
        return None


def agrees(printed: Value, fact: object, language: Language) -> bool:
    """Whether what is printed is the value of a fact, rounded as it is printed, in any unit.

    A column may have one unit for all its rows; of several values a row may have one. Lanes are
    printed as `x8`.
    """
    if isinstance(fact, Either):
        return any(agrees(printed, each, language) for each in fact.values)
    if isinstance(fact, int) and (printed.number, printed.unit) == (f"x{fact}", ""):
        return True
    if isinstance(fact, str) and printed.number in _spellings(fact, language):
        return True
    if language.number(fact) == (printed.number, printed.unit):
        return True
    if isinstance(fact, tuple):
        return any(agrees(printed, each, language) for each in fact)
    number = read_back(printed.number, language)
    if number is None:
        return False
    exact: Any = fact
    if isinstance(fact, Quantity):
        unit = _signs(language).get(printed.unit)
        if unit is None or unit.dimension is not fact.unit.dimension:
            return False
        exact = fact.in_unit(unit.symbol)
    elif printed.unit == "%" and isinstance(fact, Decimal):
        exact = fact * 100
    elif printed.unit or not isinstance(fact, int | Decimal) or isinstance(fact, bool):
        return False
    return _rounds_to(Decimal(exact), number)


def _spellings(word: str, language: Language) -> set[str]:
    """A short word of a definition as the trade spells it."""
    known = (closed_word(word), PROTOCOL.get(word, word), SWAP.get(word, word))
    return {language.text(each) for each in known}


def _rounds_to(exact: Decimal, number: Decimal) -> bool:
    """Whether the last digit printed is the right one, and what is something is not nothing."""
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    step = Decimal(1).scaleb(exponent)
    return abs(exact - number) * 2 <= step and not (number == 0 and exact != 0)


@dataclass
class Lookup:
    """Where keys are looked up: facts of systems, of orders, of limits; fields of definitions."""

    definitions: Definitions
    here: Facts
    systems: Mapping[str, Case] = field(default_factory=dict)
    limits: Mapping[str, Facts] = field(default_factory=dict)
    more: Mapping[str, object] = field(default_factory=dict)
    shown: Facts | None = None
    """Of the system in the pictures, where the document is about a platform."""

    def value(self, key: str, row: str = "") -> object:
        """The value under a key in a row about something, `NOTHING` where it names none."""
        about = self.systems.get(row)
        fact = (self.here if about is None or key not in about.facts else about.facts).get(key)
        if self.shown is not None and key in self.shown:
            return Either((self.shown[key].value, None if fact is None else fact.value))
        if fact is not None:
            return fact.value
        if key in self.more:
            return self.more[key]
        first, _, rest = key.partition(".")
        if first == "assumptions":
            return self._assumed(rest)
        if first in self.limits and rest in self.limits[first]:
            return self.limits[first][rest].value
        declared = self._counts(first, rest.removeprefix("positions."))
        declared = self._declared(key) if declared is NOTHING else declared
        if first in self.systems and rest in self.systems[first].facts:
            return self.systems[first].facts[rest].value
        return declared

    def _assumed(self, name: str) -> object:
        assumed = getattr(self.definitions.project.assumptions, name, None)
        return NOTHING if assumed is None else assumed.value

    def _counts(self, platform: str, kind: str) -> object:
        """How many builds a platform has, or positions that take a kind of part."""
        if kind == "builds" and platform in self.definitions.platforms:
            return sum(b.platform == platform for b in self.definitions.builds.values())
        if platform not in self.definitions.platforms or kind not in self.definitions.kinds:
            return NOTHING
        positions = self.definitions.platforms[platform].positions
        taking = (p for p in positions if kind in p.takes and p.fixed is None)
        return sum(len(expand(each.name)) for each in taking)

    def _declared(self, key: str) -> object:
        for things in (self.definitions.parts, self.definitions.platforms):
            for name in self._ids:
                if name in things and key.startswith(f"{name}."):
                    path = key.removeprefix(f"{name}.").removeprefix(f"{OWN}.")
                    found = _walked(things[name], path)
                    if found in (None, "None"):  # what is left out may tell something
                        absent = called(type(things[name]), tuple(path.split("."))).absent
                        return Message(absent) if absent else found
                    if isinstance(found, str):
                        return Either((found, self.definitions.term(found)))
                    return found
        return NOTHING

    @cached_property
    def _ids(self) -> list[str]:
        found = {*self.definitions.parts, *self.definitions.platforms}
        return sorted(found, key=len, reverse=True)


def _walked(thing: object, path: str) -> object:
    for step in path.split("."):
        if isinstance(thing, tuple):
            thing = thing[int(step)] if step.isdigit() and int(step) < len(thing) else NOTHING
        elif isinstance(thing, Mapping):
            thing = next((each for key, each in thing.items() if str(key) == step), NOTHING)
        else:
            names = (step, f"{step}_")
            thing = next((getattr(thing, n) for n in names if hasattr(thing, n)), NOTHING)
    records = (each for each in thing) if isinstance(thing, tuple) else ()
    if isinstance(thing, Mapping):
        return ", ".join(f"{PROTOCOL.get(name, name)} {each}" for name, each in thing.items())
    if any(is_dataclass(each) and not isinstance(each, Quantity) for each in records):
        return len(thing)  # of records their number is printed
    if thing is NOTHING or isinstance(thing, bool | int | Decimal | Quantity | str | tuple):
        return thing if thing is NOTHING else printable(thing)
    return str(thing)


def amount(fact: Fact | None) -> Decimal | None:
    """A fact's value as a number in the unit that its quantity keeps."""
    value = None if fact is None else fact.value
    if isinstance(value, Quantity):
        return value.amount
    return (
        Decimal(value) if isinstance(value, int) else value if isinstance(value, Decimal) else None
    )
