"""A side of a system to scale: its outline, faces, flags, and the list that names them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from specgen.assembly import Place
from specgen.drawings.diagram import UseState
from specgen.drawings.flags import FLAG, RISE, listed, poles, scale_bar
from specgen.drawings.items import Item, LegendEntry, labels_of, lies_over
from specgen.drawings.shapes import Callout, Rect, Ring, Shape, Sheet, Stroke, TextShape
from specgen.drawings.sizes import INLETS, PORT_GAP, port_sizes
from specgen.drawings.widths import LETTERS, width
from specgen.fitness.frames import Frame
from specgen.frozen import frozen
from specgen.model import HasEthernet, PowerSupply

APART: Final = 6.0  # between leaders, points
BELOW_BAR: Final = 3.0  # points under the bar that gives the scale
UNDER: Final[dict[UseState, int]] = {UseState.UNUSABLE: 0, UseState.FREE: 1, UseState.USED: 2}
PEN: Final[dict[UseState, str]] = {
    UseState.USED: "used",
    UseState.FREE: "free",
    UseState.UNUSABLE: "unusable",
}


@frozen
class View:
    """What a picture of a side is made from; `back` are shapes under the faces, in points."""

    title: str
    width: float
    height: float
    scale: float
    back: tuple[Shape, ...]
    entries: tuple[LegendEntry, ...]
    lead: tuple[str, ...]
    notes: tuple[str, ...] = ()
    numbering: tuple[str, ...] = ()
    """How the numbers run, for whoever reads the drawing."""
    rings: bool = False


@frozen
class _FlagMark:
    """Where a leader ends, on which side its flag stands, and what it is for."""

    x: float
    y: float
    up: bool
    entry: LegendEntry


def _callout(number: int, entry: LegendEntry) -> Callout:
    places = tuple(item.place.name for item in entry.items if item.place is not None)
    return Callout(
        number, entry.position, entry.what, entry.use, entry.part, entry.count, entry.alone, places
    )


def drawn_panel(view: View) -> Sheet:
    """The whole sheet, numbered from left to right, the flags above before those below."""
    marks = list(_marks(view))
    ordered = sorted(marks, key=lambda mark: (not mark.up, mark.x))
    callouts = tuple(_callout(number, mark.entry) for number, mark in enumerate(ordered, start=1))
    wide, high = view.width * view.scale, view.height * view.scale
    flags: list[Shape] = []
    left, right = 0.0, wide
    for up, edge in ((True, 0.0), (False, high)):
        mine = [(at, mark) for at, mark in enumerate(ordered, start=1) if mark.up is up]
        ends = [(mark.x, mark.y) for _at, mark in mine]
        made, low, far = poles(ends, edge, [at for at, _mark in mine], wide, up)
        flags += made
        left, right = min(left, low), max(right, far)
    above = RISE + FLAG[1] if any(mark.up for mark in marks) else 0
    below = RISE + FLAG[1] if not all(mark.up for mark in marks) else 0
    system = [*view.back, *_faces(view)]
    bar = high + below + 12
    body = [*system, *flags, *scale_bar(0, bar, view.scale)]
    span = max(right - left, 380.0)
    names, end = listed(callouts, bar + 14, span, view.notes)
    numbered = tuple(moved(shape, -left, above) for shape in body)
    shapes = (*numbered, *(moved(shape, 0, above) for shape in names))
    words = (callout.words for callout in callouts)
    text = (*view.lead, *view.numbering, *words, *view.notes)
    whole = Sheet(view.title, text, span, above + end, shapes, callouts)
    unlisted = replace(whole, shapes=numbered, height=above + bar + BELOW_BAR)
    return replace(whole, bare=_bare(view, system, callouts), unlisted=unlisted)


def _bare(view: View, system: Sequence[Shape], callouts: Sequence[Callout]) -> Sheet:
    """The system itself, for pictures that show no numbers."""
    text = (*view.lead, *(callout.unnumbered for callout in callouts), *view.notes)
    kept = [shape for shape in system if not isinstance(shape, TextShape)]
    boxes = [shape for shape in kept if isinstance(shape, Rect)]
    left, top = min(box.x for box in boxes), min(box.y for box in boxes)
    right = max(box.x + box.width for box in boxes)
    low = max(box.y + box.height for box in boxes)
    shapes = tuple(moved(shape, -left, -top) for shape in kept)
    return Sheet(view.title, text, right - left, low - top, shapes)


def moved(shape: Shape, x: float, y: float) -> Shape:
    """The same shape elsewhere."""
    match shape:
        case Rect(a, b, wide, high, pen, hint, rounded):
            return Rect(a + x, b + y, wide, high, pen, hint, rounded)
        case Stroke(points, pen, closed, hint, breadth):
            return Stroke(tuple((a + x, b + y) for a, b in points), pen, closed, hint, breadth)
        case Ring(a, b, radius, pen):
            return Ring(a + x, b + y, radius, pen)
        case TextShape():
            return _moved_text(shape, x, y)
    return shape


def _moved_text(text: TextShape, x: float, y: float) -> TextShape:
    beside = tuple(_moved_text(each, x, y) for each in text.continued)
    return replace(text, x=text.x + x, y=text.y + y, continued=beside)


# --- faces ---


def _faces(view: View) -> Iterator[Shape]:
    """Faces, what cannot be used undermost, large ones under small ones; then their names."""
    items = [(entry, item) for entry in view.entries for item in entry.items]
    order = sorted(items, key=lambda pair: _depth(pair[1]))
    for entry, item in order:
        if item.frame is not None:
            yield from _face(view, entry, item, item.frame)
    for name, sharing in _names(view).values():
        if name is not None:
            yield from _label(name, sharing)


def _depth(item: Item) -> tuple[bool, int, float]:
    area = item.frame.width * item.frame.height if item.frame is not None else 0.0
    return lies_over(item), UNDER[item.use], -area


def _sharing(view: View) -> dict[Frame, list[Item]]:
    """The items of each frame: from above, bays over one another have the same."""
    made: dict[Frame, list[Item]] = {}
    for entry in view.entries:
        for item in entry.items:
            if item.frame is not None:
                made.setdefault(item.frame, []).append(item)
    return made


def _face(view: View, entry: LegendEntry, item: Item, frame: Frame) -> Iterator[Shape]:
    scale = view.scale
    x, y = frame.x * scale, frame.y * scale
    wide, high = frame.width * scale, frame.height * scale
    hint = f"{item.name}: {entry.what}"
    pen = "built-in" if item.fixture is not None else PEN[item.use]
    if lies_over(item):
        pen = "over"
    yield Rect(x, y, wide, high, pen, hint, round=1.2)
    if item.fixture is not None and "button" in item.fixture.what:
        yield Ring(x + wide / 2, y + high / 2, min(wide, high) * 0.28, "ring")
    if item.place is not None and item.use is UseState.USED:
        yield from _details(view, item.place, frame)


def _details(view: View, place: Place, frame: Frame) -> Iterator[Shape]:
    """Openings of ports and inlets, the ring of a fan."""
    scale = view.scale
    part = place.part
    if view.rings:
        if "fan" in place.position.takes:
            wide, high = frame.width * scale, frame.height * scale
            x = frame.x * scale + wide * (0.5 if high > wide else 0.64)
            y = frame.y * scale + high * 0.62
            yield Ring(x, y, min(wide, high) * 0.3, "ring")
        return
    openings: list[tuple[float, float]] = []
    if isinstance(part, HasEthernet):
        openings = port_sizes(part)
    elif isinstance(part, PowerSupply):
        openings = [INLETS[part.inlet]] if part.inlet in INLETS else []
    upright = frame.height > frame.width
    room = (frame.height if upright else frame.width) - PORT_GAP
    total = sum(wide + PORT_GAP for wide, _high in openings)
    fits = min(1.0, room / total) if total else 1.0
    along = (frame.y + frame.height if upright else frame.x + frame.width) - PORT_GAP
    for wide, high in reversed(openings):
        wide, high = wide * fits, min(high * fits, (frame.width if upright else frame.height) - 1.5)
        along -= wide
        if upright:
            box = (frame.x + (frame.width - high) / 2, along, high, wide)
        else:
            box = (along, frame.y + (frame.height - high) / 2, wide, high)
        x, y, broad, tall = (side * scale for side in box)
        yield Rect(x, y, broad, tall, "detail", round=0.8)
        along -= PORT_GAP


@frozen
class _NameLabel:
    """Words in a face, and the box they fill, in points."""

    text: str
    x: float
    y: float
    room: float

    def crossed(self, x: float, low: float, high: float) -> bool:
        """Whether an upright line at `x` between two heights would run through the words."""
        over = self.y - LETTERS < high and self.y > low
        return over and self.x - 2 < x < self.x + self.room + 2


def _names(view: View) -> dict[Frame, tuple[_NameLabel | None, list[Item]]]:
    """Of each frame its name, if it has room for one, and the items that share it."""
    sharing = _sharing(view)
    return {
        frame: (_name(view, items, frame, _seen_breadth(frame, items, sharing, view)), items)
        for frame, items in sharing.items()
    }


def _seen_breadth(
    frame: Frame, items: Sequence[Item], frames: Iterable[Frame], view: View
) -> float:
    """How much of a face's upper edge is to be seen left of smaller ones that lie on it."""
    if lies_over(items[0]):
        return frame.width
    low = frame.y + 1.5 * LETTERS / view.scale
    covering = [
        one.x - frame.x
        for one in frames
        if one.width * one.height < frame.width * frame.height
        and one.y < low
        and one.y + one.height > frame.y
        and frame.x < one.x < frame.x + frame.width
    ]
    return min(covering, default=frame.width)


