"""A planned and laid out figure as a picture: classes for what things are, attributes where none
style.

It has no style attribute and no style element, so that it stands under a strict content policy and
follows the page's light.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import groupby
from typing import Final

from specgen.drawings.diagram import Diagram, Ribbon, UseState
from specgen.drawings.layout_engine import Layout, Point
from specgen.drawings.lettering import letter
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
from specgen.drawings.plan import (
    CELL_ROW,
    CHANNELS,
    INSET,
    LEAD_IN,
    LEAD_OUT,
    NAME_SIZE,
    STUB,
    TEXT_SIZE,
    PlacedBox,
    PlacedGroup,
    PlacedText,
    breadth,
)
from specgen.drawings.widths import width
from specgen.messages import say

OUTLINE: Final = 0.7  # of a hollow ribbon, points
THIN: Final = 2.2  # a ribbon narrower than this cannot be hollow; it is dashed
PLUG: Final = 5.0
BAR: Final = 4.0
TIP: Final = 5.0
BARS: Final = "0.9 2.6"
DASHES: Final[Mapping[UseState, str]] = {
    UseState.USED: "",
    UseState.FREE: "1.5 2",
    UseState.UNUSABLE: "5 2.5",
}
"""Of a box: how far it can be used, also without colour."""
BOX_CLASS: Final[Mapping[UseState, str]] = {
    UseState.USED: "",
    UseState.FREE: " box-empty",
    UseState.UNUSABLE: " box-unusable",
}
TEXT_CLASS: Final[Mapping[str, str]] = {
    "name": "label label-name",
    "plain": "label",
    "aside": "label",
    "part": "label label-part",
    "reason": "label label-reason",
}
SCALE: Final = (1, 4, 8, 16)
_n: Final = partial(point, digits=1)
_b: Final = partial(point, digits=3)  # a breadth, which must keep its proportion


def laid_out(
    diagram: Diagram, groups: Sequence[PlacedGroup], layout: Layout, prefix: str, link: PartLink
) -> Picture:
    """The figure where the layout puts it. `prefix` begins every id in it."""
    corners = {group.group.id: _rounded_corner(layout.corners[group.group.id]) for group in groups}
    insets = {
        (anchor.ribbon, side): anchor.inset
        for group in groups
        for side, anchors in (("left", group.left), ("right", group.right))
        for anchor in anchors
    }
    heads = tuple(_heads(diagram, layout, insets))
    ribbons = (*_ribbons(diagram.ribbons, layout, insets), *_stubs(groups, corners), *heads)
    legend, legend_width = ((), 0.0) if diagram.ordered else _legend(diagram, layout.height + 22)
    boxes = {"class": "boxes", "fill": PAPER, "stroke": INK, "stroke-width": "0.8"}
    return framed(
        "topology",
        prefix,
        (diagram.title, diagram.text),
        (max(layout.width + STUB, legend_width), layout.height + (0 if diagram.ordered else 28)),
        (
            Element("g", {"class": "ribbons", "fill": "none"}, ribbons),
            Element("g", boxes, tuple(_shapes(groups, corners))),
            Element("g", {"class": "labels", "fill": INK}, tuple(_texts(groups, corners, link))),
            Element("g", {"class": "legend"}, legend),
        ),
        {"font-size": _n(TEXT_SIZE)},
    )


def _rounded_corner(corner: Point) -> Point:
    return (round(corner[0] + LEAD_IN, 1), round(corner[1], 1))


# --- ribbons ---


def _ribbons(
    ribbons: Iterable[Ribbon], layout: Layout, insets: Mapping[tuple[str, str], float]
) -> Iterator[Element]:
    """What cannot be used lies undermost, what is in use on top."""
    order = {UseState.UNUSABLE: 0, UseState.FREE: 1, UseState.USED: 2}
    for ribbon in sorted(ribbons, key=lambda one: (order[one.use], -one.lanes, one.id)):
        points = layout.paths.get(ribbon.id)
        if points:
            start = insets[(ribbon.id, "right")] + LEAD_OUT
            end = insets[(ribbon.id, "left")] + LEAD_IN
            path = _path(points, start, end)
            halo = _stroke("ribbon-halo", path, PAPER, breadth(ribbon.lanes) + 2.4)
            strokes = _strokes(path, ribbon.lanes, ribbon.used, ribbon.use)
            yield _told(ribbon.words, (halo, *strokes))


def _heads(
    diagram: Diagram, layout: Layout, insets: Mapping[tuple[str, str], float]
) -> Iterator[Element]:
    """Where an order leads: a tip at the end of each of its ribbons."""
    for ribbon in diagram.ribbons if diagram.ordered else ():
        points = layout.paths.get(ribbon.id)
        if points:
            x, y = points[-1][0] + insets[(ribbon.id, "left")] + LEAD_IN, points[-1][1]
            tip = f"L{_n(x)},{_n(y)}L{_n(x - TIP)},{_n(y + TIP / 2)}"
            look = {"d": f"M{_n(x - TIP)},{_n(y - TIP / 2)}{tip}", "stroke": ACCENT}
            yield Element("path", {"class": "ribbon ribbon-used", **look, "stroke-width": "1.2"})


def _told(words: str, strokes: Iterable[Element]) -> Element:
    return Element("g", {}, (Element("title", {}, (words,)), *strokes))


def _path(points: Sequence[Point], start: float, end: float) -> str:
    """A curve through the engine's points, drawn on to boxes that stand inside a frame."""
    (x, y), *rest = points
    curve = " ".join(f"{_n(a)},{_n(b)}" for a, b in rest)
    made = f"M{_n(x - start)},{_n(y)}" + (f"H{_n(x)}" if start else "") + f"C{curve}"
    return made + (f"H{_n(points[-1][0] + end)}" if end else "")


