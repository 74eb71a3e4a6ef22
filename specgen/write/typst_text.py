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

from specgen.drawings.widths import MOST_HELD, width
from specgen.messages import Words
from specgen.shipped import print_folder

_FOLD: Final = re.compile("[\t-\r\x1c-\x1f\x85\u2028\u2029 ]+")
_UNFIT: Final = re.compile(
    "[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\u061c\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff"
    "\ud800-\udfff]"
)
_WORD: Final = re.compile("[^ \u200b]+")
_CJK: Final = re.compile("[\u2e80-\ua4cf\uf900-\ufaff\uff00-\uff60]")
NO_WIDTH: Final = "\u200b"
LONGEST: Final = 40  # letters of a word that any language may have; longer ones are data


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


def breakable(text: str, room: float, size: float) -> str:
    """The text with places to break in words that are wider than the room, in points."""
    if len(text) * size < room:  # no letter is wider than its size
        return text
    return _WORD.sub(lambda found: _opened(found[0], room, size), text)


def _opened(word: str, room: float, size: float) -> str:
    if width(word, size) <= room or (word.isalpha() and len(word) <= LONGEST):
        return word
    step = max(1, min(MOST_HELD, int(room / size / 2)))
    return NO_WIDTH.join(word[at : at + step] for at in range(0, len(word), step))


def hyphenable(text: str, room: float, size: float) -> bool:
    """Whether a word of a language does not fit and should be hyphenated."""
    if len(text) * size < room:
        return False
    return any(
        word.isalpha() and len(word) <= LONGEST and width(word, size) > room
        for word in pieces(text)
    )


def pieces(text: str) -> list[str]:
    """The text in the pieces that a line cannot break; each sign of Chinese or Japanese is one."""
    return _CJK.sub(" \\g<0> ", text).split(" ")


def has_signs(text: str) -> bool:
    """Whether it has signs of Chinese or Japanese, between which a line may break anywhere."""
    return _CJK.search(text) is not None
