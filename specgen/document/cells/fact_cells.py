"""Facts as templates name them: by key, or as the open places of a pattern.

A pattern is a message of the template: `{processors.count} × {processors.models}`. Nothing is said
of it where one of its facts has no value.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import field
from decimal import Decimal
from functools import lru_cache
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import codes, did_you_mean, question
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.document.budget import charge
from specgen.document.cells.cell_makers import part_cell, without_value
from specgen.document.maker import AuthorError, bad_braces
from specgen.document.several import Order
from specgen.document.tree import INLINES, Cell, Datum, Text, words
from specgen.facts import Fact, Facts, FactTypes, Ledger, PartId, ledger_of
from specgen.facts.orders import ORDER
from specgen.facts.registry import AnyCalculator
from specgen.frozen import frozen
from specgen.messages import NONE, Message, Sayable, Words, listed, say
from specgen.messages.pattern import BadPattern, names_of, speaks
from specgen.model import Definitions
from specgen.quantity import Magnitude

ORDERED: Final = f"{ORDER}."
LIMITS: Final = "limits."
"""Facts of platforms that are not always solved: any of them may be asked for."""
_KEY: Final = re.compile(r"[a-z_]\w*(?:\.[^\s.{}]+)+")


@frozen
class FactCells:
    """The facts that a template may name, as cells.

    A name that no system of the project can have is its author's mistake: every method raises
    `AuthorError` for it. `assembly` is that of the system, None where facts are about several.
    `order` are the systems ordered, with their facts: a document about one is about an order of
    one too.
    """

    definitions: Definitions
    facts: Facts
    assembly: Assembly | None = None
    order: Order | None = None
    of_order: Callable[[], Facts] = field(default=lambda: Facts.plain(()))
    prefix: str = ""
    """What its values are called before their keys, in a document about another system."""

    @property
    def ledger(self) -> Ledger:
        return ledger_of(self.definitions)

    def calculator(self, key: str) -> AnyCalculator | None:
        """What makes a fact of this name on some system."""
        return _known(self.definitions).calculator(key)

    @property
    def alone(self) -> bool:
        """Whether there is one system only, of which nothing needs summing."""
        return self.order is not None and self.order.single

    def get(self, key: str) -> Fact | None:
        """The fact under a key, None where there is none."""
        if key in self.facts or self.order is None:
            return self.facts.get(key)
        return self.of_order().get(key)

    def fact(self, key: str) -> Fact | None:
        """The fact under a key; None where this system has none and another may."""
        fact = self.get(key)
        if fact is not None or self.calculator(key) is not None:
            return fact
        if key.startswith(LIMITS) and not any(each.startswith(LIMITS) for each in self.facts):
            return None
        raise unknown_fact(key, (*self.facts, *self.ledger.by_key, *self.of_order()))

    def group(self, start: str) -> tuple[Fact, ...]:
        """The facts whose keys begin so: `power.`."""
        keys = [key for key in self.facts if key.startswith(start)]
        known = self.ledger.by_key
        if not keys and not any(key.startswith(start) for key in (LIMITS, *known)):
            starts = {f"{key.partition('.')[0]}." for key in known}
            raise unknown_fact(start, starts)
        return tuple(self.facts[key] for key in keys)

    def cell(self, fact: Fact | None) -> Cell | None:
        """The value, ids of parts as links to them; None where there is none."""
        if fact is None or fact.value in (None, ()):
            return None
        values = fact.value if isinstance(fact.value, tuple) else (fact.value,)
        if all(isinstance(each, PartId) for each in values):
            parts = (self.definitions.parts[str(each)] for each in values)
            return (listed(map(part_cell, parts), "semicolon"),)
        return (Datum(fact.value, self.prefix + fact.key),)

    def cell_in_table(self, fact: Fact | None, silent: Cell | None) -> Cell | None:
        """The same where a place must be filled: `silent` without a value, "none" for no entry."""
        cell = self.cell(fact)
        if cell is None:
            none = fact is not None and fact.value == ()
            return words(NONE) if none else without_value(fact, silent)
        return cell

    def keys(self, written: object) -> tuple[str, ...]:
        """The keys that a pattern names, or the first of several patterns."""
        if isinstance(written, list | tuple):
            return self.keys(written[0]) if written else ()
        return _places(written) if isinstance(written, str) else ()

    def phrase(self, written: object) -> Cell | None:
        """A pattern with its facts, of several the first that can be said; None for none of them.

        What is a value or a message already stays as it is.
        """
        if isinstance(written, INLINES):
            return (written,)
        if isinstance(written, list | tuple):
            if all(isinstance(each, INLINES) for each in written):
                return tuple(written)
            found = (self.phrase(each) for each in written)
            return next((cell for cell in found if cell is not None), None)
        pattern = _text(written, say("a cell"))
        arguments: dict[str, object] = {}
        for key in _places(pattern):
            charge()
            cell = self.cell(self.fact(key))
            if cell is None:
                return None
            if pattern == f"{{{key}}}":
                return cell
            arguments[key] = cell[0]
        if not arguments and not speaks(pattern):
            return (Text(pattern),) if pattern else ()
        return (Message(pattern, tuple(arguments.items())),)

    def sentences(self, note: object) -> Cell:
        """A note: one pattern or several, those left out that speak of nothing."""
        patterns = note if isinstance(note, list | tuple) else (note,)
        cells = [
            cell
            for each in patterns
            if each is not None and not self.nothing(self.keys(each))
            if (cell := self.phrase(each))
        ]
        return (listed(cells, "sentence"),) if len(cells) > 1 else next(iter(cells), ())

    def nothing(self, keys: Iterable[str]) -> bool:
        """Whether all amounts under these keys are nothing at all, and there are some."""
        values = [None if (fact := self.fact(key)) is None else fact.value for key in keys]
        amounts = [value for value in values if isinstance(value, Magnitude | Decimal | int)]
        return bool(amounts) and not any(map(_amount, amounts))

    def has(self, *keys: str) -> bool:
        """`{% if has("power.supplies") %}`: whether one of the facts is there and not nothing."""
        facts = (self.fact(key) for key in keys)
        return any(
            fact is not None and fact.value not in (None, ()) and not self.nothing((fact.key,))
            for fact in facts
        )


@lru_cache(maxsize=8)
def _known(definitions: Definitions) -> FactTypes:
    return FactTypes(ledger_of(definitions))


def _amount(value: Magnitude | Decimal | int) -> bool:
    return bool(value.amount if isinstance(value, Magnitude) else value)


def unknown_fact(key: str, known: Iterable[str]) -> AuthorError:
    """The mistake of naming what no system has."""
    message = NO_SUCH[codes.UNKNOWN_FACT].filled(name=key)
    return AuthorError(message, question(did_you_mean(key, known)), word=key)


def is_key(written: object) -> bool:
    """Whether a template names a fact by its key alone."""
    return isinstance(written, str) and _KEY.fullmatch(written) is not None


def label_of(fact: Fact) -> Words:
    """What a fact is called, with what it is about."""
    if f".{fact.subject}." not in fact.key:  # such as the platform that a limit is of
        return fact.label
    return say("{subject}: {label}", subject=fact.subject, label=fact.label)


def title_of(written: object, what: Message) -> Words:
    """Words that a template writes at a place without room for facts."""
    if isinstance(written, Sayable):
        return written
    text = _text(written, what)
    if _places(text):
        message = say("{what} has no room for facts: `{text}`", what=what, text=text)
        raise AuthorError(message, word=text)
    return Message(text) if speaks(text) else text


def several(written: object, what: Message, *, keep: bool = False) -> Iterator[object]:
    """The entries of a list that a template writes; `keep` keeps those that are `none`."""
    if not isinstance(written, list | tuple):
        message = say("{what} stand in square brackets", what=what)
        raise AuthorError(message, say("write `[…, …]`"))
    for each in written:
        charge()
        if keep or each is not None:
            yield each


def _text(written: object, what: Message) -> str:
    if isinstance(written, str):
        return written
    raise AuthorError(say("{what} is a text", what=what), say("write it in quotes"))


def _places(pattern: str) -> tuple[str, ...]:
    try:
        return names_of(pattern)
    except BadPattern as problem:
        help_ = say(
            "a fact stands in braces, `{example}`; a brace itself is written twice",
            example="{power.maximum}",
        )
        raise AuthorError(bad_braces(problem), help_, word=pattern) from None
