"""Memory as a map: which slot on which channel, in which order to fill, and what is in it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.drawings.boxes import clean, reasons
from specgen.drawings.diagram import UseState
from specgen.drawings.lettering import letter
from specgen.drawings.panel import moved
from specgen.drawings.paper import HANDS
from specgen.drawings.selection import USES, memory
from specgen.drawings.shapes import Rect, Shape, Sheet, Stroke, TextShape, nothing
from specgen.drawings.widths import LETTERS, width, wrapped
from specgen.facts.terms import STATE
from specgen.messages import listed, say
from specgen.model import MemoryModule, expand
from specgen.model import places as places_
from specgen.quantity import show

ROW: Final = 17.0
CELL: Final = (130.0, 14.0)
CHANNEL: Final = 46.0  # the column that names channels
BLOCK_GAP: Final = 20.0
TOP: Final = 46.0
ACROSS: Final = 2  # processors beside one another
SOCKET: Final = 20.0
SLOTS: Final = (say("first slot"), say("second slot"), say("third slot"))
PEN: Final = {UseState.USED: "used", UseState.FREE: "free", UseState.UNUSABLE: "unusable"}


def memory_map(assembly: Assembly) -> Sheet:
    """A block for each processor; the number before a slot is its place in the order of filling."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("Memory map: {holder}", holder=clean(holder.name)))
    owners = memory(assembly.places)
    if not owners:
        return nothing(title, letter(say("No position takes memory modules.")), absent=True)
    ranks = _ranks(assembly)
    shapes: list[Shape] = []
    text: list[str] = []
    left, top, low, right = 0.0, 0.0, 0.0, 0.0
    for number, (owner, places) in enumerate(owners.items()):
        channels = _channels(places)
        slots = max(len(row) for row in channels.values())
        if number and number % ACROSS == 0:
            left, top = 0.0, low + BLOCK_GAP
        made, wide, high = _block(assembly, owner, channels, ranks, slots)
        shapes += [moved(shape, left, top) for shape in made]
        right, low = max(right, left + wide), max(low, top + high)
        left += wide + BLOCK_GAP
        text += _words(owner, channels, ranks)
    note = letter(say("The number before a slot is its place in the population order."))
    if not ranks:
        note = letter(say("The platform states no population order."))
    notes = [note, *_modules(assembly)]
    for line in notes:
        for piece in wrapped(line, max(right, 300), LETTERS):
            low += 11.5
            shapes.append(TextShape(0, low + 4, piece, "small"))
    return Sheet(title, (*text, note), max(right, 300), low + 6, tuple(shapes))


def _ranks(assembly: Assembly) -> dict[str, int]:
    """The place of each slot in the order that its platform states, from 1."""
    made: dict[str, int] = {}
    for population in assembly.platform.population:
        names = [name for text in population.order for name in expand(text)]
        made.update((name, at) for at, name in enumerate(names, start=1))
    return made


def _channels(places: Sequence[Place]) -> dict[str, list[Place]]:
    rows: dict[str, list[Place]] = {}
    for place in places:
        rows.setdefault(place.position.channel or place.name, []).append(place)
    return rows


def _modules(assembly: Assembly) -> Iterator[str]:
    """The full names of modules that cells give by their capacity."""
    counts: dict[str, int] = {}
    for place, part in assembly.fitted(MemoryModule):
        del place
        counts[part.name] = counts.get(part.name, 0) + 1
    for name, count in counts.items():
        yield f"{count} × {clean(name)}"


