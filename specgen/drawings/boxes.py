"""The lines, outlets and memory grids of boxes: what stands in them, word by word."""

from collections.abc import Iterator, Sequence

from specgen.assembly import Assembly, Link, Place, State
from specgen.assembly.result import of_several
from specgen.drawings.diagram import BoxKind, GridCell, TextLine, UseState
from specgen.drawings.far_ends import wiring
from specgen.drawings.lettering import letter, lettered
from specgen.drawings.selection import USES, AlikePlaces, is_memory, is_processor, subject, takes
from specgen.drawings.strands import Unplugged, speed
from specgen.facts.terms import STATE
from specgen.frozen import frozen
from specgen.messages import Words, listed, say, say_many
from specgen.model import (
    Drive,
    EthernetPort,
    HasEthernet,
    MemoryModule,
    Part,
    Port,
    Processor,
    expand,
)
from specgen.model import places as places_
from specgen.quantity import show

MOST_ROWS = 16  # of a memory grid; beyond that, alike channels share a row


def kind(place: Place) -> BoxKind:
    """Which kind of box a position is drawn as."""
    if is_processor(place):
        return "processor"
    if is_memory(place):
        return "memory"
    if takes(place, "riser") or takes(place, "backplane"):
        return "riser"
    if takes(place, "drive"):
        return "bay"
    if takes(place, "cable"):
        return "port"
    return "adapter" if place.filled else "slot"


def clean(text: str) -> str:
    """One line, whatever was defined."""
    return " ".join(text.split())


def lines(assembly: Assembly, run: AlikePlaces, idle: Sequence[Unplugged]) -> tuple[TextLine, ...]:
    """All lines of a box: name, wiring, part, what limits it, cables, why it cannot be used."""
    place = run.first
    link = assembly.links.get(place.name)
    wired = _wiring(place, link, len(run.places))
    empty = _empty(run)
    if empty and place.state is not State.UNUSABLE:
        wired, empty = letter(listed((wired, empty))), ""
    made = [TextLine(lettered(run.names), "name"), TextLine(wired, "aside"), TextLine(empty)]
    made += [*_part(run), *_limited(place, link), *_cables(assembly, place)]
    made += [TextLine(text) for text in _idle(idle, place)]
    made += [TextLine(text, "reason") for text in reasons(run.places)]
    return tuple(line for line in made if line.text)


def reasons(places: Sequence[Place]) -> Iterator[str]:
    """Why positions cannot be used; `J2 has no cable` and `J3 has no cable` is said once."""
    alike: dict[tuple[State, Words], list[Place]] = {}
    for place in places:
        if USES[place.state] is UseState.UNUSABLE:
            alike.setdefault((place.state, subject(place.reason)[1]), []).append(place)
    for (state, _), members in alike.items():
        reason = members[0].reason
        about = tuple(filter(None, dict.fromkeys(subject(each.reason)[0] for each in members)))
        why = of_several(reason, about)
        yield letter(say("{state}: {reason}", state=STATE[state], reason=why))


def _wiring(place: Place, link: Link | None, count: int) -> str:
    """Mechanical and electrical width, and how fast the wiring allows."""
    if is_processor(place) or (link is None and place.position.connector is None):
        return ""
    words = []
    if place.position.connector is not None:
        words.append(letter(say("{connector} slot", connector=f"x{place.position.connector}")))
    if link is not None:
        words.append(letter(say("{wired} wired", wired=f"x{link.wired}")))
        words.append(speed(*wiring(link, place)))
    made = letter(listed(word for word in words if word))
    return letter(say("{width} each", width=made)) if count > 1 and made else made


def _empty(run: AlikePlaces) -> str:
    place, count = run.first, len(run.places)
    if place.part is not None:
        return ""
    many = letter(say("{count} positions", count=count)) if count > 1 else ""
    if run.use is UseState.UNUSABLE:
        return many
    empty = letter(say("part not known")) if place.state is State.UNKNOWN else letter(say("empty"))
    return f"{many} {empty}".strip()


