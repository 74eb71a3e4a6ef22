"""Every stretch of lanes a topology shows, from a port to a position, before alike ones merge."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from specgen.assembly import Assembly, Link, Place, State
from specgen.drawings.diagram import UseState
from specgen.drawings.far_ends import ANY_WIDTH, FarEnd, far_end, link_behind, wiring
from specgen.drawings.lettering import letter
from specgen.drawings.selection import USES
from specgen.facts.terms import STATE
from specgen.frozen import frozen
from specgen.messages import Words, say
from specgen.model import Lead


@frozen
class Strand:
    """Lanes from `feed` to the box of `place`: so many wired, so many of them at work."""

    feed: FarEnd
    place: str
    lanes: int
    used: int
    use: UseState
    speed: str


@frozen
class Unplugged:
    """A connector on the board that no cable goes to, or lanes that a riser does not take up."""

    name: str
    lanes: int
    reason: Words


def speed(protocol: str, generation: int) -> str:
    """How fast, in the words of the standard: Gen 5, SAS-4, SATA."""
    if protocol == "sata":
        return "SATA"
    if not generation:
        return ""
    names = {
        "pcie": letter(say("Gen {generation}", generation=generation)),
        "sas": letter(say("SAS-{generation}", generation=generation)),
        "usb": letter(say("USB {generation}", generation=generation)),
    }
    return names.get(protocol, f"{protocol} {generation}")


def strands(
    assembly: Assembly, places: Mapping[str, Place]
) -> tuple[list[Strand], dict[str, Unplugged], dict[str, list[Unplugged]]]:
    """Strands to positions; free connectors on the board; free leads of positions by position."""
    found = [
        strand
        for place in places.values()
        for strand in (*_own(assembly, place), *_behind(assembly, place))
    ]
    taken = {stage.name for link in _all_links(assembly, places) for stage in link.stages}
    left = _left(assembly, found)
    board: dict[str, Unplugged] = {}
    for name, lead in assembly.platform.leads.items():
        if name not in taken:
            lead_, strand = _unplugged(assembly, left, name, name, lead)
            board[name] = lead_
            found += strand
    idle: dict[str, list[Unplugged]] = {}
    for place in places.values():
        for label, lead in place.leads.items():
            if f"{place.name}.{label}" not in taken:
                lead_, strand = _unplugged(assembly, left, place.name, label, lead)
                if USES[place.state] is UseState.UNUSABLE:
                    lead_ = replace(lead_, reason=place.reason)
                    strand = [replace(one, use=UseState.UNUSABLE) for one in strand]
                if strand or not place.filled:
                    idle.setdefault(place.name, []).append(lead_)
                found += strand
    return found, board, idle


def _left(assembly: Assembly, found: Sequence[Strand]) -> dict[str, int]:
    """Lanes of each port that no strand takes. Leads may share them: one riser or another."""
    left = {at.name: at.port.lanes for at in assembly.ports.values()}
    for strand in found:
        if strand.feed.port in left:
            left[strand.feed.port] -= strand.lanes
    return left


def _unplugged(
    assembly: Assembly, left: dict[str, int], box: str, label: str, lead: Lead
) -> tuple[Unplugged, list[Strand]]:
    """A lead that nothing takes up, and the lanes that end there, if its port has any left."""
    source = far_end(assembly, lead.from_)
    reason = _why_dead(assembly, source)
    made = Unplugged(label, lead.lanes, reason)
    if source is None:
        return made, []
    lanes = max(0, min(lead.lanes, left.get(source.port, lead.lanes)))
    if source.port in left:
        left[source.port] -= lanes
    use = UseState.UNUSABLE if reason else UseState.FREE
    return made, [Strand(source, box, lanes, 0, use, "")] if lanes else []


def _own(assembly: Assembly, place: Place) -> Iterator[Strand]:
    link = assembly.links.get(place.name)
    if link is None or place.lead is None:
        return
    source = far_end(assembly, place.lead.from_)
    if source is None:
        return
    use = UseState.UNUSABLE if link.broken else USES[place.state]
    used = min(link.lanes, link.wired) if use is UseState.USED else 0
    rate = speed(*wiring(link, place))
    yield Strand(source, place.name, link.wired, used, use, rate)


def _behind(assembly: Assembly, place: Place) -> Iterator[Strand]:
    """What feeds the switch or expander of the part in a position, apart from its own link."""
    for source in _sources_behind(place):
        found = far_end(assembly, source)
        link = link_behind(assembly, place, source)
        if found is None or link.wired >= ANY_WIDTH or found.host == place.name:
            continue
        use = UseState.UNUSABLE if link.broken else USES[place.state]
        used = link.wired if use is UseState.USED else 0
        rate = speed(*wiring(link, place))
        yield Strand(found, place.name, link.wired, used, use, rate)


def _sources_behind(place: Place) -> list[str]:
    if place.part is None or place.state is not State.FILLED:
        return []
    named = dict.fromkeys(port.behind for port in place.part.brings.ports if port.behind)
    sources = [place.name if name == "." else f"{place.name}{name}" for name in named if name]
    return [source for source in sources if source != place.name]


def _all_links(assembly: Assembly, places: Mapping[str, Place]) -> Iterator[Link]:
    yield from assembly.links.values()
    for place in places.values():
        for source in _sources_behind(place):
            yield link_behind(assembly, place, source)


def _why_dead(assembly: Assembly, source: FarEnd | None) -> str:
    """Why nothing can come from a port; empty where it can."""
    if source is None:
        return letter(say("nothing feeds it"))
    if source.port in assembly.ports:
        place = assembly.ports[source.port].place
        return (
            ""
            if place.state is State.FILLED
            else letter(say("{place} is {state}", place=place.name, state=STATE[place.state]))
        )
    host = assembly.places[source.host]
    if host.state is State.FILLED:
        return letter(say("there is no port {port}", port=source.port))
    return letter(say("{place} is {state}", place=host.name, state=STATE[host.state]))
