"""What facts are repeated over."""

from collections.abc import Mapping
from typing import Final

from specgen.assembly import Assembly, Place, PortAt
from specgen.facts.fact import Fact
from specgen.facts.inputs import FactsOfAll
from specgen.facts.registry import SubjectSort
from specgen.facts.slots_and_bays import card_kinds
from specgen.messages import Message, say
from specgen.model import (
    Accelerator,
    Drive,
    HasEthernet,
    HasLink,
    PowerSupply,
    Processor,
    StorageController,
    natural,
)
from specgen.quantity import DataRate, plain

MEDIA = frozenset({"copper", "fibre", "cage"})
CAGE = "cage"
SUBSYSTEM_NAMES: Final[Mapping[str, Message]] = {
    "processors": say("Processors"),
    "memory": say("Memory"),
    "storage": say("Storage"),
    "accelerators": say("Accelerators"),
    "network": say("Network"),
    "cooling": say("Cooling"),
    "board": say("Board"),
    "other": say("Other"),
}
SUBSYSTEMS: Final = tuple(SUBSYSTEM_NAMES)
"""Those of the shipped kinds, in the order of tables."""
STATE_NAMES: Final[Mapping[str, Message]] = {
    "idle": say("Idle"),
    "typical": say("Typical work"),
    "maximum": say("Maximum"),
    "failure": say("Maximum, after failures"),
}
"""How hard the system works."""


def _processors(assembly: Assembly) -> tuple[str, ...]:
    return tuple(place.name for place, _ in assembly.fitted(Processor))


def _slots(assembly: Assembly) -> tuple[str, ...]:
    """Card slots first, then mezzanines and other places for cards; each in natural order."""
    cards = card_kinds(assembly.definitions)
    found = [
        place
        for place in assembly.places.values()
        if place.lead is not None
        and not cards.isdisjoint(place.position.takes)
        and place.how != "fixed"
    ]
    found.sort(key=lambda place: (place.position.height is None, natural(place.name)))
    return tuple(place.name for place in found)


def _volumes(assembly: Assembly) -> tuple[str, ...]:
    return () if assembly.build is None else tuple(v.name for v in assembly.build.volumes)


def _protected_volumes(assembly: Assembly) -> tuple[str, ...]:
    """Those that go on after a failure, and can be rebuilt: all but RAID 0."""
    build = assembly.build
    return () if build is None else tuple(v.name for v in build.volumes if v.level != 0)


def _drive_sorts(assembly: Assembly) -> tuple[str, ...]:
    """Sorts of drive by their ids, in the order of positions."""
    return tuple(dict.fromkeys(drive.id for _, drive in assembly.fitted(Drive)))


def _flash_sorts(assembly: Assembly) -> tuple[str, ...]:
    """Sorts of drive that wear: makers declare endurance of flash only."""
    flash = (drive.id for _, drive in assembly.fitted(Drive) if drive.medium == "flash")
    return tuple(dict.fromkeys(flash))


def _parts(assembly: Assembly) -> tuple[str, ...]:
    """Everything that is ordered for a build, the platform first; by id, in order of positions."""
    platform = () if assembly.build is None else (assembly.platform.id,)
    return tuple(dict.fromkeys((*platform, *(part.id for _, part in assembly.everything()))))


def _inlets(assembly: Assembly) -> tuple[str, ...]:
    return tuple(dict.fromkeys(part.inlet for _, part in assembly.fitted(PowerSupply)))


def port_sort(speed: DataRate, connector: str) -> str:
    """The name of ports alike: their speed and connector."""
    return f"{plain(speed)} {connector}"


def _port_sorts(assembly: Assembly, media: frozenset[str] = MEDIA) -> tuple[str, ...]:
    sorts = {}
    for _, part in assembly.fitted(HasEthernet):
        for port in part.ethernet:
            if not port.management and port.medium in media:
                sorts[port_sort(port.speed, port.connector)] = port.speed
    return tuple(sorted(sorts, key=lambda name: (sorts[name].amount, name)))


def _states(assembly: Assembly) -> tuple[str, ...]:
    """How hard the system works, all supplies well; and at its most once some have failed."""
    if not assembly.fitted(PowerSupply):
        return ()
    wanted = assembly.conditions.redundancy
    states = tuple(STATE_NAMES)
    return states if wanted is not None and wanted.spare else states[:-1]


def _ac_states(assembly: Assembly) -> tuple[str, ...]:
    """Those in which there are power factor and apparent power: DC has neither."""
    line = assembly.conditions.supply_line
    return () if line is not None and line.supplied == "dc" else _states(assembly)


def _feeds(assembly: Assembly) -> tuple[str, ...]:
    feeds = assembly.conditions.feeds
    return () if feeds is None or not assembly.fitted(PowerSupply) else tuple("ABCD"[:feeds])


