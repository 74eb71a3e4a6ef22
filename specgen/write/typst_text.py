"""Texts in the source of Typst: always a string of its code, so that no letter can be a mark.

Letters that no shipped font has are spelled out, since a document with one of them would not be
made at all. Source: the Typst reference, "Strings" (escapes in strings); Unicode 15, UAX 14.
"""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from typing import Final

from specgen.messages import Words
from specgen.quantity.units import UNITS
from specgen.shipped import print_folder

_FOLD: Final = re.compile("[\t-\r\x1c-\x1f\x85\u2028\u2029 ]+")
_UNFIT: Final = re.compile(
    "[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\u061c\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff"
    "\ud800-\udfff]"
)
_WORD: Final = re.compile("[^ \u200b]+")
_CJK: Final = re.compile("[\u2e80-\ua4cf\uf900-\ufaff\uff00-\uff60]")
_UNITS: Final = "|".join(re.escape(unit.sign) for unit in UNITS)
_HELD: Final = re.compile(
    rf"(?<![^ (])(?:\d[\d.,]* (?:{_UNITS})|[A-Z][A-Z0-9.]+ \d?[A-Z]?\d+)(?![^\W_]|/|[.,]\d)"
)
"""A number with its unit, a position with its number: never broken."""
_SEAM: Final = re.compile(r"[/._:]|[^/._:]{12}")
NO_BREAK: Final = "\u00a0"
NO_WIDTH: Final = "\u200b"
LONGEST: Final = 40  # letters of a word that any language may have; longer ones are data
LONG_DATA: Final = 28  # letters of a word of data that is not broken: an order number, a version
SIGNS: Final = 7  # a title of so many of Chinese or Japanese is kept on one line


@lru_cache(1)
def _ranges() -> tuple[tuple[int, ...], tuple[int, ...]]:
    """First and last code points of what the shipped fonts have."""
    lines = (print_folder() / "fonts" / "characters.txt").read_text(encoding="ascii").split()
    pairs = [line.split("-") for line in lines]
    return tuple(int(a, 16) for a, _ in pairs), tuple(int(b, 16) for _, b in pairs)


@lru_cache(4096)
def printable(letter: str) -> bool:
    """Whether a shipped font has the letter."""
    firsts, lasts = _ranges()
    at = bisect_right(firsts, ord(letter)) - 1
    return at >= 0 and ord(letter) <= lasts[at]


@lru_cache(4096)
def spelled(letter: str) -> str:
    """The letter as fonts have it: itself, what it is made of, or its number in brackets."""
    if printable(letter):
        return letter
    for form in ("NFC", "NFKD"):
        other = unicodedata.normalize(form, letter)
        if all(map(printable, other)):
            return other
    return f"[U+{ord(letter):04X}]"


def folded(words: Words | date) -> str:
    """On one line, without what steers and is not printed; letters that no font has spelled out."""
    text = str(words)
    if text.isascii() and text.isprintable() and "  " not in text:
        return text
    text = unicodedata.normalize("NFC", _UNFIT.sub("", _FOLD.sub(" ", text)))
    return text if text.isascii() else "".join(map(spelled, text))


def shows(text: Words) -> bool:
    """Whether anything of the text can be seen on paper."""
    return any(unicodedata.category(each)[0] not in "ZC" for each in folded(text))


def lacking(texts: Iterable[str]) -> tuple[str, ...]:
    """The letters of the texts that are spelled out for want of a font, in order of their codes."""
    found: set[str] = set()
    for text in texts:
        if not text.isascii():
            bare = unicodedata.normalize("NFC", _UNFIT.sub("", _FOLD.sub(" ", text)))
            found.update(each for each in bare if spelled(each).startswith("[U+"))
    return tuple(sorted(found))


def string(text: str) -> str:
    """A text as a string of Typst's code; it is expected folded, lines apart."""
    safe = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{safe}"'


def held(text: str) -> str:
    """The text with numbers held to their units, and places to break in long words of data."""
    return _WORD.sub(_opened, _HELD.sub(lambda found: found[0].replace(" ", NO_BREAK), text))


def _opened(found: re.Match[str]) -> str:
    word = found[0]
    most = LONGEST if word.isalpha() else LONG_DATA
    return word if len(word) <= most else _SEAM.sub(f"\\g<0>{NO_WIDTH}", word)


def longest_piece(text: Words) -> str:
    """The longest word of the text, or one sign of Chinese or Japanese."""
    return max(_CJK.sub(" \\g<0> ", held(folded(text))).split(" "), key=len)


def title_piece(words: Words) -> str:
    """The same of a column's title; a short one in Chinese or Japanese stays whole."""
    title = str(words)
    whole = len(title) <= SIGNS and _CJK.search(title)
    return folded(title) if whole else longest_piece(title)