def _block(
    assembly: Assembly,
    owner: str,
    channels: Mapping[str, list[Place]],
    ranks: Mapping[str, int],
    slots: int,
) -> tuple[list[Shape], float, float]:
    """The block of one processor with its upper left corner at nought, its breadth and height."""
    place = assembly.places.get(owner)
    wide = SOCKET + 12 + CHANNEL + slots * (CELL[0] + 6)
    high = TOP + len(channels) * ROW
    use = USES[place.state] if place is not None else UseState.USED
    part = place.part if place is not None else None
    text = clean(part.name) if part is not None else ""
    if part is None and place is not None:
        text = letter(STATE[place.state])
    shapes: list[Shape] = [
        TextShape(
            0,
            10,
            owner,
            "head",
            continued=(
                TextShape(width(owner, HANDS["head"].size, bold=True) + 6, 10, text, "label"),
            ),
        ),
        TextShape(SOCKET + 12, 32, letter(say("channel")), "small"),
    ]
    for slot in range(slots):
        x = SOCKET + 12 + CHANNEL + slot * (CELL[0] + 6)
        word = SLOTS[slot] if slot < len(SLOTS) else say("slot {number}", number=slot + 1)
        shapes.append(TextShape(x, 32, letter(word if slots > 1 else say("slot")), "small"))
    shapes.append(Rect(0, TOP - 8, SOCKET, len(channels) * ROW + 2, PEN[use], owner, round=1.5))
    for row, (channel, places) in enumerate(channels.items()):
        y = TOP - 7 + row * ROW
        middle = y + CELL[1] / 2
        far = SOCKET + 12 + CHANNEL + (len(places) - 1) * (CELL[0] + 6)
        shapes.append(Stroke(((SOCKET, middle), (SOCKET + 10, middle)), "axis"))
        shapes.append(Stroke(((SOCKET + CHANNEL - 6, middle), (far, middle)), "axis"))
        shapes.append(TextShape(SOCKET + 14, middle + 3, channel, "name"))
        for slot, one in enumerate(places):
            x = SOCKET + 12 + CHANNEL + slot * (CELL[0] + 6)
            shapes += _cell(one, x, y, ranks.get(one.name))
    return shapes, wide, high


def _cell(place: Place, x: float, y: float, rank: int | None) -> Iterator[Shape]:
    wide, high = CELL
    use = USES[place.state]
    hint = f"{place.name}: {_state(place)}"
    yield Rect(x, y, wide, high, PEN[use], hint, round=1.2)
    base = y + high / 2 + 3.2
    if use is UseState.UNUSABLE:
        yield Rect(x + 1, y + 1.5, wide - 2, high - 3, "plate")
    if rank is not None:
        yield TextShape(x + 16, base, str(rank), "name", "end")
        yield Stroke(((x + 20, y), (x + 20, y + high)), "inner")
    part = place.part
    pen = "label" if use is UseState.USED else "small"
    what = TextShape(x + wide - 5, base, _short(place), pen, "end")
    id_ = part.id if part is not None else ""
    yield TextShape(x + 25, base, place.name, pen, part=id_, continued=(what,))


def _short(place: Place) -> str:
    part = place.part
    if isinstance(part, MemoryModule):
        return show(part.capacity)
    if part is not None:
        return clean(part.kind)
    word = say("unusable") if USES[place.state] is UseState.UNUSABLE else say("empty")
    return letter(word, short=True)


def _state(place: Place) -> str:
    words = clean(place.part.name) if place.part is not None else _short(place)
    if USES[place.state] is UseState.UNUSABLE and place.reason:
        return letter(say("{state} ({reason})", state=words, reason=place.reason))
    return words


def _words(
    owner: str,
    channels: Mapping[str, list[Place]],
    ranks: Mapping[str, int],
) -> Iterator[str]:
    """What is in the slots of a processor; then the order, if one is stated."""
    places = [place for row in channels.values() for place in row]
    alike: dict[str, list[str]] = {}
    for place in places:
        if USES[place.state] is not UseState.UNUSABLE:
            alike.setdefault(_state(place), []).append(place.name)
    pieces = [
        letter(say("{places}: {what}", places=places_(tuple(names)), what=what))
        for what, names in alike.items()
    ]
    pieces += reasons([one for one in places if USES[one.state] is UseState.UNUSABLE])
    rows = [
        letter(
            say("channel {name}: {places}", name=name, places=listed(place.name for place in row))
        )
        for name, row in channels.items()
    ]
    yield letter(
        say(
            "{owner}: {modules}. On {channels}.",
            owner=owner or say("Memory"),
            modules=listed(pieces, "semicolon"),
            channels=listed(rows, "semicolon"),
        )
    )
    ordered = sorted((ranks[place.name], place.name) for place in places if place.name in ranks)
    if ordered:
        yield letter(
            say(
                "{owner}: populated in the order {places}.",
                owner=owner,
                places=listed(name for _rank, name in ordered),
            )
        )
