#!/usr/bin/env python3
"""The fonts of printed documents, made once: `python3 .dev/print_fonts.py ARIMO NOTO_SANS_JP`.

ARIMO and NOTO_SANS_JP are the unpacked npm packages `@expo-google-fonts/arimo` and
`@expo-google-fonts/noto-sans-jp` (`npm pack NAME`, both under the SIL Open Font License 1.1). Four
faces of Arimo are copied as they are. Noto Sans JP is cut down with fontTools (`pip install
fonttools`) to the kana, the punctuation and the kanji of level 1 of JIS X 0208. What the fonts
cover together goes into `characters.txt`: ranges of code points in hexadecimal.
"""

import shutil
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import letters
from fontTools import subset
from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parent.parent / "site" / "print" / "fonts"
FACES = ("400Regular", "400Regular_Italic", "700Bold", "700Bold_Italic")
JAPANESE = ("400Regular", "700Bold")
ROWS = (*range(1, 9), *range(16, 48))
"""Rows of JIS X 0208: signs, letters and kana, then the kanji of level 1."""
WIDE = (*range(0xFF01, 0xFF60), *range(0x3000, 0x3040), *range(0x31F0, 0x3200))


def main(arimo: Path, noto: Path) -> None:
    FONTS.mkdir(parents=True, exist_ok=True)
    for face in FACES:
        shutil.copyfile(arimo / face / f"Arimo_{face}.ttf", FONTS / f"Arimo-{face}.ttf")
    license_of(arimo, FONTS / "Arimo-400Regular.ttf", FONTS / "Arimo-LICENSE.txt")
    for face in JAPANESE:
        target = FONTS / f"NotoSansJP-{face}-subset.ttf"
        cut(noto / face / f"NotoSansJP_{face}.ttf", target, japanese())
    license_of(noto, target, FONTS / "NotoSansJP-LICENSE.txt")
    letters.WRITTEN.write_text(letters.breadths(), encoding="utf-8", newline="\n")
    every = [*(FONTS / f"Arimo-{face}.ttf" for face in FACES)]
    latin = set.intersection(*map(covered, every))
    kana = set.intersection(*map(covered, FONTS.glob("NotoSansJP-*-subset.ttf")))
    lines = ranges(sorted(each for each in latin | kana if not private(each)))
    (FONTS / "characters.txt").write_text("\n".join(lines) + "\n", encoding="ascii", newline="\n")


def license_of(package: Path, font: Path, target: Path) -> None:
    """The package's licence text, under the copyright that the font itself states."""
    _, _, rest = (package / "LICENSE_FONT").read_text(encoding="utf-8").partition("\n")
    target.write_text(f"{copyright_of(font)}\n{rest}", encoding="utf-8", newline="\n")


def copyright_of(font: Path) -> str:
    """The copyright notice in a font's table of names (OpenType, name ID 0)."""
    with TTFont(font, lazy=True) as opened:
        return str(opened["name"].getDebugName(0)).removesuffix(".")


def japanese() -> set[int]:
    """Code points of the rows, as the codec of the standard library knows them."""
    wanted = set(WIDE)
    for row in ROWS:
        for cell in range(1, 95):
            sign = bytes((row + 0xA0, cell + 0xA0)).decode("euc_jp", "ignore")
            wanted.update(map(ord, sign))
    return wanted


def cut(source: Path, target: Path, wanted: set[int]) -> None:
    options = subset.Options(
        hinting=False,
        layout_features=["kern", "locl"],
        name_IDs=[0, 1, 2, 3, 4, 5, 6, 13, 14],
        notdef_outline=True,
        recalc_timestamp=False,
        drop_tables=["DSIG", "STAT", "VORG", "vhea", "vmtx", "BASE"],
    )
    font = subset.load_font(str(source), options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=sorted(wanted))
    cutter.subset(font)
    subset.save_font(font, str(target), options)


def covered(font: Path) -> set[int]:
    with TTFont(font, lazy=True) as opened:
        return set(opened.getBestCmap())


def private(number: int) -> bool:
    """Whether a code point has no agreed meaning, so that PDF/A refuses it."""
    return 0xE000 <= number <= 0xF8FF or number in (0, 0xFEFF, 0xFFFE, 0xFFFF)


def ranges(numbers: Iterable[int]) -> Iterator[str]:
    first = last = -1
    for number in numbers:
        if number == last + 1 and first >= 0:
            last = number
            continue
        if first >= 0:
            yield f"{first:04x}-{last:04x}"
        first = last = number
    yield f"{first:04x}-{last:04x}"


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