def _name(view: View, items: Sequence[Item], frame: Frame, seen: float) -> _NameLabel | None:
    """The names in the face, or one, or its number, or nothing where there is no room."""
    scale = view.scale
    text = _fitting(items, frame._replace(width=seen), view)
    if text is None:
        return None
    size = LETTERS
    room = width(text, size)
    y = frame.y * scale + min(frame.height * scale / 2 + size * 0.36, size + 3.5)
    x = frame.x * scale + 3
    upright = frame.height > 2.2 * frame.width
    if frame.width * scale < room + 9 or upright:
        x = frame.x * scale + (frame.width * scale - room) / 2
        if frame.height * scale > 3.5 * size:  # under the end of the leader
            y = frame.y * scale + size + 13
    return _NameLabel(text, x, y, room)


def _label(name: _NameLabel, items: Sequence[Item]) -> Iterator[Shape]:
    if all(item.use is UseState.UNUSABLE for item in items):
        box = (name.x - 1.5, name.y - LETTERS * 0.85, name.room + 3, LETTERS * 1.1)
        yield Rect(*box, "plate")
    yield TextShape(name.x, name.y, name.text)


def _fitting(items: Sequence[Item], frame: Frame, view: View) -> str | None:
    """The longest name that a face has room for."""
    wide, high = frame.width * view.scale - 3, frame.height * view.scale - 2
    place = items[0].place
    if place is not None and place.position.form == ("board",) and place.position.area != "inside":
        return None  # its face is all openings
    for text in labels_of(items):
        if width(text, LETTERS) <= wide and high >= LETTERS:
            return text
    return None


