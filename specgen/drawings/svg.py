"""A planned and laid out figure as SVG: classes for what things are, attributes where none style.

The inline form has no style attribute and no style element, so that it stands under a strict
content policy and follows the page's light. `standalone` adds a style sheet for a file.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Final

from specgen.drawings.diagram import Diagram, Ribbon, UseState
from specgen.drawings.layout_engine import Layout, Point
from specgen.drawings.lettering import letter
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
from specgen.drawings.widths import held, width
from specgen.messages import say

PartLink = Callable[[str], str | None]

PAPER: Final = "#fcfbf7"
INK: Final = "#211e19"
SOFT: Final = "#635c50"
ACCENT: Final = "#7a4514"
TINT: Final = "#f0e2cf"
MARGIN: Final = 6.0
OUTLINE: Final = 0.7  # of a hollow ribbon, points
THIN: Final = 2.2  # a ribbon narrower than this cannot be hollow; it is dashed
PLUG: Final = 5.0
BAR: Final = 4.0

# Dashes that say how far something can be used, also without colour.
BOX_DASHES: Final[Mapping[UseState, str]] = {
    UseState.USED: "",
    UseState.FREE: ' stroke-dasharray="1.5 2"',
    UseState.UNUSABLE: ' stroke-dasharray="5 2.5"',
}
BARS: Final = "0.9 2.6"
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
_ILLEGAL: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def escape(text: str) -> str:
    """Text for the inside of an element or of an attribute, whatever it holds."""
    text = _ILLEGAL.sub("\ufffd", text).replace("&", "&amp;").replace("<", "&lt;")
    return text.replace(">", "&gt;").replace('"', "&quot;")


def render(
    diagram: Diagram, groups: Sequence[PlacedGroup], layout: Layout, prefix: str, link: PartLink
) -> str:
    """The inline form: one `<svg>` element. `prefix` begins every id in it."""
    corners = {group.group.id: _rounded_corner(layout.corners[group.group.id]) for group in groups}
    insets = {
        (anchor.ribbon, side): anchor.inset
        for group in groups
        for side, anchors in (("left", group.left), ("right", group.right))
        for anchor in anchors
    }
    ribbons = "".join(_ribbons(diagram.ribbons, layout, insets))
    stubs = "".join(_stubs(groups, corners))
    shapes = "".join(_shapes(groups, corners))
    texts = "".join(_texts(groups, corners, link))
    legend, legend_width = _legend(diagram, layout.height + 22)
    wide = max(layout.width + STUB, legend_width) + 2 * MARGIN
    high = layout.height + 28 + 2 * MARGIN
    role = "group" if "<a " in texts else "img"  # what is inside an image cannot be reached
    id_ = escape(prefix)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="topology" role="{role}" '
        f'aria-labelledby="{id_}-title" aria-describedby="{id_}-desc" '
        f'width="{_n(wide)}pt" height="{_n(high)}pt" '
        f'viewBox="{_n(-MARGIN)} {_n(-MARGIN)} {_n(wide)} {_n(high)}" '
        f'font-family="Arimo, Liberation Sans, Arial, Helvetica, sans-serif" '
        f'font-size="{_n(TEXT_SIZE)}">\n'
        f'<title id="{id_}-title">{escape(diagram.title)}</title>\n'
        f'<desc id="{id_}-desc">{escape(chr(10).join(diagram.text))}</desc>\n'
        f'<g class="ribbons" fill="none">\n{ribbons}{stubs}</g>\n'
        f'<g class="boxes" fill="{PAPER}" stroke="{INK}" stroke-width="0.8">\n{shapes}</g>\n'
        f'<g class="labels" fill="{INK}">\n{texts}</g>\n'
        f'<g class="legend">\n{legend}</g>\n'
        "</svg>\n"
    )


def _n(number: float) -> str:
    """A coordinate to a tenth of a point, as short as can be."""
    text = f"{number:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def _b(number: float) -> str:
    """A breadth, which must keep its proportion."""
    return f"{number:.3f}".rstrip("0").rstrip(".")


def _rounded_corner(corner: Point) -> Point:
    return (round(corner[0] + LEAD_IN, 1), round(corner[1], 1))


# --- ribbons ---


def _ribbons(
    ribbons: Iterable[Ribbon], layout: Layout, insets: Mapping[tuple[str, str], float]
) -> Iterable[str]:
    """What cannot be used lies undermost, what is in use on top."""
    order = {UseState.UNUSABLE: 0, UseState.FREE: 1, UseState.USED: 2}
    for ribbon in sorted(ribbons, key=lambda one: (order[one.use], -one.lanes, one.id)):
        points = layout.paths.get(ribbon.id)
        if points:
            start = insets[(ribbon.id, "right")] + LEAD_OUT
            end = insets[(ribbon.id, "left")] + LEAD_IN
            path = _path(points, start, end)
            body = _strokes(path, ribbon.lanes, ribbon.used, ribbon.use, halo=True)
            yield f"<g><title>{escape(ribbon.words)}</title>{body}</g>\n"


def _path(points: Sequence[Point], start: float, end: float) -> str:
    """A curve through the engine's points, drawn on to boxes that stand inside a frame."""
    (x, y), *rest = points
    curve = " ".join(f"{_n(a)},{_n(b)}" for a, b in rest)
    made = f"M{_n(x - start)},{_n(y)}" + (f"H{_n(x)}" if start else "") + f"C{curve}"
    return made + (f"H{_n(points[-1][0] + end)}" if end else "")


