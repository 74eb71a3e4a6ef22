"""What facts are repeated over."""

from collections.abc import Mapping
from typing import Any, Final

from specgen.assembly import Assembly, PortAt
from specgen.facts.fact import Fact, Facts
from specgen.facts.inputs import Context
from specgen.facts.registry import SubjectSort
from specgen.facts.slots_and_bays import card_kinds
from specgen.facts.supply_feeds import feeds_of, supplies_by_feed
from specgen.frozen import frozen
from specgen.messages import Message, say, say_many
from specgen.model import (
    FEED_NAMES,
    Accelerator,
    Drive,
    HasEthernet,
    HasLink,
    PowerSupply,
    Processor,
    StorageController,
    natural,
)
from specgen.quantity import DataRate, Ratio, plain

MEDIA = frozenset({"copper", "fibre", "pluggable"})
CAGE = "pluggable"
SHARE: Final = "power.{state}.share"
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
SOME_FAILED: Final = {
    f"failure-{count}": count
    for count in range(1, 9)  # the pattern of redundancy ends at 9
}
"""States between all supplies well and all that may fail failed, by how many have."""
WITHOUT_FEED: Final = {f"without-{feed}": feed for feed in FEED_NAMES}
"""States in which a feed is lost."""
STATE_NAMES: Final[Mapping[str, Message]] = {
    "idle": say("Idle"),
    "typical": say("Typical work"),
    "maximum": say("Maximum"),
    **{
        state: say_many(
            count, "Maximum, after {number} failure", "Maximum, after {number} failures"
        )
        for state, count in SOME_FAILED.items()
    },
    "failure": say("Maximum, after failures"),
    **{
        state: say("Maximum, without feed {feed}", feed=feed)
        for state, feed in WITHOUT_FEED.items()
    },
}
"""How hard the system works, and on how many of its power supplies."""
GREATEST: Final = frozenset(STATE_NAMES) - {"idle", "typical"}
"""The states in which most is drawn."""


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
    flash = (drive.id for _, drive in assembly.fitted(Drive) if drive.medium == "ssd")
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
    """How hard the system works, all supplies well; and at its most, once so many have failed.

    The loss of a feed is a state of its own where it leaves another number of supplies.
    """
    count = len(assembly.fitted(PowerSupply))
    if not count:
        return ()
    wanted = assembly.conditions.redundancy
    spare = 0 if wanted is None else wanted.spare
    states = ["idle", "typical", "maximum"]
    states += [state for state, failed in SOME_FAILED.items() if failed < spare]
    states += ["failure"] if spare else []
    left = {count - failed for failed in range(spare + 1)}
    for feed, places in supplies_by_feed(assembly).items():
        if count - len(places) > 0 and count - len(places) not in left:
            left.add(count - len(places))
            states.append(f"without-{feed}")
    return tuple(states)


def _ac_states(assembly: Assembly) -> tuple[str, ...]:
    """Those in which there are power factor and apparent power: DC has neither."""
    line = assembly.conditions.supply_line
    return () if line is not None and line.supplied == "dc" else _states(assembly)


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


@frozen
class InWorstStates:
    """The values of a fact over the states in which most is drawn, as a tuple.

    None where one has no value; the loss of a feed counts only where those left carry the load.
    """

    template: str
    of_feed: str = ""
    """A feed whose own loss does not count."""

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.template, SHARE})

    def read(self, context: Context) -> tuple[tuple[Any, ...] | None, tuple[Fact, ...]]:

        def counts(state: str) -> bool:
            lost = WITHOUT_FEED.get(state, "")
            other = state in GREATEST and lost != (self.of_feed or None)
            return other and not _goes_out(context.facts, state)

        facts = context.facts.of_all(self.template, counts)
        values = tuple(fact.value for fact in facts)
        return (None if None in values else values), facts


def _goes_out(facts: Facts, state: str) -> bool:
    share = facts.value(SHARE.format(state=state)) if state in WITHOUT_FEED else None
    return isinstance(share, Ratio) and share.fraction > 1


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
FEEDS = SubjectSort("feed", feeds_of, say("Feed"))
