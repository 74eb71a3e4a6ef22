"""The words of a drawing as outlines of the shipped fonts: the same look in every program, also in
one that has none of the faces and keeps no length of text.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Final

from specgen.drawings.picture import Element, Picture, point, read_as
from specgen.shipped import print_folder

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

_SHIFT: Final = {"middle": 0.5, "end": 1.0}
CLASS: Final = "letters"
"""Of paths that are words, which style sheets colour as they do words."""


def outlined(picture: Picture) -> Picture:
    """A drawing without a text that needs a font; what its words are stays beside their paths."""
    size = float(picture.root.attributes.get("font-size", 16))  # Source: CSS 2, `medium` in use
    return picture.with_root(_outlined(picture.root, size))


def _outlined(element: Element, size: float) -> Element:
    if element.name != "text":
        inner = (e if isinstance(e, str) else _outlined(e, size) for e in element.children)
        return replace(element, children=tuple(inner))
    runs = [each for each in element.children if isinstance(each, Element)] or [element]
    paths = tuple(_path(run.attributes, read_as(run), size) for run in runs)
    return Element("g", {"role": "img", "aria-label": read_as(element)}, paths)


def _path(look: Mapping[str, str], text: str, size: float) -> Element:
    """One run of words at its place, in its weight and its colour."""
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.pens.transformPen import TransformPen

    size = float(look.get("font-size", size))
    letters = list(_letters(text, "font-weight" in look, "font-style" in look))
    breadths = [_breadth(font, name) * size for font, name in letters]
    x = float(look["x"]) - sum(breadths) * _SHIFT.get(look.get("text-anchor", ""), 0.0)
    pen = SVGPathPen(None, ntos=point)
    for (font, name), breadth in zip(letters, breadths, strict=True):
        glyphs, scale = font.getGlyphSet(), size / font["head"].unitsPerEm
        glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, x, float(look["y"]))))
        x += breadth
    fill = {"fill": look["fill"]} if "fill" in look else {}
    class_ = f"{CLASS} {look.get('class', '')}".strip()
    return Element("path", {"class": class_, **fill, "d": pen.getCommands()})


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
