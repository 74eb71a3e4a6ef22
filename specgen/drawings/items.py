"""What can be seen on a side of a system, or from above: an item for each position and fixture."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from specgen.assembly import Assembly, Place, State, swap_of
from specgen.drawings.boxes import clean, plugs, reasons
from specgen.drawings.diagram import UseState
from specgen.drawings.lettering import letter, lettered
from specgen.drawings.packing import FaceBlock, packed
from specgen.drawings.selection import USES, subject
from specgen.drawings.sizes import face_of, face_of_fixture
from specgen.facts.terms import SWAP
from specgen.fitness.form_sizes import Face
from specgen.fitness.frames import Frame, stepped
from specgen.frozen import frozen
from specgen.messages import Message, listed, say
from specgen.model import (
    Fixture,
    HasEthernet,
)

# Kinds that have no face of their own: they lie over, under or behind others.
UNSEEN = frozenset(
    {"bezel", "rail-kit", "cable-arm", "power-cord", "cable", "transceiver", "heat-sink"}
)
HOLDERS = ("riser", "backplane")


@frozen
class Item:
    """A face: whose it is, how large, and where it lies once it is laid out.

    Items that are `alike` share a callout; those of one `block` lie beside one another.
    """

    name: str
    face: Face
    use: UseState
    alike: tuple[object, ...]
    block: tuple[object, ...]
    frame: Frame | None = None
    place: Place | None = None
    fixture: Fixture | None = None


@frozen
class LegendEntry:
    """Items that one callout names."""

    items: tuple[Item, ...]
    position: str
    what: str
    use: UseState
    part: str = ""
    count: int = 1
    alone: str = ""
    """What it is, without how many."""


def seen(assembly: Assembly, area: str) -> list[Item]:
    """The items of an area, measured ones with their frames."""
    frames = frames_of(assembly)
    places = [place for place in assembly.places.values() if place.position.area == area]
    made = [_item(assembly, place, frames.get(place.name)) for place in places if _face(place)]
    return [*made, *_fixtures(assembly, area)]


def _face(place: Place) -> bool:
    """Whether a position shows: a holder that is filled shows as what it brings."""
    kinds = place.position.takes
    if UNSEEN.intersection(kinds):
        return False
    if any(kind in kinds for kind in HOLDERS):
        return place.part is None
    part = place.part
    if isinstance(part, HasEthernet) and place.position.area != "inside":
        return bool(part.ethernet)
    return True


def _item(assembly: Assembly, place: Place, frame: Frame | None) -> Item:
    position, part = place.position, place.part
    reason = "" if USES[place.state] is not UseState.UNUSABLE else subject(place.reason)[1]
    own = place.name if plugs(assembly, place) else ""
    alike = (
        position.takes, place.host, place.state, part and part.id, reason,
        swap_of(assembly, place), place.closed_by and place.closed_by.id, own, position.form,
        position.height,
    )  # fmt: skip
    face = face_of(place)
    return Item(place.name, face, USES[place.state], alike, (place.host, face), frame, place)


def _fixtures(assembly: Assembly, area: str) -> Iterator[Item]:
    for number, fixture in enumerate(assembly.platform.fixtures):
        if fixture.area == area:
            for at in range(fixture.count):
                frame = None if fixture.outline is None else stepped(fixture.outline, at)
                face = face_of_fixture(fixture)
                key = ("fixture", number)
                yield Item(fixture.name, face, UseState.USED, key, key, frame, fixture=fixture)


def shared(assembly: Assembly, items: Sequence[Item]) -> tuple[list[Item], list[str]]:
    """Items less the empty places of holders that something else stands in, and words for those.

    Rear bays that take the place of a riser leave that place empty, and nothing to be seen of it.
    """
    kept: list[Item] = []
    words: list[str] = []
    held = [
        (item.name, item.frame) for item in items if item.frame is not None and not _holder(item)
    ]
    for item in items:
        if item.place is not None and _holder(item) and item.frame is not None:
            if item.place.position.area == "inside":
                words.append(
                    letter(
                        say(
                            "{item}: {what_is}, not drawn.",
                            item=item.name,
                            what_is=what_is(assembly, [item.place]),
                        )
                    )
                )
                continue
            where = lettered(tuple(name for name, other in held if item.frame.meets(other)))
            if where:
                description = what_is(assembly, [item.place])
                words.append(
                    letter(
                        say(
                            "{item}: {what_is}, not drawn; in its place is {where}.",
                            item=item.name,
                            what_is=description,
                            where=where,
                        )
                    )
                )
                continue
            held.append((item.name, item.frame))
        kept.append(item)
    return kept, words


def _holder(item: Item) -> bool:
    kinds = item.place.position.takes if item.place is not None else ()
    return any(kind in kinds for kind in HOLDERS)


def lies_over(item: Item) -> bool:
    """Whether a position inside lies over others: bays under the lid."""
    place = item.place
    return (
        place is not None
        and place.position.area == "inside"
        and place.position.outline is not None
        and "drive" in place.position.takes
        and place.host is not None
    )


def frames_of(assembly: Assembly) -> dict[str, Frame]:
    """The frame of every position that a definition measures, by its full name."""
    made: dict[str, Frame] = {}
    counts: dict[tuple[object, ...], int] = {}
    for place in assembly.places.values():
        outline = place.position.outline
        if outline is None:
            continue
        key = (place.host, place.path, place.origin.at())
        at = counts[key] = counts.get(key, -1) + 1
        frame = stepped(outline, at)
        host = assembly.places.get(place.host or "")
        if host is not None and host.position.area == place.position.area:
            base = made.get(host.name)
            if base is not None:
                frame = frame._replace(x=frame.x + base.x, y=frame.y + base.y)
        made[place.name] = frame
    return made


def laid(
    items: Sequence[Item], room: Frame, lies: Callable[[Item], bool]
) -> tuple[list[Item], float]:
    """All items with frames: measured ones where they are, the others packed into the room."""
    taken = [item.frame for item in items if item.frame is not None]
    runs: dict[tuple[object, ...], list[int]] = {}
    for at, item in enumerate(items):
        if item.frame is None:
            runs.setdefault(item.block, []).append(at)
    blocks = []
    for run in runs.values():
        long, short, depth = items[run[0]].face
        lying, standing = (long, short), (short, long)
        flat = lies(items[run[0]])
        sizes = (lying, standing) if flat else (standing, lying)
        blocks.append(FaceBlock(len(run), sizes, depth))
    frames, factor = packed(blocks, room, taken)
    made = list(items)
    for run, places in zip(runs.values(), frames, strict=True):
        for at, frame in zip(run, places, strict=True):
            made[at] = replace(made[at], frame=frame)
    return made, factor


def entries(assembly: Assembly, items: Sequence[Item]) -> list[LegendEntry]:
    """Items in the groups that a callout names, each with what is to be said."""
    alike: dict[tuple[object, ...], list[Item]] = {}
    for item in items:
        alike.setdefault(item.alike, []).append(item)
    return [_entry(assembly, tuple(group)) for group in alike.values()]


def _entry(assembly: Assembly, items: tuple[Item, ...]) -> LegendEntry:
    first = items[0]
    if first.fixture is not None:
        fixture = first.fixture
        what = letter(clean(fixture.what))
        if fixture.note:
            note = letter(clean(fixture.note)).rstrip(".")
            what = letter(say("{what}. {note}", what=what, note=note))
        times = f"{fixture.count} × " if fixture.count > 1 else ""
        name, whole = letter(clean(fixture.name)), f"{times}{what}"
        return LegendEntry(items, name, whole, first.use, count=fixture.count, alone=what)
    places = [item.place for item in items if item.place is not None]
    names = lettered(tuple(place.name for place in places))
    part = places[0].part
    id_ = part.id if part is not None else ""
    alone = what_is(assembly, places, counted=False)
    count = len(places) if part is not None else 1
    return LegendEntry(items, names, what_is(assembly, places), first.use, id_, count, alone)


def what_is(assembly: Assembly, places: Sequence[Place], *, counted: bool = True) -> str:
    """What is in positions that are alike, in words: fitted, empty, or unusable and why.

    `counted` says how many there are.
    """
    place = places[0]
    part = place.part
    words = []
    if part is not None:
        times = f"{len(places)} × " if counted and len(places) > 1 else ""
        words.append(f"{times}{clean(part.name)}")
    if USES[place.state] is UseState.UNUSABLE:
        words += reasons(places)
    elif place.state is State.UNKNOWN:
        words.append(letter(say("part not known")))
    elif part is None:
        closed = place.closed_by
        words.append(
            letter(say("empty, closed by {closed}", closed=clean(closed.name)))
            if closed is not None
            else letter(say("empty"))
        )
    if place.name and part is not None:
        words += [plug.label for plug in plugs(assembly, place)]
    swap = swap_words(assembly, place)
    if swap is not None and USES[place.state] is not UseState.UNUSABLE:
        words.append(letter(swap))
    return letter(listed(words))


def swap_words(assembly: Assembly, place: Place) -> Message | None:
    """Whether what sits here can be changed while the system runs, in words; None where nobody can
    say, or where the part is called so."""
    swap = swap_of(assembly, place)
    if swap is None or (place.part is not None and letter(SWAP[swap]) in place.part.name):
        return None
    return SWAP[swap]


def labels_of(items: Sequence[Item]) -> tuple[str, ...]:
    """What may stand in a face that items share, the longest first: `BAY 0, 4, 8`, `BAY 0`, `0`."""
    if not items or items[0].fixture is not None:
        return ()
    names = [item.name for item in items]
    stem, _space, last = names[0].rpartition(" ")
    every = lettered(tuple(names)).replace(f", {stem} ", ", ") if stem else lettered(tuple(names))
    return tuple(dict.fromkeys((every, names[0], last if stem else names[0])))
