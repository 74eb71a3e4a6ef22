"""Network: ports by speed and connector, what is plugged in, host links; management apart."""

from collections.abc import Iterator
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import CAGE, CAGE_SORTS, PORT_SORTS, port_sort
from specgen.facts.constants import CAGES
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Inspected, fit_leaf, leaf, of_thing
from specgen.facts.registry import Calculators
from specgen.facts.terms import MEDIUM, worded
from specgen.messages import Words, say
from specgen.model import EthernetPort, HasEthernet, Transceiver, expand
from specgen.quantity import DataRate

fact = Calculators()

FoundPort = tuple[Place, EthernetPort, Declared]
Plugged = tuple[str, EthernetPort, Place | None]
"""The full name of a port, the port, and its cage where it has one."""


def _all_ports(assembly: Assembly) -> Iterator[tuple[Place, str, EthernetPort, Declared]]:
    for place, part in assembly.fitted(HasEthernet):
        for index, port in enumerate(part.ethernet):
            for name in expand(port.name):
                at = partial(part.origin.place, "ethernet", index, "speed")
                words = of_thing(part.name, name)
                found = Declared(words, port.speed, at, part.source, place.name, name=name)
                yield place, name, port, found


def ethernet_ports(assembly: Assembly) -> Iterator[FoundPort]:
    """Every Ethernet port of the system, with the line that declares it."""
    return ((place, port, at) for place, _, port, at in _all_ports(assembly))


