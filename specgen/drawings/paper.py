"""A sheet as SVG: classes for what things are, attributes so that it reads without a style sheet.

Empty is dotted, unusable is hatched, fitted is tinted, so that a print in black and white says
the same. Hatches are drawn line by line: no pattern to be named, none for a renderer to miss.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from specgen.drawings.shapes import Bezier, Rect, Ring, Shape, Sheet, Stroke, TextShape
from specgen.drawings.svg import ACCENT, INK, PAPER, SOFT, TINT, PartLink, escape
from specgen.drawings.widths import LETTERS, held
from specgen.frozen import frozen

RAISED: Final = "#f5f1e8"
HATCH: Final = 4.5  # between the lines of a hatch, points
MARGIN: Final = 6.0


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


def paper(sheet: Sheet, prefix: str, link: PartLink) -> str:
    """One inline `<svg>`; empty for a sheet without shapes. `prefix` begins every id in it."""
    if not sheet.shapes:
        return ""
    inner = "\n".join(_lines(sheet.shapes, link))
    role = "group" if "<a " in inner else "img"  # what is inside an image cannot be reached
    id_ = escape(prefix)
    wide, high = sheet.width + 2 * MARGIN, sheet.height + 2 * MARGIN
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="to-scale" role="{role}" '
        f'aria-labelledby="{id_}-title" aria-describedby="{id_}-desc" '
        f'width="{_n(wide)}pt" height="{_n(high)}pt" '
        f'viewBox="{_n(-MARGIN)} {_n(-MARGIN)} {_n(wide)} {_n(high)}" '
        'font-family="Arimo, Liberation Sans, Arial, Helvetica, sans-serif">\n'
        f'<title id="{id_}-title">{escape(sheet.title)}</title>\n'
        f'<desc id="{id_}-desc">{escape(chr(10).join(sheet.text))}</desc>\n'
        f"{inner}\n</svg>\n"
    )


def _lines(shapes: Iterable[Shape], link: PartLink) -> Iterable[str]:
    for shape in shapes:
        match shape:
            case Rect():
                yield _rect(shape)
                if PENS[shape.pen].hatch:
                    yield from _hatch(shape)
            case Stroke():
                path = "L".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)
                yield _path(f"M{path}{'z' if shape.closed else ''}", shape.pen, shape)
            case Bezier():
                yield _path(_bent(shape), shape.pen, shape)
            case Ring():
                where = f'cx="{_n(shape.x)}" cy="{_n(shape.y)}" r="{_n(shape.radius)}"'
                yield f"<circle {where} {_look(PENS[shape.pen])}/>"
            case TextShape():
                yield _words(shape, link)


def _look(pen: Pen, breadth: float = 0) -> str:
    made = f'class="{pen.class_}" fill="{pen.fill}"'
    if pen.stroke != "none":
        made += f' stroke="{pen.stroke}" stroke-width="{_n(breadth or pen.breadth)}"'
    return made + (f' stroke-dasharray="{pen.dashes}"' if pen.dashes else "")


def _rect(shape: Rect) -> str:
    where = (
        f'x="{_n(shape.x)}" y="{_n(shape.y)}" width="{_n(shape.width)}" height="{_n(shape.height)}"'
    )
    rounded = f' rx="{_n(shape.round)}"' if shape.round else ""
    made = f"<rect {where}{rounded} {_look(PENS[shape.pen])}"
    return f"{made}><title>{escape(shape.hint)}</title></rect>" if shape.hint else f"{made}/>"


def _path(path: str, pen: str, shape: Stroke | Bezier) -> str:
    made = f'<path d="{path}" {_look(PENS[pen], shape.breadth)}'
    return f"{made}><title>{escape(shape.hint)}</title></path>" if shape.hint else f"{made}/>"


def _bent(curve: Bezier) -> str:
    (x, y), (to_x, to_y) = curve.start, curve.end
    middle = _n((x + to_x) / 2)
    return f"M{_n(x)},{_n(y)}C{middle},{_n(y)} {middle},{_n(to_y)} {_n(to_x)},{_n(to_y)}"


def _hatch(rect: Rect) -> Iterable[str]:
    """Lines from the lower left to the upper right, cut off at the sides."""
    left, top, right, low = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    pieces = []
    first = int((left + top) // HATCH) + 1
    for number in range(first, int((right + low) // HATCH) + 1):
        total = number * HATCH  # x + y along the line
        start = max(left, total - low)
        end = min(right, total - top)
        if end - start > 0.05:
            pieces.append(f"M{_n(start)},{_n(total - start)}L{_n(end)},{_n(total - end)}")
    if pieces:
        yield f'<path d="{"".join(pieces)}" {_look(PENS["hatch"])}/>'


def _words(shape: TextShape, link: PartLink) -> str:
    if shape.continued:
        runs = (shape, *shape.continued)
        lines = (f"<tspan {_written(each)}>{escape(each.text)}</tspan>" for each in runs)
        text = f"<text>{' '.join(lines)}</text>"
    else:
        text = f"<text {_written(shape)}>{escape(shape.text)}</text>"
    href = link(shape.part) if shape.part else None
    return f'<a href="{escape(href)}">{text}</a>' if href else text


def _written(shape: TextShape) -> str:
    hand = HANDS[shape.pen]
    made = f'class="{hand.class_}" x="{_n(shape.x)}" y="{_n(shape.y)}" font-size="{_n(hand.size)}"'
    made += f' fill="{hand.fill}"' if hand.fill != INK else ""
    made += ' font-weight="bold"' if hand.bold else ""
    made += ' font-style="italic"' if hand.slanted else ""
    made += f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
    return made + held(shape.text, hand.size, hand.bold)


def _n(number: float) -> str:
    """A coordinate to a twentieth of a point or better, as short as can be."""
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
