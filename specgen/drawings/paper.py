"""A sheet as a picture: classes for what things are, attributes so that it needs no style sheet.

Empty is dotted, unusable is hatched, fitted is tinted, so that a print in black and white says
the same. Hatches are drawn line by line: no pattern to be named, none for a renderer to miss.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from specgen.drawings.picture import (
    ACCENT,
    INK,
    PAPER,
    SOFT,
    TINT,
    Element,
    PartLink,
    Picture,
    framed,
    held,
    hinted,
    point,
)
from specgen.drawings.shapes import Bezier, Rect, Ring, Shape, Sheet, Stroke, TextShape
from specgen.drawings.widths import LETTERS
from specgen.frozen import frozen

RAISED: Final = "#f5f1e8"
HATCH: Final = 4.5  # between the lines of a hatch, points


@frozen
class Pen:
    """How a shape looks: class, fill, line, breadth of the line, dashes, whether it is hatched."""

    class_: str
    fill: str = "none"
    stroke: str = "none"
    breadth: float = 0.8
    dashes: str = ""
    hatch: bool = False


@frozen
class Hand:
    """How a line of text looks: class, size in points, colour, weight and slant."""

    class_: str
    size: float
    fill: str = INK
    bold: bool = False
    slanted: bool = False


PENS: Final[Mapping[str, Pen]] = {
    "case": Pen("case", PAPER, INK, 1.4),
    "plate": Pen("plate", PAPER, "none"),
    "inner": Pen("case-inner", "none", SOFT, 0.6),
    "hole": Pen("case-hole", "none", SOFT, 0.6),
    "used": Pen("fit fit-used", TINT, INK),
    "free": Pen("fit fit-empty", PAPER, INK, 0.7, "1.5 2"),
    "unusable": Pen("fit fit-unusable", PAPER, SOFT, 0.7, "5 2.5", hatch=True),
    "over": Pen("over", "none", INK, 1.1, "9 2.5"),
    "built-in": Pen("fit fit-built-in", RAISED, INK),
    "detail": Pen("fit fit-detail", PAPER, INK, 0.6),
    "ring": Pen("mark", "none", INK, 0.6),
    "hatch": Pen("hatch", "none", SOFT, 0.5),
    "halo": Pen("ribbon-halo", "none", PAPER, 2.6),
    "leader": Pen("leader", "none", INK, 0.7),
    "dot": Pen("leader-dot", INK, "none"),
    "flag": Pen("flag", ACCENT, "none"),
    "axis": Pen("axis", "none", INK, 0.8),
    "grid": Pen("axis-grid", "none", SOFT, 0.4, "1 2.5"),
    "scale": Pen("axis", "none", INK, 1.2),
    "bar": Pen("bar", ACCENT, "none"),
    "curve": Pen("chart-line", "none", INK, 1.1),
    "limit": Pen("limit", "none", INK, 1.2, "4 2"),
    "ribbon-used": Pen("ribbon ribbon-used", "none", ACCENT),
    "ribbon-free": Pen("ribbon ribbon-free", "none", INK),
    "ribbon-hollow": Pen("ribbon-hollow", "none", TINT),
    "ribbon-unusable": Pen("ribbon ribbon-unusable", "none", SOFT, dashes="0.9 2.6"),
}
HANDS: Final[Mapping[str, Hand]] = {
    "label": Hand("label", LETTERS),
    "small": Hand("label label-small", LETTERS, SOFT),
    "mark": Hand("label label-small label-mark", LETTERS, SOFT),  # of a scale: no value of a thing
    "name": Hand("label label-name", LETTERS, bold=True),
    "head": Hand("label label-name", 10, bold=True),
    "reason": Hand("label label-reason", LETTERS, SOFT, slanted=True),
    "flag": Hand("label label-flag", LETTERS, PAPER, bold=True),
}


def paper(sheet: Sheet, prefix: str, link: PartLink) -> Picture | None:
    """The sheet drawn; nothing for one without shapes. `prefix` begins every id in it."""
    if not sheet.shapes:
        return None
    drawn = _drawn(sheet.shapes, link)
    return framed(
        "to-scale", prefix, (sheet.title, sheet.text), (sheet.width, sheet.height), drawn, {}
    )


def _drawn(shapes: Iterable[Shape], link: PartLink) -> Iterator[Element]:
    for shape in shapes:
        match shape:
            case Rect():
                yield _rect(shape)
                if PENS[shape.pen].hatch:
                    yield from _hatch(shape)
            case Stroke():
                path = "L".join(f"{point(x)},{point(y)}" for x, y in shape.points)
                yield _path(f"M{path}{'z' if shape.closed else ''}", shape.pen, shape)
            case Bezier():
                yield _path(_bent(shape), shape.pen, shape)
            case Ring():
                where = {"cx": point(shape.x), "cy": point(shape.y), "r": point(shape.radius)}
                yield Element("circle", {**where, **_look(PENS[shape.pen])})
            case TextShape():
                yield _words(shape, link)


def _look(pen: Pen, breadth: float = 0) -> dict[str, str]:
    made = {"class": pen.class_, "fill": pen.fill}
    if pen.stroke != "none":
        made |= {"stroke": pen.stroke, "stroke-width": point(breadth or pen.breadth)}
    return made | ({"stroke-dasharray": pen.dashes} if pen.dashes else {})


def _rect(shape: Rect) -> Element:
    where = {
        "x": point(shape.x),
        "y": point(shape.y),
        "width": point(shape.width),
        "height": point(shape.height),
    }
    rounded = {"rx": point(shape.round)} if shape.round else {}
    return hinted(Element("rect", {**where, **rounded, **_look(PENS[shape.pen])}), shape.hint)


def _path(path: str, pen: str, shape: Stroke | Bezier) -> Element:
    return hinted(Element("path", {"d": path, **_look(PENS[pen], shape.breadth)}), shape.hint)


def _bent(curve: Bezier) -> str:
    (x, y), (to_x, to_y) = curve.start, curve.end
    middle, start, end = point((x + to_x) / 2), point(y), point(to_y)
    return f"M{point(x)},{start}C{middle},{start} {middle},{end} {point(to_x)},{end}"


def _hatch(rect: Rect) -> Iterator[Element]:
    """Lines from the lower left to the upper right, cut off at the sides."""
    left, top, right, low = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    pieces = []
    first = int((left + top) // HATCH) + 1
    for number in range(first, int((right + low) // HATCH) + 1):
        total = number * HATCH  # x + y along the line
        start = max(left, total - low)
        end = min(right, total - top)
        if end - start > 0.05:
            from_, to = (f"{point(x)},{point(total - x)}" for x in (start, end))
            pieces.append(f"M{from_}L{to}")
    if pieces:
        yield Element("path", {"d": "".join(pieces), **_look(PENS["hatch"])})


def _words(shape: TextShape, link: PartLink) -> Element:
    if shape.continued:
        runs = [Element("tspan", _written(each), (each.text,)) for each in shape.continued]
        apart = (each for run in runs for each in (" ", run))
        text = Element("text", {}, (Element("tspan", _written(shape), (shape.text,)), *apart))
    else:
        text = Element("text", _written(shape), (shape.text,))
    href = link(shape.part) if shape.part else None
    return Element("a", {"href": href}, (text,)) if href else text


def _written(shape: TextShape) -> dict[str, str]:
    hand = HANDS[shape.pen]
    made = {"class": hand.class_, "x": point(shape.x), "y": point(shape.y)}
    made["font-size"] = point(hand.size)
    made |= {"fill": hand.fill} if hand.fill != INK else {}
    made |= {"font-weight": "bold"} if hand.bold else {}
    made |= {"font-style": "italic"} if hand.slanted else {}
    made |= {"text-anchor": shape.anchor} if shape.anchor != "start" else {}
    return made | held(shape.text, hand.size, hand.bold)