def _part(run: AlikePlaces) -> Iterator[TextLine]:
    place, count = run.first, len(run.places)
    part = place.part
    if part is None:
        return
    times = f"{count} × " if count > 1 else ""
    if isinstance(part, Drive):
        yield TextLine(f"{times}{show(part.capacity)}")
        times = ""
    yield TextLine(f"{times}{clean(part.name)}", "part", part.id)
    if isinstance(part, Processor):
        yield TextLine(letter(say_many(part.cores, "{number} core", "{number} cores")))


def _limited(place: Place, link: Link | None) -> Iterator[TextLine]:
    """What remains where the fitted part is narrower or slower than its wiring."""
    if link is None or not place.filled or link.broken:
        return
    _protocol, fast = wiring(link, place)
    if link.lanes < link.wired or link.generation < fast or link.speaks != link.protocol:
        words = [f"x{link.lanes}", speed(link.speaks, link.generation)]
        yield TextLine(letter(say("runs at {speed}", speed=listed(words))))


def _cables(assembly: Assembly, place: Place) -> Iterator[TextLine]:
    """Connectors for cables on the part in a position: which cable, from where."""
    alike: dict[str, list[Place]] = {}
    for other in assembly.places.values():
        if other.host == place.name and takes(other, "cable"):
            alike.setdefault(other.part.id if other.part is not None else "", []).append(other)
    for id_, connectors in alike.items():
        labels = lettered(tuple(one.name.removeprefix(f"{place.name}.") for one in connectors))
        part = connectors[0].part
        if part is None:
            yield TextLine(letter(say("{labels}: no cable", labels=labels)))
            continue
        ends = tuple(one.to for one in connectors if one.to is not None)
        times = f"{len(connectors)} × " if len(connectors) > 1 else ""
        source = places_(ends) if ends else say("nowhere")
        route = say("{labels} from {places}", labels=labels, places=source)
        cable = f"{times}{clean(part.name)}"
        yield TextLine(letter(say("{way}: {cable}", way=route, cable=cable)), "part", id_)


def _idle(leads: Sequence[Unplugged], place: Place) -> Iterator[str]:
    """Lanes that the part in a position does not take up, those with one reason together."""
    alike: dict[Words, list[str]] = {}
    for lead in leads:
        alike.setdefault(lead.reason, []).append(f"{lead.name} x{lead.lanes}")
    for reason, names in alike.items():
        text = say_many(len(names), "lead {leads}", "leads {leads}", leads=listed(names))
        if reason and reason != place.reason:
            text = say("{leads}, unusable: {reason}", leads=text, reason=reason)
        elif place.filled:
            text = say("{leads} not taken up", leads=text)
        yield letter(text)


@frozen
class Plug:
    """Alike ports of an adapter that a person plugs into."""

    names: tuple[str, ...]
    label: str
    part: Part | None


def plugs(assembly: Assembly, place: Place) -> list[Plug]:
    """Ports at the outside of the system, alike ones together, and what sits in their cages."""
    alike: dict[tuple[object, ...], tuple[str, Part | None, list[str]]] = {}
    listed = set()
    part = place.part
    if isinstance(part, HasEthernet):
        for port in part.ethernet:
            for name in expand(port.name):
                cage = assembly.places.get(f"{place.name}.{name.removeprefix('.')}")
                inside = cage.part if cage is not None else None
                words = _plug_words(port, cage)
                key = (words, inside and inside.id)
                alike.setdefault(key, (words, inside, []))[2].append(name.removeprefix("."))
                listed.add(cage and cage.name)
    for cage in assembly.places.values():
        if cage.host == place.name and takes(cage, "transceiver") and cage.name not in listed:
            words = _cage_words(cage)
            key = (words, cage.part and cage.part.id)
            label = cage.name.removeprefix(f"{place.name}.")
            alike.setdefault(key, (words, cage.part, []))[2].append(label)
    made = []
    for words, inside, names in alike.values():
        label = lettered(tuple(names)) + (f": {words}" if words else "")
        full = tuple(f"{place.name}.{name}" for name in names)
        made.append(Plug(full, label, inside))
    return made


