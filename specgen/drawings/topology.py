"""A system as a figure: processors with memory and root ports, and what their lanes reach."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from specgen.assembly import Assembly, Place
from specgen.drawings import boxes
from specgen.drawings.descriptions import in_words
from specgen.drawings.diagram import Box, BoxPort, Diagram, Group, Ribbon, TextLine, UseState
from specgen.drawings.lettering import letter, lettered
from specgen.drawings.selection import AlikePlaces, is_processor, memory, runs, shown
from specgen.drawings.strands import Strand, Unplugged, strands
from specgen.messages import listed, say, say_many
from specgen.model import Port


@dataclass(slots=True)
class _Topology:
    """The work in hand: which box stands for which position, which outlet for which port."""

    assembly: Assembly
    places: dict[str, Place]
    strands: list[Strand]
    idle: dict[str, list[Unplugged]]
    box_of: dict[str, str] = field(default_factory=dict)
    outlet_of: dict[str, str] = field(default_factory=dict)
    outlets: int = 0


def topology(assembly: Assembly) -> Diagram:
    """The figure of a resolved build, or of a bare platform; pure, and total."""
    places = shown(assembly)
    found, board, idle = strands(assembly, places)
    work = _Topology(assembly, places, found, idle)
    all_runs = runs(assembly, places)
    connectors = _alike_connectors(board, found)
    for number, run in enumerate(all_runs):
        work.box_of.update((name, f"b{number}") for name in run.names)
    for number, names in enumerate(connectors):
        work.box_of.update((name, f"c{number}") for name in names)
    groups = [*_groups(work, all_runs), *_connectors(work, connectors, board)]
    groups = [replace(group, id=f"g{number}") for number, group in enumerate(groups)]
    diagram = Diagram(
        title=letter(say("Topology: {name}", name=_name(assembly))),
        groups=tuple(groups),
        ribbons=tuple(_ribbons(work)),
    )
    return replace(diagram, text=in_words(diagram))


def _name(assembly: Assembly) -> str:
    holder = assembly.build if assembly.build is not None else assembly.platform
    return boxes.clean(holder.name)


def _groups(work: _Topology, all_runs: Sequence[AlikePlaces]) -> Iterable[Group]:
    """A group for each frame: its head, and what stands in it."""
    modules = memory(work.places)
    homes: dict[str, list[AlikePlaces]] = {}
    for run in all_runs:
        homes.setdefault(run.home, []).append(run)
    for home, members in homes.items():
        heads = [run for run in members if home in run.names]
        inner = tuple(_box(work, run) for run in members if home not in run.names)
        head = _box(work, heads[0]) if heads else None
        if heads and is_processor(heads[0].first):
            banks = modules.pop(home, [])
            yield Group("", head, _memory(work, banks), flanked=True)
        else:
            yield Group("", head, inner)
    for banks in modules.values():
        yield Group("", None, _memory(work, banks))


def _memory(work: _Topology, places: Sequence[Place]) -> tuple[Box, ...]:
    if not places:
        return ()
    names = tuple(place.name for place in places)
    grid = boxes.memory_grid(places)
    unusable = all(cell.use is UseState.UNUSABLE for row in grid for cell in row)
    use = UseState.UNUSABLE if unusable else UseState.USED
    id_ = f"m{list(work.places).index(names[0])}"
    return (Box(id_, "memory", use, names, boxes.memory_lines(places), grid=grid),)


def _box(work: _Topology, run: AlikePlaces) -> Box:
    place = run.first
    lines = boxes.lines(work.assembly, run, work.idle.get(place.name, ()))
    outlets = (*_ports(work, place), *_plugs(work, place))
    return Box(
        work.box_of[place.name], boxes.kind(place), run.use, run.names, lines, tuple(outlets)
    )


def _plugs(work: _Topology, place: Place) -> list[BoxPort]:
    made = []
    for plug in boxes.plugs(work.assembly, place):
        part = plug.part.id if plug.part is not None else ""
        name = lettered(plug.names)
        made.append(BoxPort(_number(work), name, plug.label, part, plug=True))
    return made


def _ports(work: _Topology, place: Place) -> list[BoxPort]:
    """Ports of the part in a position; alike ones that reach the same boxes are one outlet."""
    own: dict[str, Port | None] = {
        at.name: at.port for at in work.assembly.ports.values() if at.place is place
    }
    reach: dict[str, dict[str, None]] = {}
    wired: dict[str, int] = {}
    for strand in work.strands:
        if strand.feed.host == place.name:
            port = strand.feed.port
            own.setdefault(port, None)  # wired to, although no part brings it
            reach.setdefault(port, {})[work.box_of[strand.place]] = None
            wired[port] = wired.get(port, 0) + strand.lanes
    alike: dict[_Destination, list[str]] = {}
    for name, port_ in own.items():
        lanes = port_.lanes if port_ is not None else 0
        words = boxes.port_words(port_) if port_ is not None else letter(say("absent"))
        spare = max(0, lanes - wired.get(name, 0))
        key = _Destination(words, lanes, spare, tuple(reach.get(name, ())), port_ is not None)
        alike.setdefault(key, []).append(name)
    return [_outlet(work, place, key, names) for key, names in alike.items()]


class _Destination(NamedTuple):
    """What makes ports alike: their words, lanes and unwired lanes, and the boxes they reach."""

    words: str
    lanes: int
    spare: int
    boxes: tuple[str, ...]
    there: bool


def _outlet(work: _Topology, place: Place, reach: _Destination, names: list[str]) -> BoxPort:
    short = lettered(tuple(name.removeprefix(f"{place.name}.") for name in names))
    words = say("{ports}: {width}", ports=short, width=reach.words)
    if len(names) > 1 and reach.there:
        words = say("{ports}: {width} each", ports=short, width=reach.words)
    id_ = _number(work)
    work.outlet_of.update((name, id_) for name in names)
    return BoxPort(
        id_,
        lettered(tuple(names)),
        letter(words),
        lanes=reach.lanes * len(names),
        spare=reach.spare * len(names),
        use=UseState.USED if reach.there and place.filled else UseState.UNUSABLE,
    )


def _number(work: _Topology) -> str:
    work.outlets += 1
    return f"o{work.outlets - 1}"


def _alike_connectors(
    board: dict[str, Unplugged], found: Sequence[Strand]
) -> list[tuple[str, ...]]:
    """Free connectors on the board that one box can stand for: as wide, fed by the same part."""
    hosts = {strand.place: strand.feed.host for strand in found}
    alike: dict[tuple[object, ...], list[str]] = {}
    for name, lead in board.items():
        alike.setdefault((hosts.get(name), lead.lanes, lead.reason), []).append(name)
    return [tuple(names) for names in alike.values()]


def _connectors(
    work: _Topology, connectors: Sequence[tuple[str, ...]], board: dict[str, Unplugged]
) -> Iterable[Group]:
    for names in connectors:
        lead = board[names[0]]
        width = f"x{lead.lanes}"
        what = say("connector, {width}", width=width)
        if len(names) > 1:
            what = say("connector, {width} each", width=width)
        lines = [TextLine(lettered(names), "name"), TextLine(letter(what))]
        if lead.reason:
            lines.append(TextLine(letter(say("unusable: {reason}", reason=lead.reason)), "reason"))
        else:
            lines.append(TextLine(letter(say("no cable"))))
        use = UseState.UNUSABLE if lead.reason else UseState.FREE
        yield Group("", Box(work.box_of[names[0]], "port", use, names, tuple(lines)))


def _ribbons(work: _Topology) -> Iterable[Ribbon]:
    """Strands between the same outlet and box are one ribbon."""
    merged: dict[tuple[str, str, UseState], list[Strand]] = {}
    for strand in work.strands:
        tail = work.outlet_of.get(strand.feed.port)
        if tail is not None and strand.lanes:
            merged.setdefault((tail, work.box_of[strand.place], strand.use), []).append(strand)
    for number, ((tail, head, use), same) in enumerate(merged.items()):
        lanes, used = sum(one.lanes for one in same), sum(one.used for one in same)
        source = lettered(tuple(dict.fromkeys(one.feed.port for one in same)))
        end = lettered(tuple(dict.fromkeys(one.place for one in same)))
        speeds = [speed for speed in dict.fromkeys(one.speed for one in same) if speed]
        state = {
            UseState.USED: say("all in use") if used == lanes else say("{used} in use", used=used),
            UseState.FREE: say("free"),
            UseState.UNUSABLE: say("unusable"),
        }[use]
        count = say_many(lanes, "{number} lane", "{number} lanes")
        way = say("{end} from {source}: {lanes}", end=end, source=source, lanes=count)
        words = letter(listed([way, *speeds, state]))
        yield Ribbon(f"r{number}", tail, head, lanes, used, use, words)
