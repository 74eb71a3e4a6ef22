"""Cells as messages and back: what is said as one text, with numbers for all that is not words."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from typing import Final

from specgen.document.languages.given import Given, first_word
from specgen.document.languages.numbers import NUMBER, date_in, is_date
from specgen.document.tree import Cell, Emphasis, Inline, Link, Strong, Text
from specgen.quantity.printing import NARROW_SPACE
from specgen.quantity.units import UNITS

WHOLE, NAMES, NUMBERS = range(3)
"""What a message leaves open: figures and links; names of the project too; numbers too."""

_SPEAKS: Final = re.compile("[a-z]{2}")
_SLOT: Final = re.compile(r"\{\d+(?::|\})")
_SIGNS: Final = "|".join(
    sorted({re.escape(unit.sign) for unit in UNITS}, key=lambda sign: (-len(sign), sign))
)
_OPEN: Final = re.compile(
    r"(?<![\w.-])(?:\d{4}-\d{2}-\d{2}|x\d+"
    rf"|(?<![A-Z] ){NUMBER}(?:[ {NARROW_SPACE}](?:{_SIGNS})(?![\w/]))?)"
    r"(?![\w-]|\.\d)"
)
_PLACE: Final = r"(?:[A-Z][A-Z0-9]*(?:[ ./-][A-Z0-9]+)*(?: to \d+)?|\d+ to \d+)(?![\w-])"
_PLACES: Final = re.compile(rf"{_PLACE}(?:, {_PLACE})*")
_QUOTED: Final = re.compile(r"`[^`]+`")
RANGE: Final = "{1} to {2}"
_RANGE: Final = re.compile(r"(\d+) to (\d+)")
_STARTS: Final = re.compile(r"(?<![^\W_])(?:[^\W_]|`)")
_TOKEN: Final = re.compile(r"\{\{|\}\}|\{(\d+)\}|\{(\d+):|\}")


class BadMessage(ValueError):
    """A translation whose numbers in braces are not those of its message."""


def speaks(message: str) -> bool:
    """Whether there are words in it, and not only signs, numbers and names of positions."""
    return _SPEAKS.search(_SLOT.sub("", message)) is not None


@dataclass(slots=True)
class Message:
    """A cell as a message that leaves so much open; `slots` are what its numbers stand for."""

    language: str
    given: Given
    opens: int
    settled: Callable[[Inline], Inline]
    """An inline that is no words of the message, in the language."""
    measured: Callable[[str], str]
    """A number, with its unit where it has one, in the language."""
    range: str = RANGE
    slots: list[Inline] = field(default_factory=list)

    def of(self, cell: Cell) -> str:
        return "".join(map(self.piece, cell))

    def slot(self, inline: Inline) -> str:
        self.slots.append(inline)
        return f"{{{len(self.slots)}}}"

    def piece(self, inline: Inline) -> str:
        match inline:
            case Text(text):
                if text in self.given.texts:
                    return self.slot(inline)
                return "".join(self.opened(text))
            case Link(children) | Strong(children) | Emphasis(children):
                number = len(self.slots)
                self.slots.append(inline)
                said = self.of(children)
                if speaks(said):
                    return f"{{{number + 1}:{said}}}"
                del self.slots[number:]
                return self.slot(self.settled(inline))
            case _:
                return self.slot(self.settled(inline))

    def opened(self, text: str) -> Iterator[str]:
        """A text with names and numbers left open, as far as the message leaves them open."""
        at = 0
        for start, end, said in self.holes(text):
            yield _escaped(text[at:start])
            yield self.slot(Text(said))
            at = end
        yield _escaped(text[at:])

    def holes(self, text: str) -> Iterator[tuple[int, int, str]]:
        """Where a name, places or a number stand, and how they are said."""
        if self.opens == WHOLE:
            return
        end = 0
        for found in _STARTS.finditer(text):
            start = found.start()
            if start >= end:
                held, said = self.hole(text, start)
                if held:
                    end = start + len(held)
                    yield start, end, said

    def hole(self, text: str, at: int) -> tuple[str, str]:
        if quoted := _QUOTED.match(text, at):
            return quoted[0], quoted[0]
        places = _PLACES.match(text, at)
        name = self.given.name_at(text, at, first_word(text[at:]))
        if places and len(places[0]) > len(name) and any(map(str.isdigit, places[0])):
            return places[0], self.ranged(places[0])
        if name or self.opens < NUMBERS:
            return name, name
        number = _OPEN.match(text, at)
        if number is None:
            return "", ""
        held = number[0]
        if is_date(held):
            return held, date_in(self.language, held)
        return held, self.measured(held)

    def ranged(self, places: str) -> str:
        """Names of positions in short form, with the language's own way from one to another."""
        return _RANGE.sub(
            lambda found: self.range.replace("{1}", found[1]).replace("{2}", found[2]), places
        )

    def filled(self, translation: str) -> Cell:
        """A translation with its numbers filled in. `BadMessage` where it names others."""
        cell, end = self._filled(translation, 0, within=False)
        if end != len(translation):
            raise BadMessage(translation)
        return cell

    def _filled(self, text: str, at: int, *, within: bool) -> tuple[Cell, int]:
        made: list[Inline] = []
        while found := _TOKEN.search(text, at):
            _say(made, text[at : found.start()])
            at = found.end()
            if found[0] in ("{{", "}}"):
                _say(made, found[0][0])
            elif found[1]:
                made.append(self._slot(int(found[1])))
            elif found[2]:
                around = self._slot(int(found[2]))
                if not isinstance(around, Link | Strong | Emphasis):
                    raise BadMessage(text)
                children, at = self._filled(text, at, within=True)
                made.append(replace(around, children=children))
            elif within:
                return tuple(made), at
            else:
                raise BadMessage(text)
        if within:
            raise BadMessage(text)
        _say(made, text[at:])
        return tuple(made), len(text)

    def _slot(self, number: int) -> Inline:
        if not 0 < number <= len(self.slots):
            raise BadMessage(f"{{{number}}}")
        return self.slots[number - 1]


def _say(made: list[Inline], text: str) -> None:
    if text:
        made.append(Text(text))


def _escaped(text: str) -> str:
    return text.replace("{", "{{").replace("}", "}}") if "{" in text or "}" in text else text