def _strokes(path: str, lanes: int, used: int, use: UseState) -> Iterator[Element]:
    """A ribbon as strokes upon one another: solid, hollow, barred, or hollow with a solid core."""
    wide = breadth(lanes)
    if use is UseState.UNUSABLE:
        yield _stroke("ribbon ribbon-unusable", path, SOFT, wide, BARS)
    elif use is UseState.USED and used >= lanes:
        yield _stroke("ribbon ribbon-used", path, ACCENT, wide)
    else:
        yield _stroke("ribbon ribbon-free", path, INK, wide, "4 2" if wide < THIN else "")
        if wide >= THIN:
            yield _stroke("ribbon-hollow", path, TINT, wide - 2 * OUTLINE)
        if used:
            yield _stroke("ribbon ribbon-used", path, ACCENT, breadth(used))


def _stroke(class_: str, path: str, colour: str, wide: float, dashes: str = "") -> Element:
    look = {"class": class_, "d": path, "stroke": colour, "stroke-width": _b(wide)}
    return Element("path", look | _dashed(dashes))


def _dashed(dashes: str) -> dict[str, str]:
    return {"stroke-dasharray": dashes} if dashes else {}


def _stubs(groups: Sequence[PlacedGroup], corners: Mapping[str, Point]) -> Iterator[Element]:
    """Lanes that nothing is wired to stick out of their port, hollow and cut off."""
    for group in groups:
        left, top = corners[group.group.id]
        for box in group.boxes:
            for at in box.ports:
                if at.outlet.spare:
                    x, y = left + box.x + box.width, top + at.spare
                    path = f"M{_n(x)},{_n(y)}h{_n(STUB)}"
                    words = letter(
                        say(
                            "{port}: {lanes} lanes free",
                            port=at.outlet.name,
                            lanes=at.outlet.spare,
                        )
                    )
                    yield _told(words, _strokes(path, at.outlet.spare, 0, UseState.FREE))


# --- boxes ---


def _shapes(groups: Sequence[PlacedGroup], corners: Mapping[str, Point]) -> Iterator[Element]:
    for group in groups:
        left, top = corners[group.group.id]
        if group.framed:
            frame = (left, top, group.width, group.height)
            yield _rect("box box-riser", frame, {"stroke-width": "1.2"})
        for number, box in enumerate(group.boxes):
            yield from _box(box, left, top, outlined=not (group.framed and number == 0))
        if group.group.flanked and len(group.boxes) > 1:
            yield from _channels(group.boxes[0], group.boxes[1:], left, top)


def _box(box: PlacedBox, left: float, top: float, outlined: bool) -> Iterator[Element]:
    """Outline, bars along the left side where it is unusable, memory cells, plugs."""
    x, y = left + box.x, top + box.y
    use = box.box.use
    if outlined:
        strong = box.box.kind == "processor" and use is UseState.USED
        weight = {"stroke-width": "1.6"} if strong else {}
        class_ = f"box box-{box.box.kind}{BOX_CLASS[use]}"
        yield _rect(class_, (x, y, box.width, box.height), weight | _dashed(DASHES[use]))
    if use is UseState.UNUSABLE:
        path = f"M{_n(x + BAR / 2 + 1.5)},{_n(y + 2)}v{_n(box.height - 4)}"
        yield _stroke("ribbon ribbon-unusable", path, SOFT, BAR, BARS)
    for at in box.cells:
        where = (left + at.x + 1, top + at.y + 0.75, at.width - 2, CELL_ROW - 1.5)
        class_ = f"box box-memory{BOX_CLASS[at.cell.use]}"
        cell = _rect(class_, where, _dashed(DASHES[at.cell.use]))
        yield hinted(cell, f"{at.cell.place}: {at.cell.text}")
    for plug in box.ports:
        if plug.outlet.plug:
            where = (x + box.width - PLUG / 2, top + plug.y - PLUG / 2, PLUG, PLUG)
            yield _rect("box box-port", where)


