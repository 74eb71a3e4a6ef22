"""The words of a drawing as outlines of the shipped fonts: the same look in every program, also in
one that has none of the faces and keeps no length of text.
"""

import html
import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING, Final

from specgen.shipped import print_folder

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

_TEXT: Final = re.compile(r"<text([^>]*)>(.*?)</text>", re.DOTALL)
_RUN: Final = re.compile(r"<tspan([^>]*)>(.*?)</tspan>", re.DOTALL)
_ATTRIBUTE: Final = re.compile(r'([\w-]+)="([^"]*)"')
_SIZE: Final = re.compile(r'<svg[^>]* font-size="([0-9.]+)"')
_SHIFT: Final = {"middle": 0.5, "end": 1.0}
CLASS: Final = "letters"
"""Of paths that are words, which style sheets colour as they do words."""


def outlined(svg: str) -> str:
    """A drawing without a text that needs a font; what its words are stays beside their paths."""
    whole = _SIZE.search(svg)
    size = float(whole[1]) if whole else 16.0  # Source: CSS 2, `font-size: medium` in use

    def words(found: re.Match[str]) -> str:
        own, inner = found.groups()
        runs = _RUN.findall(inner) or [(own, inner)]
        said = re.sub(r"<[^>]+>", "", inner).replace('"', "&quot;")
        paths = "".join(_path(dict(_ATTRIBUTE.findall(look)), text, size) for look, text in runs)
        return f'<g role="img" aria-label="{said}">{paths}</g>'

    return _TEXT.sub(words, svg)


def _path(look: Mapping[str, str], text: str, size: float) -> str:
    """One run of words at its place, in its weight and its colour."""
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.pens.transformPen import TransformPen

    size = float(look.get("font-size", size))
    letters = list(_letters(html.unescape(text), "font-weight" in look, "font-style" in look))
    breadths = [_breadth(font, name) * size for font, name in letters]
    x = float(look["x"]) - sum(breadths) * _SHIFT.get(look.get("text-anchor", ""), 0.0)
    pen = SVGPathPen(None, ntos=_number)
    for (font, name), breadth in zip(letters, breadths, strict=True):
        glyphs, scale = font.getGlyphSet(), size / font["head"].unitsPerEm
        glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, x, float(look["y"]))))
        x += breadth
    fill = f' fill="{look["fill"]}"' if "fill" in look else ""
    class_ = f"{CLASS} {look.get('class', '')}".strip()
    return f'<path class="{class_}"{fill} d="{pen.getCommands()}"/>'


def _letters(text: str, bold: bool, slanted: bool) -> Iterator[tuple["TTFont", str]]:
    """The font and the name of the outline of each letter; that of a letter which nothing has is a
    frame."""
    weight = "700Bold" if bold else "400Regular"
    slant = "_Italic" if slanted else ""
    fonts = (_font(f"Arimo-{weight}{slant}"), _font(f"NotoSansJP-{weight}-subset"))
    for letter in text:
        font = next((each for each in fonts if ord(letter) in each.getBestCmap()), fonts[0])
        yield font, font.getBestCmap().get(ord(letter), ".notdef")


def _breadth(font: "TTFont", name: str) -> float:
    return float(font["hmtx"][name][0] / font["head"].unitsPerEm)


@cache
def _font(name: str) -> "TTFont":
    from fontTools.ttLib import TTFont

    return TTFont(print_folder() / "fonts" / f"{name}.ttf", lazy=True)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
