"""The inside of a system from above, to scale: the front on the left, air from left to right."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.drawings.boxes import clean
from specgen.drawings.items import Item, entries, frames_of, laid, lies_over, seen, shared
from specgen.drawings.lettering import drawn_once, letter
from specgen.drawings.panel import View, drawn_panel
from specgen.drawings.shapes import Rect, Shape, Sheet, nothing
from specgen.drawings.sides import GUESSED, SHRUNK, Side, body_of, side_of
from specgen.drawings.sizes import DIMM_PITCH
from specgen.fitness.frames import Frame, mm
from specgen.messages import say

SCALE: Final = 0.82  # points for a millimetre, the same for every system
GAP: Final = 10.0  # between the rows of parts, millimetres
SHOWN: Final = frozenset(
    {
        "accelerator", "backplane", "boot-module", "drive", "cache-protection", "fan",
        "memory-module", "network-adapter", "power-supply", "processor", "riser",
        "storage-controller", "tpm",
    }
)  # fmt: skip


@drawn_once
def inside(assembly: Assembly) -> Sheet:
    """The plan: bays and supplies where the front and the rear have them, the rest between."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("Inside from above: {holder}", holder=clean(holder.name)))
    size = assembly.platform.size
    depth = mm(size.depth)
    body, ear = body_of(assembly)
    if depth < 50 or body < 50:
        return nothing(title, letter(say("The platform's size leaves nothing to draw on.")))
    outer = [
        *_from_side(side_of(assembly, "front"), depth, 0.0),
        *_from_side(side_of(assembly, "rear"), depth, ear),
    ]
    own, empty = shared(assembly, [item for item in seen(assembly, "inside") if _shows(item)])
    if not outer and not own:
        return nothing(title, letter(say("No position is said to be inside.")))
    measured = frames_of(assembly)
    guessed = any(item.name not in measured for item in [*own, *outer])
    placed, factor = _placed(own, outer, Frame(0, ear, depth, body))
    notes = [
        letter(say("Seen from above with the front on the left; air flows from left to right."))
    ]
    if any(lies_over(item) for item in placed):
        notes.append(letter(say("What is drawn with long dashes lies over the parts under it.")))
    notes += empty
    if guessed:
        notes.append(letter(GUESSED))
    if factor < 1:
        notes.append(letter(SHRUNK))
    lead = (
        letter(
            say(
                "Inside of {holder} from above, {depth} deep and {width} wide; the front is on "
                "the left.",
                holder=clean(holder.name),
                depth=size.depth,
                width=size.width,
            )
        ),
    )
    groups = tuple(entries(assembly, [*outer, *placed]))
    back = tuple(_outline(depth, body, ear))
    view = View(title, depth, body + 2 * ear, SCALE, back, groups, lead, tuple(notes), rings=True)
    return drawn_panel(view)


def _shows(item: Item) -> bool:
    place = item.place
    if place is None or _in_card(place):
        return False
    return bool(SHOWN.intersection(place.position.takes))


def _in_card(place: Place) -> bool:
    """Whether a position lies on a card that has a frame of its own: sticks of a boot module."""
    return place.host is not None and "m.2-2280" in place.position.form


def _from_side(side: Side, depth: float, ear: float) -> Iterator[Item]:
    """What reaches inwards from the front (`ear` nought) or from the rear, which is mirrored."""
    for item in side.items:
        if item.place is None or item.frame is None:
            continue
        frame, reach = item.frame, item.frame.depth or item.face.depth
        reach = min(reach, depth / 2)
        if item.place.position.area == "front":
            plan = Frame(0, frame.x, reach, frame.width, 0)
        else:
            across = ear + side.width - frame.x - frame.width
            plan = Frame(depth - reach, across, reach, frame.width, 0)
        yield replace(item, frame=plan, block=("side", *item.block))