# --- marks ---


def _marks(view: View) -> Iterator[_FlagMark]:
    """For each entry the face that its leader points at, nearest to the side of its flag."""
    used: dict[bool, list[float]] = {True: [], False: []}
    named = {frame: name for frame, (name, _items) in _names(view).items()}
    names = [name for name in named.values() if name is not None]
    for entry in view.entries:
        frames = [item.frame for item in entry.items if item.frame is not None]
        middle = sum(frame.y + frame.height / 2 for frame in frames) / len(frames)
        up = middle < view.height / 2 - 0.5
        if abs(middle - view.height / 2) <= 0.5 + view.height * 0.06:
            up = len(used[True]) <= len(used[False])
        frame = min(frames, key=lambda one: (one.y, one.x) if up else (-one.y - one.height, one.x))
        x, y = _end(view, frame, named[frame], up, used[up], names)
        used[up].append(x)
        yield _FlagMark(x, y, up, entry)


def _end(
    view: View,
    frame: Frame,
    name: _NameLabel | None,
    up: bool,
    used: Sequence[float],
    names: Sequence[_NameLabel],
) -> tuple[float, float]:
    """Where a leader ends: beside or under the face's name, and clear of words on its way."""
    scale = view.scale
    left, wide, high = frame.x * scale, frame.width * scale, frame.height * scale
    reach = name.x + name.room - left if name is not None else 0.0
    under = name is not None and name.y - LETTERS > frame.y * scale + 5
    own_line = not under and reach + 5 <= wide - 3
    inner = min(high / 2, 5.0)
    y = frame.y * scale + (inner if up else high - inner)
    low, far = (0.0, y) if up else (y, view.height * scale)
    start = left + max(wide * 0.5, reach + 5 if own_line else 0.0)
    tries = [start]
    for step in range(1, int(wide / 2) + 1):
        tries += [start + 2 * step, start - 2 * step]
    inside = [x for x in tries if left + 1.5 <= x <= left + wide - 1.5] or [start]

    def badness(x: float) -> tuple[bool, int]:
        own = None if not own_line else name
        hit = [one for one in names if (one is not name or own) and one.crossed(x, low, far)]
        return any(abs(x - other) < APART for other in used), len(hit)

    return min(inside, key=badness), y
