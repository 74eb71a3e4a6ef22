"""Lanes as a map of two columns: owners on the left, positions on the right, ribbons between.

A ribbon is as broad as its lanes are many; what is in use is solid, what is free hollow, what
cannot be used barred, and what runs with fewer lanes than it is wired with has a solid core.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.drawings.boxes import clean, port_words, reasons
from specgen.drawings.diagram import UseState
from specgen.drawings.lettering import letter, lettered
from specgen.drawings.selection import USES, shown, subject
from specgen.drawings.shapes import Bezier, Rect, Shape, Sheet, Stroke, TextShape, nothing
from specgen.drawings.strands import Strand, strands
from specgen.drawings.widths import LETTERS, width, wrapped
from specgen.facts.terms import STATE
from specgen.messages import listed, say, say_many

LANE: Final = 1.2  # points for a lane
LEFT: Final = 200.0  # breadth of the column of owners
FLOW: Final = 140.0  # between the columns
RIGHT: Final = 350.0
OWNER: Final = 104.0  # for the name of an owner's part
LEAST: Final = 16.0  # height of a row
LINE: Final = 11.0
OUTLINE: Final = 0.7


@dataclass(slots=True)
class _Bundle:
    """Alike strands: from ports of one owner to positions that are alike."""

    host: str
    ports: list[str] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    lanes: int = 0
    used: int = 0
    use: UseState = UseState.USED
    speed: str = ""

    @property
    def breadth(self) -> float:
        return max(0.6, self.lanes * LANE)


def lane_map(assembly: Assembly) -> Sheet:
    """Who gives lanes, and where they go."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("Lane map: {holder}", holder=clean(holder.name)))
    found, _board, _idle = strands(assembly, shown(assembly))
    bundles = _bundles(assembly, [one for one in found if one.lanes])
    if not bundles:
        return nothing(title, letter(say("No lanes are wired to any position.")), absent=True)
    rows = [_right(assembly, bundle) for bundle in bundles]
    shapes: list[Shape] = []
    y = 22.0
    host = ""
    order = list(dict.fromkeys(bundle.host for bundle in bundles))
    tops: dict[str, list[float]] = {}
    for bundle, lines in zip(bundles, rows, strict=True):
        if bundle.host != host:
            y += 8 if host else 0
            host = bundle.host
            tops[host] = [y, y]
        high = max(LEAST, bundle.breadth + 4, len(lines) * LINE + 4)
        if sum(one.host == host for one in bundles) == 1:
            high = max(high, 18 + LINE * len(_owner_words(assembly, host)))
        middle = y + high / 2
        shapes += _row(assembly, bundle, lines, middle, high)
        y += high
        tops[host][1] = y
    for name in order:
        top, low = tops[name]
        shapes += _owner(assembly, name, top, low)
    shapes += _legend(y + 18)
    wide = LEFT + FLOW + RIGHT
    shapes += [
        TextShape(0, 9, letter(say("gives lanes")), "small"),
        TextShape(LEFT + FLOW, 9, letter(say("takes lanes")), "small"),
        Stroke(((0, 14), (wide, 14)), "inner"),
    ]
    text = tuple(_words(bundle, lines) for bundle, lines in zip(bundles, rows, strict=True))
    return Sheet(title, text, wide, y + 26, tuple(shapes))


def _bundles(assembly: Assembly, found: Sequence[Strand]) -> list[_Bundle]:
    """Strands of one owner to positions with the same in them are one bundle, owner by owner."""
    made: dict[tuple[object, ...], _Bundle] = {}
    hosts = list(assembly.places)
    for strand in sorted(found, key=lambda one: hosts.index(one.feed.host)):
        place = assembly.places.get(strand.place)
        part = place.part.id if place is not None and place.part is not None else ""
        takes = place.position.takes if place is not None else ("board",)
        single = place is not None and place.part is not None and bool(place.part.brings.ports)
        key = (
            strand.feed.host, takes, part, strand.place if single else "",
            place and place.state, place and _why(place), strand.lanes, strand.used,
            strand.use, strand.speed,
        )  # fmt: skip
        bundle = made.setdefault(key, _Bundle(strand.feed.host, use=strand.use, speed=strand.speed))
        bundle.ports.append(strand.feed.port)
        bundle.places.append(strand.place)
        bundle.lanes += strand.lanes
        bundle.used += strand.used
    return list(made.values())


def _why(place: Place) -> object:
    """Why a position cannot be used, without the position that the reason begins with."""
    return "" if USES[place.state] is not UseState.UNUSABLE else subject(place.reason)[1]


def _right(assembly: Assembly, bundle: _Bundle) -> tuple[str, ...]:
    """The lines beside the end of a ribbon: positions, then what is there."""
    names = lettered(tuple(dict.fromkeys(bundle.places)))
    place = assembly.places.get(bundle.places[0])
    if place is None:
        what = letter(say("connector on the board"))
    elif place.part is not None:
        what = clean(place.part.name)
    else:
        what = (
            letter(say("empty"))
            if bundle.use is not UseState.UNUSABLE
            else letter(STATE[place.state])
        )
    if bundle.use is UseState.UNUSABLE and place is not None and place.reason:
        places = [assembly.places[name] for name in dict.fromkeys(bundle.places)]
        words = [*reasons(places)] or [letter(say("unusable: {reason}", reason=place.reason))]
        named = [clean(place.part.name)] if place.part is not None else []
        what = letter(listed([*named, *words]))
    elif bundle.use is UseState.UNUSABLE:
        owner = assembly.places.get(bundle.host)
        why = say("{place}, unusable", place=what)
        if owner is not None and not owner.filled:
            why = say(
                "{place}, unusable: {owner} is {state}",
                place=what,
                owner=owner.name,
                state=STATE[owner.state],
            )
        what = letter(why)
    room = RIGHT - 8
    return (*wrapped(names, room, LETTERS, bold=True), *wrapped(what, room, LETTERS))


