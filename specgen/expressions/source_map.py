"""Where the characters of a condition stand that is written over several lines.

YAML folds lines, drops indents and reads escapes; what is left of them are the characters that are
no spaces, in their order. So the text and the lines are walked together, character by character.
"""

import re
from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Span

_ANCHOR: Final = re.compile(r"&\S+\s*")
_SAME: Final = '"\\/'  # what a backslash in double quotes stands before, and leaves as it is

LineColumn = tuple[int, int]
MappedLetter = tuple[str, LineColumn]


def placed(plain: str, lines: tuple[str, ...], scalar: Span) -> tuple[LineColumn, ...]:
    """Line and column of each character of `plain`, counted from 1; empty where not known.

    `lines` are the whole lines that the scalar stands in. A space is where the next character
    after it is not: right behind the one before.
    """
    seen = _characters(lines, scalar)
    found: list[LineColumn] = []
    for letter in plain:
        if letter.isspace():
            line, column = found[-1] if found else (scalar.line, scalar.column - 1)
            found.append((line, column + 1))
            continue
        known = next(seen, None)
        if known is None or known[0] != letter:
            return ()
        found.append(known[1])
    return tuple(found)


def _characters(lines: tuple[str, ...], scalar: Span) -> Iterator[MappedLetter]:
    """The characters of a scalar that are no spaces; stops at an escape that it cannot follow."""
    at = scalar.column - 1
    anchor = _ANCHOR.match(lines[0], at)
    at = anchor.end() if anchor is not None else at
    style = lines[0][at : at + 1]
    if style in (">", "|"):
        yield from _plain(lines[1:], scalar.line + 1, 0)
    elif style in ("'", '"'):
        yield from _quoted(lines, scalar.line, at + 1, style)
    else:
        yield from _plain(lines, scalar.line, at)


def _plain(lines: tuple[str, ...], first: int, at: int) -> Iterator[MappedLetter]:
    for line, text in enumerate(lines, first):
        for column in range(at, len(text)):
            if not text[column].isspace():
                yield text[column], (line, column + 1)
        at = 0


def _quoted(lines: tuple[str, ...], first: int, at: int, quote: str) -> Iterator[MappedLetter]:
    for line, text in enumerate(lines, first):
        while at < len(text):
            letter, here = text[at], (line, at + 1)
            at += 1
            if quote == '"' and letter == "\\":
                if not text[at:].strip():
                    break  # the line goes on in the next one
                if text[at] not in _SAME:
                    return
                letter, at = text[at], at + 1
            elif letter == quote:
                if quote == '"' or text[at : at + 1] != quote:
                    return
                at += 1
            if not letter.isspace():
                yield letter, here
        at = 0
