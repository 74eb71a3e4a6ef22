"""Fills positions until nothing new appears: parts bring positions, which take parts."""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import field, replace

from specgen.assembly.absent import unknown_positions
from specgen.assembly.full_names import full_name
from specgen.assembly.result import Absent, Place, PortAt, State
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.frozen import frozen, state
from specgen.messages import Message, say
from specgen.model import (
    Build,
    Definitions,
    Fill,
    Lead,
    Origin,
    Part,
    Platform,
    Position,
    expand,
    nth,
    piece_of,
    places,
)
from specgen.model.pedigree import FieldPath

MOST_PLACES = 20_000  # of one system; parts that bring one another for ever stop here

MOST_ABSENT = 500
"""Positions that are not there and are told: each is compared with all that are."""


@frozen
class Request:
    """What a build puts into one position."""

    fill: Fill
    part: Part | None
    key: Span
    piece: Span
    """What stands between two commas of the key."""
    value: Span


@state
class Filling:
    """The state of the work: positions and ports so far, requests not yet met."""

    definitions: Definitions
    requests: dict[str, Request]
    places: dict[str, Place] = field(default_factory=dict)
    ports: dict[str, PortAt] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    met: set[str] = field(default_factory=set)
    full: bool = False


def fill(
    definitions: Definitions, platform: Platform, build: Build | None
) -> tuple[Filling, tuple[Absent, ...]]:
    """Every position of the system, filled as the build, the board and its blanks say."""
    findings: list[Finding] = []
    requests = _requests(definitions, build, findings)
    work = Filling(definitions, requests, findings=findings)
    waiting: deque[Place] = deque()
    waiting.extend(new_places(work, platform.origin, platform.positions, None, 0, ("positions",)))
    while waiting and not work.full:
        place = waiting.popleft()
        _occupy(work, place)
        if place.part is not None and not place.part.closes:
            waiting.extend(_bring(work, place, place.part))
    absent = tuple(
        Absent(name, request.part, request.key, request.piece)
        for name, request in requests.items()
        if name not in work.met
    )
    work.findings += unknown_positions(definitions, work.places, absent[:MOST_ABSENT])
    return work, absent


def _requests(
    definitions: Definitions, build: Build | None, findings: list[Finding]
) -> dict[str, Request]:
    requests: dict[str, Request] = {}
    if build is None:
        return requests
    again: dict[Span, dict[Span, list[str]]] = {}
    for text, filling in build.fit.items():
        key = build.origin.key("fit", text)
        short = build.origin.written("fit", text) is not None
        value = build.origin.at("fit", text) if short else build.origin.at("fit", text, "part")
        names = expand(text)
        for index, name in enumerate(names):
            piece = key.part(text, piece_of(text, name))
            if name in requests:
                twice = again.setdefault(piece, {})
                twice.setdefault(requests[name].piece, []).append(name)
                continue
            to = nth(filling.to, index, len(names))
            own = filling if to == filling.to else replace(filling, to=to)
            requests[name] = Request(own, definitions.parts.get(filling.part), key, piece, value)
    findings += _all_filled_twice(again)
    return requests


def _all_filled_twice(again: Mapping[Span, Mapping[Span, list[str]]]) -> Iterator[Finding]:
    """A range that fills what several lines fill is one mistake, whichever stands first."""
    of_first: dict[Span, dict[Span, list[str]]] = {}
    for second, firsts in again.items():
        if len(firsts) > 1:
            names = tuple(name for each in firsts.values() for name in each)
            yield _filled_twice(names, second, *firsts)
        else:
            ((first, each),) = firsts.items()
            of_first.setdefault(first, {})[second] = each
    for first, seconds in of_first.items():
        names = tuple(name for each in seconds.values() for name in each)
        yield _filled_twice(names, next(iter(seconds)), first)


def _filled_twice(names: tuple[str, ...], second: Span, *firsts: Span) -> Finding:
    return Finding(
        codes.POSITION_FILLED_TWICE,
        say("{name} is filled twice", name=names[0])
        if len(names) == 1
        else say("{names} are filled twice", names=places(names)),
        Label(second, say("second part for it")),
        labels=tuple(Label(first, say("first part for it")) for first in firsts),
        help=say("a position takes one part; delete one line or narrow its range"),
    )


