"""What figures are repeated over."""

from specgen.assembly import Assembly
from specgen.facts.registry import Subjects
from specgen.model import KINDS, Card, NetworkAdapter, Processor, natural
from specgen.quantity import DataRate, plain

CARD_KINDS = frozenset(name for name, kind in KINDS.items() if issubclass(kind, Card))
SUBSYSTEMS = (
    "processors",
    "memory",
    "storage",
    "accelerators",
    "network",
    "cooling",
    "board",
    "other",
)


def _processors(assembly: Assembly) -> tuple[str, ...]:
    return tuple(place.name for place, _ in assembly.fitted(Processor))


def _slots(assembly: Assembly) -> tuple[str, ...]:
    """Card slots first, then mezzanines and other places for cards; each in natural order."""
    found = [
        place
        for place in assembly.places.values()
        if place.lead is not None
        and CARD_KINDS.intersection(place.position.takes)
        and place.how != "fixed"
    ]
    found.sort(key=lambda place: (place.position.height is None, natural(place.name)))
    return tuple(place.name for place in found)


def _volumes(assembly: Assembly) -> tuple[str, ...]:
    return () if assembly.build is None else tuple(v.name for v in assembly.build.volumes)


def port_sort(speed: DataRate, connector: str) -> str:
    """The name of ports alike: their speed and connector."""
    return f"{plain(speed)} {connector}"


def _port_sorts(assembly: Assembly) -> tuple[str, ...]:
    sorts = {}
    for _, part in assembly.fitted(NetworkAdapter):
        for port in part.ethernet:
            if not port.management:
                sorts[port_sort(port.speed, port.connector)] = port.speed
    return tuple(sorted(sorts, key=lambda name: (sorts[name].amount, name)))


PROCESSORS = Subjects("processor", _processors)
SLOTS = Subjects("slot", _slots)
VOLUMES = Subjects("volume", _volumes)
PORT_SORTS = Subjects("ports", _port_sorts)
SUBSYSTEM = Subjects("subsystem", lambda _: SUBSYSTEMS)