def _strokes(path: str, lanes: int, used: int, use: UseState, halo: bool = False) -> str:
    """A ribbon as strokes upon one another: solid, hollow, barred, or hollow with a solid core."""
    wide = breadth(lanes)
    made = ""
    if halo:
        made += _stroke("ribbon-halo", path, PAPER, wide + 2.4)
    if use is UseState.UNUSABLE:
        return made + _stroke("ribbon ribbon-unusable", path, SOFT, wide, BARS)
    if use is UseState.USED and used >= lanes:
        return made + _stroke("ribbon ribbon-used", path, ACCENT, wide)
    if wide < THIN:
        made += _stroke("ribbon ribbon-free", path, INK, wide, "4 2")
    else:
        made += _stroke("ribbon ribbon-free", path, INK, wide)
        made += _stroke("ribbon-hollow", path, TINT, wide - 2 * OUTLINE)
    if used:
        made += _stroke("ribbon ribbon-used", path, ACCENT, breadth(used))
    return made


def _stroke(class_: str, path: str, colour: str, wide: float, dashes: str = "") -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path class="{class_}" d="{path}" stroke="{colour}" stroke-width="{_b(wide)}"{dashed}/>'
    )


def _stubs(groups: Sequence[PlacedGroup], corners: Mapping[str, Point]) -> Iterable[str]:
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
                    body = _strokes(path, at.outlet.spare, 0, UseState.FREE)
                    yield f"<g><title>{escape(words)}</title>{body}</g>\n"


# --- boxes ---


def _shapes(groups: Sequence[PlacedGroup], corners: Mapping[str, Point]) -> Iterable[str]:
    for group in groups:
        left, top = corners[group.group.id]
        if group.framed:
            frame = (left, top, group.width, group.height)
            yield _rect("box box-riser", frame, ' stroke-width="1.2"')
        for number, box in enumerate(group.boxes):
            yield from _box(box, left, top, outlined=not (group.framed and number == 0))
        if group.group.flanked and len(group.boxes) > 1:
            yield from _channels(group.boxes[0], group.boxes[1:], left, top)


def _box(box: PlacedBox, left: float, top: float, outlined: bool) -> Iterable[str]:
    """Outline, bars along the left side where it is unusable, memory cells, plugs."""
    x, y = left + box.x, top + box.y
    use = box.box.use
    if outlined:
        strong = box.box.kind == "processor" and use is UseState.USED
        weight = ' stroke-width="1.6"' if strong else ""
        class_ = f"box box-{box.box.kind}{BOX_CLASS[use]}"
        yield _rect(class_, (x, y, box.width, box.height), weight + BOX_DASHES[use])
    if use is UseState.UNUSABLE:
        path = f"M{_n(x + BAR / 2 + 1.5)},{_n(y + 2)}v{_n(box.height - 4)}"
        yield _stroke("ribbon ribbon-unusable", path, SOFT, BAR, BARS) + "\n"
    for at in box.cells:
        where = (left + at.x + 1, top + at.y + 0.75, at.width - 2, CELL_ROW - 1.5)
        words = f"<title>{escape(f'{at.cell.place}: {at.cell.text}')}</title>"
        class_ = f"box box-memory{BOX_CLASS[at.cell.use]}"
        yield _rect(class_, where, BOX_DASHES[at.cell.use], words)
    for plug in box.ports:
        if plug.outlet.plug:
            where = (x + box.width - PLUG / 2, top + plug.y - PLUG / 2, PLUG, PLUG)
            yield _rect("box box-port", where)