def _rect(
    class_: str, where: tuple[float, float, float, float], more: Mapping[str, str] | None = None
) -> Element:
    sides = zip(("x", "y", "width", "height"), map(_n, where), strict=True)
    return Element("rect", {"class": class_, **dict(sides), **(more or {})})


def _channels(
    processor: PlacedBox, banks: Sequence[PlacedBox], left: float, top: float
) -> Iterator[Element]:
    """A short line for each memory channel, from its modules to the processor."""
    for bank in banks:
        for y in dict.fromkeys(at.y for at in bank.cells):
            x = left + bank.x + bank.width
            right = left + processor.x
            middle = top + y + CELL_ROW / 2
            path = f"M{_n(x - INSET)},{_n(middle)}H{_n(right)}"
            yield Element("path", {"class": "channel", "d": path})
        if not bank.cells:
            x, middle = left + bank.x + bank.width, top + bank.y + bank.height / 2
            path = f"M{_n(x)},{_n(middle)}h{_n(CHANNELS)}"
            yield _stroke("ribbon ribbon-unusable", path, SOFT, BAR, BARS)


# --- words ---


def _texts(
    groups: Sequence[PlacedGroup], corners: Mapping[str, Point], link: PartLink
) -> Iterator[Element]:
    for group in groups:
        left, top = corners[group.group.id]
        for box in group.boxes:
            soft = box.box.use is UseState.UNUSABLE
            yield from _lines(box.words, left, top, link, soft)
            for at in box.cells:
                words = f"{at.cell.label}\u2002{at.cell.text}"
                where = (left + at.x + 5, top + at.y + 10.2)
                yield _small(words, where, soft=at.cell.use is not UseState.USED)


def _small(words: str, where: Point, soft: bool = True) -> Element:
    class_, fill = ("label label-small", {"fill": SOFT}) if soft else ("label", {})
    look = {"class": class_, "x": _n(where[0]), "y": _n(where[1]), **fill}
    return Element("text", {**look, **held(words, TEXT_SIZE)}, (words,))


def _lines(
    lines: Sequence[PlacedText], left: float, top: float, link: PartLink, soft: bool
) -> Iterator[Element]:
    """Lines of text; those that name one part lie in one link."""
    for href, some in groupby(lines, lambda line: (line.part and link(line.part)) or ""):
        texts = tuple(_text(line, left, top, soft) for line in some)
        if href:
            yield Element("a", {"href": href}, texts)
        else:
            yield from texts


def _text(line: PlacedText, left: float, top: float, soft: bool) -> Element:
    bold = line.weight == "name"
    look = {"class": TEXT_CLASS[line.weight], "x": _n(left + line.x), "y": _n(top + line.y)}
    if bold:
        look |= {"font-size": _n(NAME_SIZE), "font-weight": "bold"}
    elif line.weight == "reason":
        look |= {"font-style": "italic"}
    if soft and line.weight != "reason":
        look["class"] += " label-small"
        look["fill"] = SOFT
    if line.end:
        look["text-anchor"] = "end"
    size = NAME_SIZE if bold else TEXT_SIZE
    return Element("text", {**look, **held(line.text, size, bold)}, (line.text,))


# --- legend ---


def _legend(diagram: Diagram, y: float) -> tuple[tuple[Element, ...], float]:
    """What the ribbons mean, and their scale; only the states that occur."""
    present = {ribbon.use for ribbon in diagram.ribbons}
    spare = any(outlet.spare for box in diagram.boxes() for outlet in box.ports)
    partly = any(0 < ribbon.used < ribbon.lanes for ribbon in diagram.ribbons)
    made: list[Element] = []
    x = 0.0

    def entry(lanes: int, used: int, use: UseState, words: str, gap: float) -> None:
        nonlocal x
        made.extend(_strokes(f"M{_n(x)},{_n(y)}h20", lanes, used, use))
        made.append(_small(words, (x + 24, y + 3.2)))
        x += 24 + width(words, TEXT_SIZE) + gap

    for shown, used, use, words in (
        (UseState.USED in present, 8, UseState.USED, say("in use")),
        (partly, 4, UseState.USED, say("partly in use")),
        (UseState.FREE in present or spare, 0, UseState.FREE, say("free")),
        (UseState.UNUSABLE in present, 0, UseState.UNUSABLE, say("unusable")),
    ):
        if shown:
            entry(8, used, use, letter(words), 14)
    if made:
        x += 10
        for lanes in SCALE:
            scale = f"x{lanes}" if lanes > 1 else letter(say("one lane"))
            entry(lanes, lanes, UseState.USED, scale, 10)
    return (Element("g", {"fill": "none"}, tuple(made)),) if made else (), x
