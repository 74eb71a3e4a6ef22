"""How wide text is, so that boxes fit their words before any program draws them.

Widths are those of Arimo, which are those of Helvetica and of its other metric equals.
Source: Adobe Core 14 AFM, Helvetica and Helvetica-Bold, widths in thousandths of the size.
"""

import unicodedata
from functools import lru_cache
from typing import Final

_REGULAR: Final = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
_BOLD: Final = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
)  # fmt: skip
_OTHER: Final = 667  # Greek, Cyrillic: seldom wider
_WIDE: Final = 1000  # CJK and pictures
MOST_HELD: Final = 12  # letters; a longer piece is broken where it must be
_NARROW: Final = {
    "\u202f": 200,
    "\u2002": 500,
    "\u00a0": 278,
    "×": 584,
    "–": 556,
    "…": 1000,
    "µ": 556,
}


@lru_cache(maxsize=65536)
def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line in points at a size in points."""
    table = _BOLD if bold else _REGULAR
    return sum(_one(letter, table) for letter in text) * size / 1000


def held(text: str, size: float, bold: bool = False) -> str:
    """Attributes that keep a text of a drawing at this width, whatever face a reader has.

    Source: SVG 1.1, 10.5: `textLength`, `lengthAdjust`.
    """
    return f' textLength="{width(text, size, bold):.1f}" lengthAdjust="spacingAndGlyphs"'


def _one(letter: str, table: tuple[int, ...]) -> int:
    code = ord(letter) - 32
    if 0 <= code < len(table):
        return table[code]
    if letter in _NARROW:
        return _NARROW[letter]
    if unicodedata.combining(letter):
        return 0
    plain = unicodedata.normalize("NFD", letter)[0]  # a letter is as broad as without its marks
    if plain != letter and 0 <= ord(plain) - 32 < len(table):
        return table[ord(plain) - 32]
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" or code > 0xFFFF else _OTHER


@lru_cache(maxsize=65536)
def wrapped(text: str, room: float, size: float, bold: bool = False) -> tuple[str, ...]:
    """Text in lines no wider than `room` points; broken at spaces, in words only where it must.

    No line is left much shorter than the others where fewer words in the first ones prevent it.
    """
    made = _broken(text, room, size, bold)
    narrower = made
    while len(made) > 1 and len(narrower) == len(made):
        made, room = narrower, room - size / 2
        narrower = _broken(text, room, size, bold)
    return made


def _broken(text: str, room: float, size: float, bold: bool) -> tuple[str, ...]:
    made: list[str] = []
    line = ""
    for word in _words(text):
        joined = f"{line} {word}" if line else word
        if width(joined, size, bold) <= room:
            line = joined
            continue
        if line:
            made.append(line)
        while width(word, size, bold) > room:
            cut = _fitting(word, room, size, bold)
            made.append(word[:cut])
            word = word[cut:]
        line = word
    return (*made, line) if line or not made else tuple(made)


def _words(text: str) -> list[str]:
    """Words to break between; a number stays with its unit, `2 x 100 Gbit/s` in one piece."""
    made: list[str] = []
    held = False
    for word in text.split(" "):
        if held and len(made[-1]) < MOST_HELD:
            made[-1] += f" {word}"
        else:
            made.append(word)
        held = word in ("x", "×") or word.replace(".", "").isdecimal()
    return made


def _fitting(word: str, room: float, size: float, bold: bool) -> int:
    """How many letters of a long word fit; one at least."""
    table = _BOLD if bold else _REGULAR
    left = room * 1000 / size
    for index, letter in enumerate(word):
        left -= _one(letter, table)
        if left < 0:
            return max(1, index)
    return len(word)
