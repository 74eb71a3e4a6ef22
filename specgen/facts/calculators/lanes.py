"""PCIe lanes of a processor: owned, in use, free; what hangs on it and what is lost without it."""

from collections.abc import Iterator
from functools import partial

from specgen.assembly import Assembly, Link, Place, PortAt, State
from specgen.assembly.result import is_empty
from specgen.facts.calculators.links import link_trail
from specgen.facts.calculators.subjects import PROCESSORS, SOCKETS
from specgen.facts.fact import Declared, Fact, Trail
from specgen.facts.inputs import Inspected, fit_leaf, of_thing, position_leaf
from specgen.facts.registry import Calculators
from specgen.facts.terms import STATE
from specgen.messages import NONE, Words, say
from specgen.model import Lead, MemoryModule, Span, places

fact = Calculators()


def _needs(assembly: Assembly, place: Place, lost: set[str], socket: str) -> bool:
    """Whether a place cannot work without the socket, given those known not to."""
    if place.of in lost or place.host in lost:
        return True
    link = assembly.links.get(place.name)
    if link is None:
        return False
    if link.root is not None:
        return link.root.place.name in lost
    return link.broken == is_empty(socket)


def dependent(assembly: Assembly, socket: str) -> tuple[Place, ...]:
    """Positions that cannot work without what sits in the socket, or in another position."""
    lost, size = {socket}, 0
    while len(lost) > size:
        size = len(lost)
        for place in assembly.places.values():
            if place.name not in lost and _needs(assembly, place, lost, socket):
                lost.add(place.name)
    return tuple(assembly.places[name] for name in assembly.places if name in lost - {socket})


def _lost(assembly: Assembly, _: str) -> tuple[tuple[str, ...], Trail]:
    """Positions that are unusable because a processor is missing."""
    names: list[str] = []
    trail: Trail = ()
    for socket in SOCKETS.listed(assembly):
        trail = (*trail, fit_leaf(assembly.places[socket]))
        if assembly.places[socket].state is not State.EMPTY:
            continue
        unusable = tuple(
            place for place in dependent(assembly, socket) if place.state is State.UNUSABLE
        )
        names += [place.name for place in unusable]
        trail = (*trail, *map(position_leaf, unusable))
    return tuple(names), trail


@fact(
    "expansion.lost",
    say("Unusable for want of a processor"),
    formula=say("positions that an empty processor socket leaves without use"),
    names=Inspected(_lost),
)
def lost(names: tuple[str, ...]) -> Words:
    return places(names) if names else NONE


def _gives_pcie(port: PortAt, processor: str) -> bool:
    return port.place.name == processor and "pcie" in port.port.carries


