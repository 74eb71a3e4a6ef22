"""What of a system a topology shows, which positions are alike, and what stands together."""

from collections.abc import Mapping
from dataclasses import replace

from specgen.assembly import Assembly, Place, State
from specgen.drawings.diagram import UseState
from specgen.drawings.far_ends import far_end
from specgen.frozen import frozen
from specgen.messages import Message, Words
from specgen.model import HasEthernet, MemoryModule, Part, Processor

USES: Mapping[State, UseState] = {
    State.FILLED: UseState.USED,
    State.EMPTY: UseState.FREE,
    State.UNKNOWN: UseState.FREE,
    State.UNUSABLE: UseState.UNUSABLE,
    State.BLOCKED: UseState.UNUSABLE,
}


@frozen
class AlikePlaces:
    """Positions drawn as one box, for they are alike in everything that the box says.

    `home` is the position whose frame the box stands in, its own name where it has its own.
    """

    places: tuple[Place, ...]
    home: str

    @property
    def first(self) -> Place:
        return self.places[0]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(place.name for place in self.places)

    @property
    def use(self) -> UseState:
        return USES[self.first.state]


def takes(place: Place, kind: str) -> bool:
    """Whether a position takes parts of a kind, or holds one all the same."""
    part = place.part
    return kind in place.position.takes or (part is not None and part.kind == kind)


def is_processor(place: Place) -> bool:
    """Whether a position takes or holds a processor."""
    return takes(place, Processor.kind)


def is_memory(place: Place) -> bool:
    """Whether a position takes or holds a memory module."""
    return takes(place, MemoryModule.kind)


def has_ports(part: Part | None) -> bool:
    """Whether other boxes, or people, connect to the part by name."""
    if part is None:
        return False
    plugs = isinstance(part, HasEthernet) and bool(part.ethernet)
    return plugs or bool(part.brings.ports)


def shown(assembly: Assembly) -> dict[str, Place]:
    """The positions that get a box, in the order in which they appeared."""
    sources = {place.lead.from_ for place in assembly.places.values() if place.lead is not None}
    sources |= {lead.from_ for lead in assembly.platform.leads.values()}
    feeds = (far_end(assembly, source) for source in sorted(sources))
    feeding = {found.host for found in feeds if found is not None}
    return {
        name: place
        for name, place in assembly.places.items()
        if name in feeding or _has_box(assembly, place)
    }


def _has_box(assembly: Assembly, place: Place) -> bool:
    if "cable" in place.position.takes:  # those on a riser or backplane are lines of its box
        return place.host is None
    kinds = (assembly.definitions.kinds.get(name) for name in place.position.takes)
    boxed = any(kind is not None and kind.boxed for kind in kinds)
    wired = place.lead is not None or bool(place.leads)
    return boxed or wired or (has_ports(place.part) and place.state is State.FILLED)


def runs(assembly: Assembly, places: Mapping[str, Place]) -> list[AlikePlaces]:
    """All positions that have a box, alike ones in one run; memory apart, see `memory`."""
    hosts = {place.host for place in places.values()}
    alike: dict[tuple[object, ...], list[Place]] = {}
    for place in places.values():
        if not is_memory(place):
            alike.setdefault(_key(assembly, places, place, hosts), []).append(place)
    return [AlikePlaces(tuple(run), _home(assembly, places, run[0])) for run in alike.values()]


def memory(places: Mapping[str, Place]) -> dict[str, list[Place]]:
    """Memory positions by the processor they belong to, the first one's where none is named."""
    processors = [name for name, place in places.items() if is_processor(place)]
    found: dict[str, list[Place]] = {}
    for place in places.values():
        if is_memory(place):
            owner = place.of if place.of in processors else next(iter(processors), "")
            found.setdefault(owner, []).append(place)
    return found


def _key(
    assembly: Assembly,
    places: Mapping[str, Place],
    place: Place,
    hosts: set[str | None],
) -> tuple[object, ...]:
    """Equal for positions that one box can stand for."""
    if place.name in hosts or has_ports(place.part) or place.leads or is_processor(place):
        return (place.name,)
    link = assembly.links.get(place.name)
    found = None if place.lead is None else far_end(assembly, place.lead.from_)
    home = _home(assembly, places, place)
    return (
        "" if home == place.name else home,
        place.host,
        place.position.takes,
        place.position.area,
        place.position.connector,
        place.state,
        place.part and place.part.id,
        subject(place.reason)[1],
        link and (link.wired, link.lanes, link.generation, link.speaks, bool(link.broken)),
        found and found.host,
    )


def subject(reason: Words) -> tuple[str, Words]:
    """The position that a reason is about, and the reason as it is of any other: `is empty`."""
    if not isinstance(reason, Message):
        return "", reason
    named = dict(reason.named)
    about = named.pop("subject", "")
    return str(about), replace(reason, arguments=tuple(named.items()))


def _home(assembly: Assembly, places: Mapping[str, Place], place: Place) -> str:
    """Whose frame the box stands in.

    A position stands in the frame of the part that brought it, unless that part also feeds it:
    then it stands apart, at the end of a ribbon.
    """
    host = place.host
    if host is None or host not in places or is_processor(places[host]):
        return place.name
    found = None if place.lead is None else far_end(assembly, place.lead.from_)
    if found is not None and found.host == host:
        return f"{host} "
    return _home(assembly, places, places[host])
