"""Numbers and outlines over a photo: legible on whatever it shows, in light and in dark.

A number stands in a disc with a light rim, an outline is a dark line on a light one. On a screen
they keep their size while the picture shrinks, so nothing scales but the places.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.drawings.picture import ACCENT, FACES, PAPER, Element, Picture, point
from specgen.frozen import frozen

RADIUS: Final = 9.0
"""Of a disc: pixels on a screen, points on paper times `ON_PAPER`."""
ON_PAPER: Final = 0.72
_LETTERS: Final = 11.0
_UNITS: Final = 10_000
"""Of the frame that outlines are drawn in on a screen."""


@frozen
class NumberMark:
    """A number at a place, in shares of the picture from its left and its top; its outline."""

    number: int
    x: float
    y: float
    outline: tuple[tuple[float, float], ...] = ()


def over_screen(marks: Sequence[NumberMark]) -> Element:
    """The layer that lies over a picture of any size."""
    outlines = tuple(
        line
        for mark in marks
        if mark.outline
        for line in _outline([(x * _UNITS, y * _UNITS) for x, y in mark.outline], 1.0)
    )
    frame = Element(
        "svg",
        {
            "viewBox": f"0 0 {_UNITS} {_UNITS}",
            "preserveAspectRatio": "none",
            "width": "100%",
            "height": "100%",
        },
        outlines,
    )
    discs = (
        Element(
            "svg",
            {"x": _share(mark.x), "y": _share(mark.y), "overflow": "visible"},
            tuple(_disc(mark.number, 0, 0, 1.0)),
        )
        for mark in marks
    )
    root = {
        "xmlns": "http://www.w3.org/2000/svg",
        "class": "marks",
        "aria-hidden": "true",  # the list below says what they point at
        "width": "100%",
        "height": "100%",
        "font-family": FACES,
    }
    return Element("svg", root, (*((frame,) if outlines else ()), *discs))


def on_paper(
    media: str, data: str, size: tuple[float, float], marks: Sequence[NumberMark]
) -> Picture:
    """A picture, its bytes in base 64, with its numbers, as large as it is printed, in points."""
    wide, high = size
    image = Element(
        "image",
        {
            "width": point(wide),
            "height": point(high),
            "preserveAspectRatio": "none",
            "href": f"data:{media};base64,{data}",
        },
    )
    drawn: list[Element] = [image]
    for mark in marks:
        if mark.outline:
            drawn += _outline([(x * wide, y * high) for x, y in mark.outline], ON_PAPER)
    for mark in marks:
        drawn += _disc(mark.number, mark.x * wide, mark.y * high, ON_PAPER)
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{point(wide)}pt",
            "height": f"{point(high)}pt",
            "viewBox": f"0 0 {point(wide)} {point(high)}",
            "font-family": FACES,
        },
        tuple(drawn),
    )
    return Picture(root, wide, high)


def _share(part: float) -> str:
    return f"{point(part * 100, 3)}%"


def _outline(corners: Sequence[tuple[float, float]], scale: float) -> Iterator[Element]:
    path = "M" + "L".join(f"{point(x)},{point(y)}" for x, y in corners) + "z"
    for pen, breadth in ((PAPER, 4.0), (ACCENT, 2.0)):
        look = {
            "fill": "none",
            "stroke": pen,
            "stroke-width": point(breadth * scale),
            "stroke-linejoin": "round",
            "vector-effect": "non-scaling-stroke",
        }
        yield Element("path", {"d": path, **look})


def _disc(number: int, x: float, y: float, scale: float) -> Iterator[Element]:
    where = {"cx": point(x), "cy": point(y), "r": point(RADIUS * scale)}
    look = {"fill": ACCENT, "stroke": PAPER, "stroke-width": point(1.6 * scale)}
    yield Element("circle", {**where, **look})
    words = {
        "x": point(x),
        "y": point(y + 0.36 * _LETTERS * scale),
        "text-anchor": "middle",
        "font-size": point(_LETTERS * scale),
        "font-weight": "bold",
        "fill": PAPER,
    }
    yield Element("text", words, (str(number),))