@fact.seen(
    "expansion.{processor}.lanes",
    say("PCIe lanes owned"),
    short=say("Lanes owned"),
    formula=say("sum over the processor's ports"),
    over=PROCESSORS,
)
def lanes(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    ports = [port for port in assembly.ports.values() if _gives_pcie(port, processor)]
    trail = tuple(
        Declared(
            of_thing(port.name, f"x{port.port.lanes}"),
            port.port.lanes,
            partial(port.part.origin.place, *port.path),
            port.part.source,
        )
        for port in ports
    )
    return sum(port.port.lanes for port in ports), trail


def passed_through(assembly: Assembly) -> frozenset[Words]:
    """Positions that only hand their lanes on to others."""
    return frozenset(
        stage.name
        for link in assembly.links.values()
        for stage in link.stages
        if stage.name != link.place
    )


def ends(assembly: Assembly) -> Iterator[tuple[Place, Link]]:
    """Links to filled positions that lead on to no other, and those that feed a switch.

    A switch on a card is fed through the link of its slot, which is among the first.
    """
    passed = passed_through(assembly)
    for name, link in assembly.links.items():
        if name not in passed and assembly.places[name].filled:
            yield assembly.places[name], link
    for link in assembly.uplinks.values():
        if not link.broken:
            yield assembly.places[link.place], link


@fact.seen(
    "expansion.{processor}.lanes_used",
    say("PCIe lanes allocated"),
    short=say("Allocated"),
    formula=say(
        "lanes wired to positions that are filled, and to switches; of a port no more than it has"
    ),
    over=PROCESSORS,
)
def lanes_used(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Lanes that reach what is fitted and that this processor owns; of a port never more than all.

    Positions that may share a port in several ways are each wired with the most they may get.
    """
    taken: dict[str, int] = {}
    trail: list[Fact | Declared] = []
    for place, link in ends(assembly):
        if link.owner is None or not _gives_pcie(link.owner, processor):
            continue
        port = link.owner
        taken[port.name] = min(taken.get(port.name, 0) + link.wired, port.port.lanes)
        trail.append(fit_leaf(place))
        trail += link_trail(link)
    return sum(taken.values()), tuple(trail)


@fact(
    "expansion.{processor}.lanes_free",
    say("PCIe lanes unallocated"),
    short=say("Unallocated"),
    formula=say("owned less allocated"),
    over=PROCESSORS,
    owned="expansion.{processor}.lanes",
    used="expansion.{processor}.lanes_used",
)
def lanes_free(owned: int, used: int) -> int:
    return owned - used


def _host(assembly: Assembly, port: PortAt) -> str:
    """The processor behind a port: a controller's own ports lead on through its position."""
    seen: set[str] = set()
    while port.name not in seen:
        seen.add(port.name)
        link = assembly.links.get(port.place.name)
        if link is None or link.root is None:
            return port.place.name
        port = link.root
    return port.place.name


def _local(assembly: Assembly, processor: str) -> tuple[tuple[str, ...], Trail]:
    """What is fitted and reached through this processor, behind switches and controllers too."""
    names: list[str] = []
    trail: Trail = (fit_leaf(assembly.places[processor]),)
    passed = passed_through(assembly)
    for name, link in assembly.links.items():
        place = assembly.places[name]
        root = link.root
        if root is None or name in passed or not place.filled:
            continue
        if _host(assembly, root) == processor:
            names.append(name)
            trail = (*trail, fit_leaf(place))
    return tuple(names), trail


@fact(
    "expansion.{processor}.owns",
    say("Reached through this processor"),
    short=say("Reached through it"),
    formula=say(
        "fitted positions whose lanes come from it, directly or through switches and controllers"
    ),
    over=PROCESSORS,
    names=Inspected(_local),
)
def owns(names: tuple[str, ...]) -> Words:
    return places(names) if names else NONE


@fact(
    "expansion.{socket}.present",
    say("In the socket"),
    short=say("Fitted"),
    formula=say("what sits in it, or its state"),
    over=SOCKETS,
    place=Inspected(
        lambda assembly, name: (assembly.places[name], (fit_leaf(assembly.places[name]),))
    ),
)
def present(place: Place) -> Words:
    return place.part.name if place.part is not None and place.filled else STATE[place.state]


def _rests(assembly: Assembly, socket: str) -> tuple[tuple[Place, ...], Trail]:
    found = dependent(assembly, socket)
    leaves = tuple(position_leaf(place) for place in found)
    return found, (fit_leaf(assembly.places[socket]), *leaves)


@fact(
    "expansion.{socket}.needed_by",
    say("Lost without a processor here"),
    short=say("Lost without it"),
    formula=say(
        "positions that belong to it, whose lanes come from it, or that such parts bring; "
        "memory apart"
    ),
    over=SOCKETS,
    found=Inspected(_rests),
)
def needed_by(found: tuple[Place, ...]) -> Words:
    names = tuple(each.name for each in found if MemoryModule.kind not in each.position.takes)
    return places(names) if names else NONE


@fact(
    "expansion.{socket}.memory_slots",
    say("Memory slots lost without a processor here"),
    short=say("Memory slots lost"),
    formula=say("positions for memory that belong to it"),
    over=SOCKETS,
    places=Inspected(_rests),
)
def memory_slots(places: tuple[Place, ...]) -> int:
    return sum(MemoryModule.kind in place.position.takes for place in places)


def _feeds(lead: Lead | None, socket: str) -> bool:
    return lead is not None and lead.from_.startswith(f"{socket}.")


def _at(span: Span) -> Span:
    return span


@fact.seen(
    "expansion.{socket}.lanes_wired",
    say("Lanes lost without a processor here"),
    short=say("Wired lanes lost"),
    formula=say("sum over positions and leads of the board that come from its ports"),
    over=SOCKETS,
)
def lanes_wired(assembly: Assembly, socket: str) -> tuple[int, Trail]:
    """Lanes that positions and leads of the board take from the socket, each line a leaf."""
    found: list[tuple[str, int, Span]] = []
    for place in assembly.places.values():
        if place.lead is not None and _feeds(place.lead, socket):
            found.append((place.name, place.lead.lanes, place.declared_at))
        for label, lead in place.leads.items():
            if _feeds(lead, socket):
                span = place.origin.place(*place.path, "leads", label)
                found.append((f"{place.name}.{label}", lead.lanes, span))
    for name, lead in assembly.platform.leads.items():
        if _feeds(lead, socket):
            found.append((name, lead.lanes, assembly.platform.origin.place("leads", name)))
    leaves = tuple(Declared(name, wide, partial(_at, span)) for name, wide, span in found)
    return sum(wide for _, wide, _ in found), leaves