def _placed(own: Sequence[Item], outer: Sequence[Item], room: Frame) -> tuple[list[Item], float]:
    """Measured ones where they are; then fans, processors with memory, and what is left over."""
    items = [replace(item, frame=_turned(item.frame)) for item in own]
    busy = [item.frame for item in outer if item.frame is not None]
    start = max((one.x + one.width for one in busy if one.x < room.width / 4), default=0.0) + GAP
    start += 15  # the backplane behind the bays
    factor = 1.0
    loose = [at for at, item in enumerate(items) if item.frame is None and _takes(item, "fan")]
    if loose:
        frames, factor = _fans([items[at] for at in loose], start, room)
        for at, frame in zip(loose, frames, strict=True):
            items[at] = replace(items[at], frame=frame)
    fans = [item.frame for item in items if item.frame is not None and _takes(item, "fan")]
    start = max([start, *(one.x + one.width + GAP for one in fans)])
    _compute(items, start, room)
    taken = [item for item in outer if item.frame is not None]
    rest = Frame(start, room.y + 3, room.width - start - 3, room.height - 6)
    everything, smaller = laid([*taken, *items], rest, lambda _item: True)
    return everything[len(taken) :], min(factor, smaller)


def _takes(item: Item, kind: str) -> bool:
    return item.place is not None and kind in item.place.position.takes


def _turned(frame: Frame | None) -> Frame | None:
    """From across and inwards, as definitions have it, to the picture, where inwards is right."""
    return None if frame is None else Frame(frame.y, frame.x, frame.height, frame.width)


def _fans(fans: Sequence[Item], start: float, room: Frame) -> tuple[list[Frame], float]:
    """Fans across the system, in so many rows as they need."""
    long, _short, depth = fans[0].face
    rows = max(1, -(-int(len(fans) * (long + 1)) // max(1, int(room.height))))
    across = -(-len(fans) // rows)
    pitch = room.height / across
    side = min(long, pitch - 1)
    made = []
    for at in range(len(fans)):
        row, column = divmod(at, across)
        x = start + row * (depth + 5)
        made.append(Frame(x, room.y + pitch * (column + 0.5) - side / 2, depth, side))
    return made, side / long


def _compute(items: list[Item], start: float, room: Frame) -> None:
    """Processors beside one another, each between the halves of its memory."""
    sockets = [at for at, item in enumerate(items) if _takes(item, "processor")]
    banks: dict[str, list[int]] = {items[at].name: [] for at in sockets}
    for at, item in enumerate(items):
        if _takes(item, "memory-module") and item.frame is None and item.place is not None:
            owner = item.place.of if item.place.of in banks else next(iter(banks), "")
            banks.setdefault(owner, []).append(at)
    loose = [at for at in sockets if items[at].frame is None]
    if not loose:
        return
    share = room.height / len(sockets)
    for rank, at in enumerate(sockets):
        item = items[at]
        modules = banks[item.name]
        half = -(-len(modules) // 2)
        long, short, _depth = item.face
        across = min(short, share * 0.5)
        pitch = min(DIMM_PITCH, (share - across - 8) / max(1, 2 * half))
        middle = room.y + share * (rank + 0.5)
        high = items[modules[0]].face.long if modules else long
        items[at] = replace(
            item, frame=Frame(start + (high - long) / 2, middle - across / 2, long, across)
        )
        for number, module in enumerate(modules):
            if number < half:
                y = middle - across / 2 - 3 - (half - number) * pitch
            else:
                y = middle + across / 2 + 3 + (number - half) * pitch
            items[module] = replace(items[module], frame=Frame(start, y, high, pitch * 0.8))


def _outline(depth: float, body: float, ear: float) -> Iterator[Shape]:
    if ear:
        for y in (0.0, ear + body):
            yield Rect(0, y * SCALE, 6 * SCALE, ear * SCALE, "case")
    yield Rect(0, ear * SCALE, depth * SCALE, body * SCALE, "case", round=1.5)
