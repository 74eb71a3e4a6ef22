#!/usr/bin/env python3
"""Renews the breadths of letters that drawings are laid out with: those of the shipped font.

Called as `.venv/bin/python .dev/letters.py`. In thousandths of the font's size: for each weight,
the letters of each breadth. Those of other alphabets count as broad ones (`drawings/widths.py`).
"""

import json
import unicodedata
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parent.parent / "site" / "print" / "fonts"
WEIGHTS = {"regular": "Arimo-400Regular.ttf", "bold": "Arimo-700Bold.ttf"}
WRITTEN = FONTS / "Arimo-widths.json"
BLOCKS = (
    range(0x20, 0x180),  # Latin
    range(0x391, 0x3CA),  # Greek
    range(0x2000, 0x209D),  # punctuation, superscripts
    range(0x20A0, 0x20C0),  # currencies
    range(0x2100, 0x2270),  # letter-like signs, fractions, arrows, mathematics
)
UNSEEN = ("Cc", "Cf", "Cn", "Zl", "Zp")
"""Categories of what has no breadth of its own."""


def breadths() -> str:
    """JSON text, a line for each breadth."""
    lines = []
    for weight, file in WEIGHTS.items():
        each = (f'  "{breadth}": {json.dumps(text)}' for breadth, text in of(file))
        lines.append(f' "{weight}": {{\n' + ",\n".join(each) + "\n }")
    return "{\n" + ",\n".join(lines) + "\n}\n"


def of(file: str) -> list[tuple[int, str]]:
    """The letters of each breadth, in the order of breadths."""
    font = TTFont(FONTS / file)
    names, advance, size = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    found: dict[int, str] = {}
    for letter in (chr(code) for block in BLOCKS for code in block if code in names):
        if unicodedata.category(letter) not in UNSEEN:
            breadth = round(advance[names[ord(letter)]][0] * 1000 / size)
            found[breadth] = found.get(breadth, "") + letter
    return sorted(found.items())


if __name__ == "__main__":
    WRITTEN.write_text(breadths(), encoding="utf-8")
