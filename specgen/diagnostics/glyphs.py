"""How characters from a file look on a terminal, and how many columns they take there.

Nothing that steers a terminal gets through: control characters become their pictures (`␛`), and
what has no look of its own or turns the writing direction is named by its number (`<U+202E>`).
"""

import re
import unicodedata
from typing import Final

TAB: Final = 4
"""Columns between two tab stops, counted from the start of the line."""

BREAKS: Final = ("\r\n", "\n", "\r", "\x85", "\u2028", "\u2029")
"""The line breaks that the YAML reader counts; Python's own splitlines() knows more of them."""

_BREAK = re.compile("|".join(BREAKS))
_RARE = tuple(each for each in BREAKS if "\n" not in each)

_NAMED = frozenset(("Cc", "Cf", "Cn", "Cs", "Zl", "Zp"))


def lines_of(text: str) -> list[str]:
    """The lines of a file, without their breaks; a byte order mark at the start is no column."""
    text = text.removeprefix("\ufeff")
    if not any(each in text for each in _RARE):  # a pattern takes ten times as long
        return text.split("\n")
    return _BREAK.split(text)


def harmless(text: str) -> str:
    """The text as it may be sent to a terminal: on one line, and steering nothing."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_glyph(character) for character in _BREAK.sub(" ", text))


def cells(line: str) -> list[str]:
    """Every character of a line as it is shown, a tab as the spaces up to the next tab stop."""
    if line.isascii() and line.isprintable():
        return list(line)
    shown: list[str] = []
    at = 0
    for character in line:
        glyph = " " * (TAB - at % TAB) if character == "\t" else _glyph(character)
        shown.append(glyph)
        at += width(glyph)
    return shown


def width(text: str) -> int:
    """How many columns the text takes: wide letters two, marks over other letters none."""
    if text.isascii():
        return len(text)
    return sum(_width(character) for character in text)


def _glyph(character: str) -> str:
    code = ord(character)
    if code < 0x20:
        return " " if character == "\t" else chr(0x2400 + code)
    if code == 0x7F:
        return "\u2421"
    if code > 0x7F and unicodedata.category(character) in _NAMED:
        return f"<U+{code:04X}>"
    return character


def _width(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me") or "\u1160" <= character <= "\u11ff":
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
