"""How wide text is, so that boxes fit their words before any program draws them.

Widths are those of the shipped font, Arimo, which its metric equals share (`.dev/letters.py`).
"""

import json
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Final

from specgen.shipped import print_folder

_OTHER: Final = 667  # Cyrillic: seldom wider
_WIDE: Final = 1000  # CJK and pictures
LETTERS: Final = 9.0
"""Points, of all drawings but for a few names. Printed, the broadest are two thirds as large."""
MOST_HELD: Final = 12  # letters; a longer piece is broken where it must be


@cache
def _breadths(bold: bool) -> Mapping[str, int]:
    """Of each letter that is listed, in thousandths of the size."""
    text = (print_folder() / "fonts" / "Arimo-widths.json").read_text(encoding="utf-8")
    listed = json.loads(text)["bold" if bold else "regular"]
    return {letter: int(breadth) for breadth, letters in listed.items() for letter in letters}


@lru_cache(maxsize=65536)
def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line in points at a size in points."""
    table = _breadths(bold)
    return sum(_one(letter, table) for letter in text) * size / 1000


def _one(letter: str, table: Mapping[str, int]) -> int:
    if letter in table:
        return table[letter]
    if unicodedata.combining(letter):
        return 0
    plain = unicodedata.normalize("NFD", letter)[0]  # a letter is as broad as without its marks
    if plain in table:
        return table[plain]
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" or letter > "\uffff" else _OTHER


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
        held = word in ("x", "×", "Gen") or word.replace(".", "").isdecimal()
    return made


def _fitting(word: str, room: float, size: float, bold: bool) -> int:
    """How many letters of a long word fit; one at least."""
    table = _breadths(bold)
    left = room * 1000 / size
    for index, letter in enumerate(word):
        left -= _one(letter, table)
        if left < 0:
            return max(1, index)
    return len(word)