def on_feed(assembly: Assembly, feed: str) -> tuple[Place, ...]:
    """The positions of the power supplies on a feed: shared out over the feeds in turn."""
    feeds = _feeds(assembly)
    places = (place for place, _ in assembly.fitted(PowerSupply))
    return tuple(place for at, place in enumerate(places) if feeds[at % len(feeds)] == feed)


def subsystems(assembly: Assembly) -> tuple[str, ...]:
    """What power counts towards: the shipped ones, then those of the project's own kinds."""
    own = (kind.subsystem for kind in assembly.definitions.kinds.values())
    return tuple(dict.fromkeys((*SUBSYSTEMS, *own)))


def _sockets(assembly: Assembly) -> tuple[str, ...]:
    return tuple(place.name for place in assembly.taking(Processor.kind))


def _links(assembly: Assembly) -> tuple[str, ...]:
    """Slots, then every other place where a card or a drive is reached over lanes."""
    slots = _slots(assembly)
    others = (
        name
        for name in assembly.links
        if assembly.places[name].filled and isinstance(assembly.places[name].part, HasLink)
    )
    return tuple(dict.fromkeys((*slots, *others)))


def _cards(assembly: Assembly) -> tuple[str, ...]:
    return tuple(name for name in _slots(assembly) if assembly.places[name].filled)


def _ends(assembly: Assembly) -> tuple[str, ...]:
    return tuple(name for name in _links(assembly) if assembly.places[name].filled)


def uplink_of(assembly: Assembly, port: PortAt) -> str | None:
    """The name under which what feeds a port comes in; None for a port that nothing feeds.

    A switch's or an expander's port names it; a controller's own ports lead on through its slot.
    """
    if port.port.behind is not None:
        return port.port.behind
    return port.place.name if port.place.name in assembly.links else None


def _uplinks(assembly: Assembly) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for port in assembly.ports.values():
        name = uplink_of(assembly, port) if port.place.filled else None
        link = assembly.links.get(name or "") or assembly.uplinks.get(name or "")
        if name is not None and link is not None and not link.broken:
            found[name] = None
    return tuple(found)


def _adapters(assembly: Assembly) -> tuple[str, ...]:
    """What has Ethernet ports of its own and a link to the host that they share."""
    found = assembly.fitted(HasEthernet)
    return tuple(place.name for place, part in found if isinstance(part, HasLink))


def _accelerators(assembly: Assembly) -> tuple[str, ...]:
    return tuple(place.name for place, _ in assembly.fitted(Accelerator))


def _controllers(assembly: Assembly) -> tuple[str, ...]:
    """Storage controllers with a link to the host; a boot module serves its mirror alone."""
    found = assembly.fitted(StorageController)
    return tuple(place.name for place, _ in found if place.name in assembly.links)


def _greatest(fact: Fact, _: str) -> bool:
    return fact.subject in ("maximum", "failure")


def at_most(template: str) -> FactsOfAll:
    """A fact of the states in which most is drawn: all supplies well, and some of them failed."""
    return FactsOfAll(template, _greatest, strict=True)


PARTS = SubjectSort("part", _parts, say("Part"), parts=True)
INLET_SORTS = SubjectSort("inlet", _inlets, say("Inlet"))
PROCESSORS = SubjectSort("processor", _processors, say("Processor"))
SOCKETS = SubjectSort("socket", _sockets, say("Socket"))
SLOTS = SubjectSort("slot", _slots, say("Slot"))
CARDS = SubjectSort("card", _cards, say("Slot"))
LINKS = SubjectSort("link", _links, say("Position"))
ENDS = SubjectSort("end", _ends, say("Position"))
UPLINKS = SubjectSort("uplink", _uplinks, say("Behind"))
ADAPTERS = SubjectSort("adapter", _adapters, say("Adapter"))
ACCELERATORS = SubjectSort("accelerator", _accelerators, say("Position"))
CONTROLLERS = SubjectSort("controller", _controllers, say("Controller"))
RESOURCES = SubjectSort("resource", lambda assembly: tuple(assembly.pools), say("Resource"))
VOLUMES = SubjectSort("volume", _volumes, say("Volume"))
PROTECTED_VOLUMES = SubjectSort("volume", _protected_volumes, say("Volume"))
DRIVE_SORTS = SubjectSort("drive", _drive_sorts, say("Drive"), parts=True)
FLASH_SORTS = SubjectSort("drive", _flash_sorts, say("Drive"), parts=True)
PORT_SORTS = SubjectSort("ports", _port_sorts, say("Ports"))
CAGE_SORTS = SubjectSort(
    "cages", lambda assembly: _port_sorts(assembly, frozenset({CAGE})), say("Ports")
)
SUBSYSTEM = SubjectSort("subsystem", subsystems, say("Subsystem"), SUBSYSTEM_NAMES)
STATES = SubjectSort("state", _states, say("State"), STATE_NAMES)
AC_STATES = SubjectSort("state", _ac_states, say("State"), STATE_NAMES)
FEEDS = SubjectSort("feed", _feeds, say("Feed"))