def _plug_words(port: EthernetPort, cage: Place | None) -> str:
    words: list[Words] = [
        say("{speed} {connector}", speed=port.speed, connector=port.connector.upper())
    ]
    if port.management:
        words.append(say("management"))
    if port.shared:
        words.append(say("also management"))
    if cage is not None:
        words.append(_cage_words(cage))
    return letter(listed(words))


def _cage_words(cage: Place) -> str:
    if USES[cage.state] is UseState.UNUSABLE:
        return letter(say("unusable: {reason}", reason=cage.reason))
    return clean(cage.part.name) if cage.part is not None else letter(say("empty cage"))


def port_words(port: Port) -> str:
    """Width and speed of a port as its owner gives it: x16 Gen 5."""
    speeds = [speed(str(protocol), top) for protocol, top in port.carries.items()]
    return " ".join([f"x{port.lanes}", "/".join(speeds)])


def memory_lines(places: Sequence[Place]) -> tuple[TextLine, ...]:
    """Head of a memory box: how many channels, which modules; why none can be used."""
    channels = len({_channel(place) for place in places})
    count_words = say_many(channels, "{number} channel", "{number} channels")
    made = [TextLine(letter(say("Memory")), "name"), TextLine(letter(count_words))]
    counts: dict[str, tuple[Part, int]] = {}
    for place in places:
        if place.part is not None:
            counts[place.part.id] = (place.part, counts.get(place.part.id, (place.part, 0))[1] + 1)
    made += [
        TextLine(f"{count} × {clean(part.name)}", "part", part.id)
        for part, count in counts.values()
    ]
    dead = [place for place in places if USES[place.state] is UseState.UNUSABLE]
    if dead:
        made.append(TextLine(lettered(tuple(place.name for place in dead))))
    made += [TextLine(text, "reason") for text in reasons(places)]
    return tuple(made)


def memory_grid(places: Sequence[Place]) -> tuple[tuple[GridCell, ...], ...]:
    """A row for each channel, a cell for each position; no grid where nothing can be used."""
    if all(USES[place.state] is UseState.UNUSABLE and place.part is None for place in places):
        return ()
    rows: dict[str, list[Place]] = {}
    for place in places:
        rows.setdefault(_channel(place), []).append(place)
    prefix = _shared_word([place.name for place in places])
    grid = [tuple(_cell([place], prefix) for place in row) for row in rows.values()]
    return tuple(grid) if len(grid) <= MOST_ROWS else _folded(list(rows.values()), prefix)


def _folded(rows: list[list[Place]], prefix: str) -> tuple[tuple[GridCell, ...], ...]:
    """Channels filled alike share a row."""
    alike: dict[tuple[object, ...], list[list[Place]]] = {}
    for row in rows:
        key = tuple((place.state, place.part and place.part.id) for place in row)
        alike.setdefault(key, []).append(row)
    return tuple(
        tuple(_cell(list(column), prefix) for column in zip(*same, strict=True))
        for same in alike.values()
    )


def _cell(places: list[Place], prefix: str) -> GridCell:
    place = places[0]
    name = lettered(tuple(one.name for one in places))
    part = place.part
    use = USES[place.state]
    if isinstance(part, MemoryModule):
        text = show(part.capacity)
    elif part is not None:
        text = clean(part.name)
    else:
        text = letter(say("empty")) if use is UseState.FREE else letter(say("unusable"))
    label = lettered(tuple(one.name.removeprefix(prefix) for one in places))
    return GridCell(name, label, text, use, part.id if part is not None else "")


def _channel(place: Place) -> str:
    return place.position.channel or place.name


def _shared_word(names: list[str]) -> str:
    """The first word of all names, `DIMM `, which a grid need not repeat."""
    first = names[0].partition(" ")[0] + " "
    return first if all(name.startswith(first) for name in names) else ""