def _state(bundle: _Bundle) -> str:
    if bundle.use is UseState.UNUSABLE:
        return letter(say("unusable"))
    if not bundle.used:
        return letter(say("free"))
    return "" if bundle.used >= bundle.lanes else letter(say("{used} in use", used=bundle.used))


def _lanes(bundle: _Bundle) -> str:
    each = bundle.lanes // len(bundle.places)
    many = len(bundle.places)
    lanes = f"{many} × x{each}" if many > 1 and each * many == bundle.lanes else f"x{bundle.lanes}"
    return ", ".join(word for word in (lanes, bundle.speed, _state(bundle)) if word)


def _row(
    assembly: Assembly, bundle: _Bundle, lines: Sequence[str], middle: float, high: float
) -> Iterator[Shape]:
    hint = _words(bundle, lines)
    yield from _ribbon((LEFT, middle), (LEFT + FLOW, middle), bundle, hint)
    ports = lettered(tuple(dict.fromkeys(bundle.ports))).replace(f"{bundle.host}.", "")
    names = tuple(dict.fromkeys(bundle.ports))
    at = assembly.ports.get(names[0])
    caption = f"{ports}  {port_words(at.port)}" if at is not None and len(names) == 1 else ports
    text = caption if width(caption, LETTERS) <= LEFT - OWNER - 16 else ports
    yield TextShape(LEFT - 6, middle + 2.9, text, "label", "end")
    x = LEFT + FLOW
    yield Stroke(((x, middle - high / 2 + 1), (x, middle + high / 2 - 1)), "axis")
    y = middle - len(lines) * LINE / 2 + 8.4
    place = assembly.places.get(bundle.places[0])
    part = place.part.id if place is not None and place.part is not None else ""
    pen = "reason" if bundle.use is UseState.UNUSABLE else "label"
    name, *more = [
        TextShape(x + 8, y + number * LINE, line, pen if number else "name")
        for number, line in enumerate(lines)
    ]
    yield replace(name, part=part if more and pen == "label" else "", continued=tuple(more))
    lanes = _lanes(bundle)
    half = width(lanes, LETTERS) / 2
    centre = LEFT + FLOW / 2
    yield Rect(centre - half - 4, middle - 5.5, 2 * half + 8, 11, "plate")
    yield TextShape(centre, middle + 2.9, lanes, "label", "middle")


def _ribbon(
    start: tuple[float, float], end: tuple[float, float], bundle: _Bundle, hint: str
) -> Iterator[Shape]:
    wide = bundle.breadth
    if bundle.use is UseState.UNUSABLE:
        yield Bezier(start, end, "ribbon-unusable", wide, hint)
    elif bundle.used >= bundle.lanes:
        yield Bezier(start, end, "ribbon-used", wide, hint)
    else:
        yield Bezier(start, end, "ribbon-free", wide, hint)
        if wide > 2 * OUTLINE + 0.4:
            yield Bezier(start, end, "ribbon-hollow", wide - 2 * OUTLINE)
        if bundle.used:
            yield Bezier(start, end, "ribbon-used", bundle.used * LANE)


def _owner(assembly: Assembly, name: str, top: float, low: float) -> Iterator[Shape]:
    """The box of an owner along all its ports."""
    place = assembly.places.get(name)
    filled = place is not None and place.filled
    yield Stroke(((LEFT, top + 1), (LEFT, low - 1)), "limit" if not filled else "axis")
    yield Rect(0, top + 1, 5, low - top - 2, "bar" if filled else "unusable", name)
    yield TextShape(11, top + 11, name, "name")
    room = int((low - top - 14) // LINE)
    for number, line in enumerate(_owner_words(assembly, name)[: max(0, room)]):
        yield TextShape(11, top + 21 + number * LINE, line, "label")


def _owner_words(assembly: Assembly, name: str) -> tuple[str, ...]:
    """What sits in an owner's position, in lines."""
    place = assembly.places.get(name)
    if place is None:
        return ()
    words = clean(place.part.name) if place.part is not None else letter(STATE[place.state])
    return wrapped(words, OWNER, LETTERS)


def _legend(y: float) -> Iterator[Shape]:
    x = 0.0
    for use, used, word in (
        (UseState.USED, 8, letter(say("in use"))),
        (UseState.USED, 4, letter(say("partly in use"))),
        (UseState.FREE, 0, letter(say("free"))),
        (UseState.UNUSABLE, 0, letter(say("unusable"))),
    ):
        sample = _Bundle("", lanes=8, used=used, use=use)
        yield from _ribbon((x, y), (x + 22, y), sample, "")
        yield TextShape(x + 27, y + 2.9, word, "small")
        x += 27 + width(word, LETTERS) + 16
    for lanes in (1, 4, 16):
        sample = _Bundle("", lanes=lanes, used=lanes)
        yield from _ribbon((x, y), (x + 22, y), sample, "")
        word = letter(say("one lane")) if lanes == 1 else f"x{lanes}"
        yield TextShape(x + 27, y + 2.9, word, "small")
        x += 27 + width(word, LETTERS) + 12


def _words(bundle: _Bundle, lines: Sequence[str]) -> str:
    ports = lettered(tuple(dict.fromkeys(bundle.ports)))
    lanes = say_many(bundle.lanes, "{number} lane", "{number} lanes")
    state = _state(bundle) or say("all in use")
    ends, what = listed(lines), listed([lanes, bundle.speed, state])
    return letter(say("{ports} to {ends}: {lanes}.", ports=ports, ends=ends, lanes=what))
