"""Front and rear of a system to scale."""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.assembly import Assembly, State
from specgen.drawings.boxes import clean
from specgen.drawings.items import Item, entries, laid, seen, shared
from specgen.drawings.lettering import drawn_once, letter
from specgen.drawings.panel import View, drawn_panel
from specgen.drawings.shapes import Rect, Shape, Sheet, nothing
from specgen.drawings.sizes import BODY, HOLES, RACK_OPENING, RACK_UNIT
from specgen.fitness.frames import Frame, mm
from specgen.frozen import frozen
from specgen.messages import Message, say, say_many

SCALE: Final = 1.42  # points for a millimetre, the same for every system
EDGE: Final = 2.0  # of the sheet metal round the faces, millimetres
NOTHING_AT: Final = {
    "front": say("No position and nothing built in is said to be at the front."),
    "rear": say("No position and nothing built in is said to be at the rear."),
}
NUMBERING: Final = say("Numbers run from left to right.")
GUESSED: Final = say(
    "Places and sizes that the definitions do not give are laid out from counts and from the form "
    "factors' standard sizes."
)
SHRUNK: Final = say(
    "Not to scale: by the standard sizes the faces would need more room than there is."
)


@frozen
class Side:
    """A side laid out: its size, and its items with frames, in millimetres."""

    width: float
    height: float
    ear: float
    items: tuple[Item, ...]
    guessed: bool
    factor: float
    notes: tuple[str, ...] = ()


def body_of(assembly: Assembly) -> tuple[float, float]:
    """Breadth of the chassis between its ears and breadth of an ear, in millimetres."""
    whole = mm(assembly.platform.size.width)
    if whole <= RACK_OPENING:
        return whole, 0.0
    body = min(BODY, whole)
    return body, (whole - body) / 2


def side_of(assembly: Assembly, area: str) -> Side:
    """The front or the rear with everything in its place."""
    body, ear = body_of(assembly)
    high = mm(assembly.platform.size.height)
    ear = ear if area == "front" else 0.0
    items, notes = shared(assembly, seen(assembly, area))
    room = Frame(ear + EDGE, EDGE, body - 2 * EDGE, high - 2 * EDGE)
    guessed = any(item.frame is None for item in items)
    parts = [item for item in items if item.fixture is None]
    fixtures = [item for item in items if item.fixture is not None]
    held = [item for item in fixtures if item.frame is not None]
    placed, factor = laid([*parts, *held], room, lambda item: _lies(item, high))
    loose = [item for item in fixtures if item.frame is None]
    whole = Frame(EDGE, EDGE, body + 2 * ear - 2 * EDGE, high - 2 * EDGE)
    frames, smaller = laid([*placed, *loose], whole if ear else room, lambda _item: True)
    return Side(
        body + 2 * ear, high, ear, tuple(frames), guessed, min(factor, smaller), tuple(notes)
    )


def _lies(item: Item, high: float) -> bool:
    """Whether a face lies on its long side: drives stand where the panel is high enough."""
    long, short, _depth = item.face
    if item.place is not None and "power-supply" in item.place.position.takes:
        return True
    on_riser = item.place is not None and item.place.host is not None and item.place.position.height
    if on_riser and high < 3 * RACK_UNIT:
        return True
    if long > 90 and short > 20:
        return True
    return long > high - 2 * EDGE


@drawn_once
def front(assembly: Assembly) -> Sheet:
    """What a person before the system sees: bays, controls, connectors."""
    return _side(assembly, "front", say("Front"))


@drawn_once
def rear(assembly: Assembly) -> Sheet:
    """What a person behind the system sees: slots, ports, supplies."""
    return _side(assembly, "rear", say("Rear"))


def _side(assembly: Assembly, area: str, side_word: Message) -> Sheet:
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("{side}: {holder}", side=side_word, holder=clean(holder.name)))
    side = side_of(assembly, area)
    if not side.items:
        return nothing(
            title,
            letter(NOTHING_AT[area]),
        )
    if side.width < 20 or side.height < 5:
        return nothing(title, letter(say("The platform's size leaves nothing to draw on.")))
    size = assembly.platform.size
    units = assembly.platform.rack_units
    lead = (
        letter(
            say(
                "{side} of {holder}, {width} wide and {height} high ({units}).",
                side=side_word,
                holder=clean(holder.name),
                width=size.width,
                height=size.height,
                units=say_many(units, "{number} rack unit", "{number} rack units"),
            )
        ),
    )
    notes = [*unseen(assembly, area), *side.notes]
    if side.guessed:
        notes.append(letter(GUESSED))
    if side.factor < 1:
        notes.append(letter(SHRUNK))
    back = tuple(_outline(side, units))
    groups = tuple(entries(assembly, side.items))
    view = View(
        title, side.width, side.height, SCALE, back, groups, lead, tuple(notes),
        (letter(NUMBERING),),
    )  # fmt: skip
    return drawn_panel(view)


def _outline(side: Side, units: int) -> Iterator[Shape]:
    """Chassis and ears, with the holes for the rack's screws."""
    high = side.height * SCALE
    if side.ear:
        for x in (0.0, side.width - side.ear):
            yield Rect(x * SCALE, 0, side.ear * SCALE, high, "case", round=2)
            yield from _holes(x + side.ear / 2, side.height, units)
    body = side.width - 2 * side.ear
    yield Rect(side.ear * SCALE, 0, body * SCALE, high, "case", round=1.5)


def _holes(middle: float, high: float, units: int) -> Iterator[Shape]:
    """The outermost hole above and below, where screws go."""
    slack = (units * RACK_UNIT - high) / 2
    for y in (HOLES[0] - slack, units * RACK_UNIT - HOLES[0] - slack):
        if 3 < y < high - 3:
            yield Rect((middle - 4.5) * SCALE, (y - 2.5) * SCALE, 9 * SCALE, 5 * SCALE, "hole",
                       round=3.5)  # fmt: skip


def unseen(assembly: Assembly, area: str) -> Iterator[str]:
    """What lies over or beside a side and would hide it, in words."""
    for place in assembly.places.values():
        kinds: Sequence[str] = place.position.takes
        if place.position.area != area or place.part is None or place.state is not State.FILLED:
            continue
        if "bezel" in kinds:
            yield letter(
                say(
                    "{place}: {part}, drawn taken off.",
                    place=place.name,
                    part=clean(place.part.name),
                )
            )
        elif "cable-arm" in kinds:
            yield letter(
                say("{place}: {part}, not drawn.", place=place.name, part=clean(place.part.name))
            )
