"""Texts in the source of Typst: always a string of its code, so that no letter can be a mark.

Letters that no shipped font has are spelled out, since a document with one of them would not be
made at all. Source: the Typst reference, "Strings" (escapes in strings); Unicode 15, UAX 14.
"""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from datetime import date
from functools import lru_cache
from typing import Final
from typing import Literal as OneOf

from specgen.messages import Words
from specgen.shipped import print_folder
from specgen.write.unbroken import HOLDER, MEASURED, RANGE, SPEED

_FOLD: Final = re.compile("[\t-\r\x1c-\x1f\x85\u2028\u2029 ]+")
_UNFIT: Final = re.compile(
    "[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\u00ad\u034f\u061c\u180e\u200b-\u200f\u202a-\u202e"
    "\u2060-\u206f\ufeff\ud800-\udfff]"
)
LONGEST: Final = 40  # letters of a word that any language may have; longer ones are data
LONG_DATA: Final = 28  # letters of a word of data that is not broken: an order number, a version
SIGNS: Final = 7  # a title of so many of Chinese or Japanese is kept on one line
_CJK: Final = re.compile("[\u2e80-\ua4cf\uf900-\ufaff\uff00-\uff60]")
_APART: Final = "\\s\u2e80-\ua4cf\uf900-\ufaff\uff00-\uff60"  # what ends a word
_BLANKS: Final = "\u00a0\u202f"  # that hold together what they stand between
_BLANK: Final = re.compile(f"[{_BLANKS}]")
_OTHERS: Final = (
    rf"(?<![\w-]){RANGE}(?![^\W_]|[.,]\d|-\w)|(?<![\w-]){SPEED}"
    rf"|(?<![^ (])(?:{MEASURED}|{HOLDER}[A-Z][A-Z0-9.]+ \d?[A-Z]?\d+(?:-\d+)*)"
    r"(?![^\W_]|/|[.,]\d|-\w)"
)
_HELD: Final = rf"|[^{_APART}]+(?:[{_BLANKS}][^{_APART}]+)+"
_CODE: Final = r"|(?<![\w-])[A-Z0-9]+(?:-[A-Z0-9]+)+(?![\w-])"
_WHOLE: Final = re.compile(_OTHERS + _HELD + _CODE)
"""A range of positions, a link's speed, a number with its unit, a position with its number, what an
author held together, a code."""
_WHOLE_UNHELD: Final = re.compile(_OTHERS + _CODE)
"""The same of a text in which nothing is held together: what is held is looked for from each letter
to the end of its word, which of a word of 20,000 letters took 8 seconds."""
_LONG: Final = re.compile(rf"[^{_APART}]{{{LONG_DATA + 1},}}")
_SEAM: Final = re.compile(r"[/._:]|[^/._:]{12}")

Piece = OneOf["loose", "whole", "seamed"]


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
    safe = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return f'"{safe}"'


def pieces(text: str) -> Iterator[tuple[str, Piece]]:
    """The folded text in pieces: those that stay on one line are `whole`, long words of data
    `seamed`.

    How they stay or break is said beside the letters, never by a letter that nobody sees: a search
    in what is printed finds what is read.
    """
    at = 0
    whole = _WHOLE if _BLANK.search(text) else _WHOLE_UNHELD
    for found in whole.finditer(text):
        if len(found[0]) <= LONG_DATA:
            yield from _long_apart(text[at : found.start()])
            yield _BLANK.sub(" ", found[0]), "whole"
            at = found.end()
    yield from _long_apart(text[at:])


def _long_apart(text: str) -> Iterator[tuple[str, Piece]]:
    text = _BLANK.sub(" ", text)
    at = 0
    for found in _LONG.finditer(text):
        if not (found[0].isalpha() and len(found[0]) <= LONGEST):
            if at < found.start():
                yield text[at : found.start()], "loose"
            yield found[0], "seamed"
            at = found.end()
    if at < len(text):
        yield text[at:], "loose"


def seams(word: str) -> tuple[str, ...]:
    """A long word of data in what lines are broken between."""
    return tuple(filter(None, _SEAM.sub("\\g<0>\n", word).split("\n")))


def longest_piece(text: Words) -> str:
    """The longest word of the text that is not broken, or one sign of Chinese or Japanese."""
    found = [""]
    for piece, sort in pieces(folded(text)):
        match sort:
            case "whole":
                found.append(piece)
            case "seamed":
                found += seams(piece)
            case "loose":
                found += _CJK.sub(" \\g<0> ", piece).split(" ")
    return max(found, key=len)


def last_word(text: Words) -> tuple[str, str]:
    """The text less its last word, and that word; "" where it may be broken."""
    whole = folded(text)
    *_, (piece, sort) = [*pieces(whole)] or [("", "seamed")]
    word = piece.rpartition(" ")[2] if sort == "loose" else piece
    if sort == "seamed" or _CJK.search(word):
        return whole, ""
    return whole[: len(whole) - len(word)], word


def title_piece(words: Words) -> str:
    """The same of a column's title; a short one in Chinese or Japanese stays whole."""
    title = str(words)
    whole = len(title) <= SIGNS and _CJK.search(title)
    return folded(title) if whole else longest_piece(title)