def new_places(
    work: Filling,
    origin: Origin,
    positions: tuple[Position, ...],
    host: str | None,
    offset: int,
    path: FieldPath,
) -> list[Place]:
    """New positions under their full names, references resolved against the host."""
    own = {
        name: full_name(name, host, offset)
        for position in positions
        for name in expand(position.name)
    }
    made, known = [], work.definitions.kinds.keys()
    for number, position in enumerate(positions):
        names, way = expand(position.name), (*path, number)
        open_to_all = not known >= set(position.takes)
        for index, name in enumerate(names):
            place = _place(position, own, host, (index, len(names)))
            place.name, place.origin, place.path = own[name], origin, way
            place.open_to_all = open_to_all
            if place.name in work.places:
                work.findings.append(_brought_twice(place, work.places[place.name]))
            elif len(work.places) >= MOST_PLACES:
                work.full = True
            else:
                work.places[place.name] = place
                made.append(place)
    return made


def _place(position: Position, own: dict[str, str], host: str | None, at: tuple[int, int]) -> Place:
    def name(text: str | None) -> str | None:
        text = nth(text, *at)
        return None if text is None else own.get(text) or full_name(text, host, 0)

    lead = None
    if position.from_ is not None:
        source = name(position.from_) or ""
        lanes = position.lanes or position.connector or 1
        lead = Lead(from_=source, lanes=lanes, generation=position.generation)
    leads = {
        label: replace(inner, from_=name(inner.from_) or "")
        for label, inner in position.leads.items()
    }
    return Place(
        name="",
        position=position,
        host=host,
        origin=Origin(),
        path=(),
        of=name(position.of),
        cools=name(position.cools),
        neighbour=name(position.neighbour),
        lead=lead,
        leads=leads,
    )


def _brought_twice(second: Place, first: Place) -> Finding:
    return Finding(
        codes.DUPLICATE_POSITION,
        say("{second} is brought twice", second=second.name),
        Label(second.declared_at, _bringer(second)),
        labels=(Label(first.declared_at, _bringer(first)),),
        help=say("give one of them another name")
        if second.host is None
        else say("give the place it comes from an `offset`, or start the name with a dot"),
    )


def _bringer(place: Place) -> Message:
    if place.host:
        return say("brought by the part in {place}", place=place.host)
    return say("brought by the platform")


def _occupy(work: Filling, place: Place) -> None:
    """Puts into a position what belongs there: the soldered part, the build's, or the blank."""
    position = place.position
    request = work.requests.get(place.name)
    if request is not None:
        work.met.add(place.name)
        place.filled_at, place.to = request.value, request.fill.to
        if request.part is None:
            place.state = State.UNKNOWN
        elif request.part.closes:
            place.closed_by, place.how = request.part, "build"
        else:
            place.state, place.part = State.FILLED, request.part
        return
    if position.fixed is not None and _brings_itself(work, place, position.fixed):
        work.findings.append(_circle(place, position.fixed))
    elif position.fixed is not None:
        part = work.definitions.parts.get(position.fixed)
        place.how = "fixed"
        if part is None:
            place.state = State.UNKNOWN
        elif part.closes:
            place.closed_by = part
        else:
            place.state, place.part = State.FILLED, part
    elif position.blank is not None:
        place.how = "blank"
        place.closed_by = work.definitions.parts.get(position.blank)


def _brings_itself(work: Filling, place: Place, part: str) -> bool:
    """Whether a part would be soldered into what it brought itself, and so on for ever."""
    host = work.places.get(place.host or "")
    while host is not None:
        if host.part is not None and host.part.id == part:
            return True
        host = work.places.get(host.host or "")
    return False


def _circle(place: Place, part: str) -> Finding:
    return Finding(
        codes.LINK_CYCLE,
        say("`{part}` brings a place that holds `{part}` again", part=part),
        Label(place.origin.at(*place.path, "fixed"), say("without an end")),
        help=say("solder in another part, or leave `fixed` out"),
    )


def _bring(work: Filling, place: Place, part: Part) -> list[Place]:
    for number, port in enumerate(part.brings.ports):
        for name in expand(port.name):
            full = f"{place.name}.{name}"
            behind = port.behind
            if behind is not None:
                port = replace(port, behind=full_name(behind, place.name, 0))
            work.ports[full] = PortAt(full, port, place, part, ("brings", "ports", number))
    offset = place.position.offset
    return new_places(
        work, part.origin, part.brings.positions, place.name, offset, ("brings", "positions")
    )