def _rect(
    class_: str, where: tuple[float, float, float, float], more: str = "", inner: str = ""
) -> str:
    x, y, wide, high = map(_n, where)
    rect = f'<rect class="{class_}" x="{x}" y="{y}" width="{wide}" height="{high}"{more}'
    return f"{rect}>{inner}</rect>\n" if inner else f"{rect}/>\n"


def _channels(
    processor: PlacedBox, banks: Sequence[PlacedBox], left: float, top: float
) -> Iterable[str]:
    """A short line for each memory channel, from its modules to the processor."""
    for bank in banks:
        for y in dict.fromkeys(at.y for at in bank.cells):
            x = left + bank.x + bank.width
            right = left + processor.x
            middle = top + y + CELL_ROW / 2
            path = f"M{_n(x - INSET)},{_n(middle)}H{_n(right)}"
            yield f'<path class="channel" d="{path}"/>\n'
        if not bank.cells:
            x, middle = left + bank.x + bank.width, top + bank.y + bank.height / 2
            path = f"M{_n(x)},{_n(middle)}h{_n(CHANNELS)}"
            yield _stroke("ribbon ribbon-unusable", path, SOFT, BAR, BARS) + "\n"


# --- words ---


def _texts(
    groups: Sequence[PlacedGroup], corners: Mapping[str, Point], link: PartLink
) -> Iterable[str]:
    for group in groups:
        left, top = corners[group.group.id]
        for box in group.boxes:
            soft = box.box.use is UseState.UNUSABLE
            yield from _lines(box.words, left, top, link, soft)
            for at in box.cells:
                x, y = _n(left + at.x + 5), _n(top + at.y + 10.2)
                class_ = "label" if at.cell.use is UseState.USED else "label label-small"
                fill = "" if at.cell.use is UseState.USED else f' fill="{SOFT}"'
                words = f"{at.cell.label}\u2002{at.cell.text}"
                fill += held(words, TEXT_SIZE)
                yield f'<text class="{class_}" x="{x}" y="{y}"{fill}>{escape(words)}</text>\n'


def _lines(
    lines: Sequence[PlacedText], left: float, top: float, link: PartLink, soft: bool
) -> Iterable[str]:
    """Lines of text; those that name one part lie in one link."""
    open_part = ""
    for line in lines:
        href = link(line.part) if line.part else None
        part = line.part if href else ""
        if part != open_part:
            if open_part:
                yield "</a>\n"
            if href:
                yield f'<a href="{escape(href)}">'
            open_part = part
        yield _text(line, left, top, soft) + ("" if part else "\n")
    if open_part:
        yield "</a>\n"


def _text(line: PlacedText, left: float, top: float, soft: bool) -> str:
    x, y = _n(left + line.x), _n(top + line.y)
    class_ = TEXT_CLASS[line.weight]
    more = ""
    if line.weight == "name":
        more = f' font-size="{_n(NAME_SIZE)}" font-weight="bold"'
    elif line.weight == "reason":
        more = ' font-style="italic"'
    if soft and line.weight != "reason":
        class_ += " label-small"
        more += f' fill="{SOFT}"'
    if line.end:
        more += ' text-anchor="end"'
    bold = line.weight == "name"
    more += held(line.text, NAME_SIZE if bold else TEXT_SIZE, bold)
    return f'<text class="{class_}" x="{x}" y="{y}"{more}>{escape(line.text)}</text>'


# --- legend ---


def _legend(diagram: Diagram, y: float) -> tuple[str, float]:
    """What the ribbons mean, and their scale; only the states that occur."""
    present = {ribbon.use for ribbon in diagram.ribbons}
    spare = any(outlet.spare for box in diagram.boxes() for outlet in box.ports)
    partly = any(0 < ribbon.used < ribbon.lanes for ribbon in diagram.ribbons)
    made = []
    x = 0.0

    def entry(lanes: int, used: int, use: UseState, words: str, gap: float) -> None:
        nonlocal x
        path = f"M{_n(x)},{_n(y)}h20"
        made.append(_strokes(path, lanes, used, use))
        made.append(
            f'<text class="label label-small" x="{_n(x + 24)}" y="{_n(y + 3.2)}" fill="{SOFT}"'
            f"{held(words, TEXT_SIZE)}>{words}</text>\n"
        )
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
            entry(
                lanes,
                lanes,
                UseState.USED,
                f"x{lanes}" if lanes > 1 else letter(say("one lane")),
                10,
            )
    return f'<g fill="none">{"".join(made)}</g>\n' if made else "", x
