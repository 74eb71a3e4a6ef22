"""Patterns of messages taken apart: literal text, open places, words within an open place."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from specgen.frozen import frozen

_TOKEN: Final = re.compile(r"\{\{|\}\}|\{([\w.-]+)\}|\{([\w.-]+):|[{}]")


class BadPattern(ValueError):
    """Braces that do not go together: one is left open, or stands alone."""

    def __init__(self, pattern: str, *, open: bool = False) -> None:  # noqa: A002
        super().__init__(pattern)
        self.pattern, self.open = pattern, open


@frozen
class Open:
    """An open place: the argument's name, and the pattern of the words within it, if any."""

    name: str
    within: "tuple[Piece, ...] | None" = None


Piece = str | Open


@lru_cache(4096)
def pieces_of(pattern: str) -> tuple[Piece, ...]:
    """A pattern as literal texts and open places. Raises `BadPattern`."""
    if "{" not in pattern and "}" not in pattern:  # two of three, and nearly all labels
        return (pattern,) if pattern else ()
    tokens = _tokens(pattern)
    made = _pieces(tokens, inner=False, pattern=pattern)
    return tuple(made)


def names_of(pattern: str) -> tuple[str, ...]:
    """The names of all open places, in order, those within others too. Raises `BadPattern`."""
    return tuple(_names(pieces_of(pattern)))


def _names(pieces: tuple[Piece, ...]) -> Iterator[str]:
    for piece in pieces:
        if isinstance(piece, Open):
            yield piece.name
            yield from _names(piece.within or ())


def _tokens(pattern: str) -> Iterator[tuple[str, str, str, str]]:
    """The text before each sign, the sign, and the names in it."""
    at = 0
    for found in _TOKEN.finditer(pattern):
        yield pattern[at : found.start()], found[0], found[1] or "", found[2] or ""
        at = found.end()
    yield pattern[at:], "", "", ""


def _pieces(
    tokens: Iterator[tuple[str, str, str, str]], *, inner: bool, pattern: str
) -> list[Piece]:
    made: list[Piece] = []
    text = ""
    for before, sign, name, around in tokens:
        text += before
        if sign in ("{{", "}}"):
            text += sign[0]
            continue
        if text:
            made.append(text)
            text = ""
        if name:
            made.append(Open(name))
        elif around:
            made.append(Open(around, tuple(_pieces(tokens, inner=True, pattern=pattern))))
        elif sign == "}" and inner:
            return made
        elif sign:
            raise BadPattern(pattern)
    if inner:
        raise BadPattern(pattern, open=True)
    return made


def escaped(text: str) -> str:
    """Literal text as a pattern has it."""
    return text.replace("{", "{{").replace("}", "}}")


def speaks(pattern: str) -> bool:
    """Whether there are words in a pattern, and not only signs and open places."""
    return any(_has_words(piece) for piece in pieces_of(pattern))


def _has_words(piece: Piece) -> bool:
    if isinstance(piece, str):
        return _WORD.search(piece) is not None
    return any(map(_has_words, piece.within or ()))


_WORD: Final = re.compile(r"[^\W\d_]{2}")