def _data(assembly: Assembly, sort: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [
        (port, at)
        for _, port, at in ethernet_ports(assembly)
        if not port.management and (not sort or port_sort(port.speed, port.connector) == sort)
    ]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


fact.count(
    "network.ports",
    say("Ethernet ports"),
    Inspected(_data),
    formula=say("ports of adapters, management ports apart"),
)


def _management(assembly: Assembly, _: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [(port, at) for _, port, at in ethernet_ports(assembly) if port.management]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


fact.count(
    "network.management_ports",
    say("Management ports"),
    Inspected(_management),
    formula=say("ports of the management controller"),
)


@fact(
    "network.management_speed",
    say("Speed of the management port"),
    formula=say("as declared; min. where there are several"),
    ports=Inspected(_management),
)
def management_speed(ports: tuple[EthernetPort, ...]) -> DataRate | None:
    return min((port.speed for port in ports), default=None)


def _shared(assembly: Assembly, _: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [(port, at) for _, port, at in ethernet_ports(assembly) if port.shared]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


fact.count(
    "network.shared_ports",
    say("Ports shared with management"),
    Inspected(_shared),
    formula=say("data ports through which the management controller can be reached too"),
)


@fact(
    "network.line_rate",
    say("Line rate of all ports"),
    formula=say("sum over ports, management ports apart"),
    ports=Inspected(_data),
)
def line_rate(ports: tuple[EthernetPort, ...]) -> DataRate:
    return sum((port.speed for port in ports), DataRate.zero()).to("Gbit/s")


def _plugged(assembly: Assembly, sort: str) -> tuple[tuple[Plugged, ...], Trail]:
    """Data ports with their cages; what sits in a cage is a leaf."""
    found: list[Plugged] = []
    trail: Trail = ()
    for place, name, port, at in _all_ports(assembly):
        if port.management or (sort and port_sort(port.speed, port.connector) != sort):
            continue
        full = f"{place.name}.{name}"
        cage = assembly.places.get(full) if port.medium == CAGE else None
        found.append((full, port, cage))
        trail = (*trail, at)
        if cage is not None:
            trail = (*trail, fit_leaf(cage))
            if isinstance(cage.part, Transceiver):
                trail = (*trail, leaf(cage, cage.part, ("speed",), cage.part.speed))
    return tuple(found), trail


def transceiver(cage: Place | None) -> Transceiver | None:
    """What is plugged into a cage."""
    if cage is None or not cage.filled or not isinstance(cage.part, Transceiver):
        return None
    return cage.part


def running_speed(port: EthernetPort, cage: Place | None) -> DataRate:
    """What a port runs at: its own speed, in a cage at most the transceiver's, nothing without."""
    if port.medium != CAGE:
        return port.speed
    plugged = transceiver(cage)
    return DataRate.of(0, "Gbit/s") if plugged is None else min(port.speed, plugged.speed)


@fact(
    "network.line_rate_connected",
    say("Line rate of the ports that can be connected"),
    formula=say("sum of the min. of port and transceiver; an empty cage counts nothing"),
    plugged=Inspected(_plugged),
)
def line_rate_connected(plugged: tuple[Plugged, ...]) -> DataRate:
    rates = (running_speed(port, cage) for _, port, cage in plugged)
    return sum(rates, DataRate.zero()).to("Gbit/s")


@fact(
    "network.cages",
    say("Cages for transceivers"),
    formula=say("ports whose medium is that of what is plugged in"),
    plugged=Inspected(_plugged),
)
def cages(plugged: tuple[Plugged, ...]) -> int:
    return sum(port.medium == CAGE for _, port, _ in plugged)


@fact(
    "network.transceivers",
    say("Transceivers fitted"),
    formula=say("cages with a transceiver"),
    plugged=Inspected(_plugged),
)
def transceivers(plugged: tuple[Plugged, ...]) -> int:
    return sum(transceiver(cage) is not None for _, _, cage in plugged)


@fact(
    "network.cages_open",
    say("Cages without a transceiver"),
    formula=say("names of the ports whose cage is empty; they carry nothing until one is fitted"),
    plugged=Inspected(_plugged),
)
def cages_open(plugged: tuple[Plugged, ...]) -> tuple[str, ...]:
    return tuple(
        name for name, port, cage in plugged if port.medium == CAGE and transceiver(cage) is None
    )


fact.count(
    "network.{ports}.count",
    say("Ethernet ports"),
    Inspected(_data),
    short=say("Ports"),
    formula=say("ports of this speed and connector"),
    over=PORT_SORTS,
)


@fact(
    "network.{ports}.speed",
    say("Speed"),
    formula=say("as declared"),
    over=PORT_SORTS,
    ports=Inspected(_data),
)
def speed(ports: tuple[EthernetPort, ...]) -> DataRate | None:
    return ports[0].speed if ports else None


@fact(
    "network.{ports}.medium",
    say("Medium"),
    formula=say("as declared"),
    over=PORT_SORTS,
    ports=Inspected(_data),
)
def medium(ports: tuple[EthernetPort, ...]) -> tuple[Words, ...]:
    return tuple(dict.fromkeys(worded(MEDIUM, port.medium) for port in ports))


def lanes_of(speed: DataRate, connector: str) -> str | None:
    """How a port's speed lies on the lanes of its connector: `4 x 25 Gbit/s`."""
    cage = CAGES.get(connector)
    if cage is None:
        return None
    each = (speed / cage.lanes).in_unit("Gbit/s").normalize()
    return f"{cage.lanes} x {each:f} Gbit/s"


@fact(
    "network.{ports}.lanes",
    say("Electrical lanes of a port"),
    formula=say("lanes of the connector, each with its share of the speed"),
    source="the connector's document: SFF-8431, SFF-8402, SFF-8665, QSFP-DD MSA, OSFP MSA",
    over=PORT_SORTS,
    ports=Inspected(_data),
)
def lanes(ports: tuple[EthernetPort, ...]) -> str | None:
    return lanes_of(ports[0].speed, ports[0].connector) if ports else None


def cage_rate(connector: str) -> DataRate | None:
    """The most that a connector carries one way, all its lanes; None for one no table has."""
    cage = CAGES.get(connector)
    return None if cage is None else DataRate.of(cage.total, "Gbit/s")


@fact(
    "network.{ports}.connector_rate",
    say("Max. rate of the connector"),
    formula=say("lanes of the connector x max. rate of one"),
    source="the connector's document: SFF-8431, SFF-8402, SFF-8665, QSFP-DD MSA, OSFP MSA",
    over=PORT_SORTS,
    ports=Inspected(_data),
)
def connector_rate(ports: tuple[EthernetPort, ...]) -> DataRate | None:
    return cage_rate(ports[0].connector) if ports else None


@fact(
    "network.{cages}.transceivers",
    say("Transceivers fitted"),
    short=say("Transceivers"),
    formula=say("cages with a transceiver"),
    over=CAGE_SORTS,
    plugged=Inspected(_plugged),
)
def sort_transceivers(plugged: tuple[Plugged, ...]) -> int:
    return transceivers(plugged)


@fact(
    "network.{cages}.open",
    say("Cages without a transceiver"),
    short=say("Empty transceiver cages"),
    formula=say("number of empty cages"),
    over=CAGE_SORTS,
    plugged=Inspected(_plugged),
)
def sort_open(plugged: tuple[Plugged, ...]) -> int:
    return len(cages_open(plugged))
