"""Network: ports by speed and connector, management apart."""

from collections.abc import Iterator
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import PORT_SORTS, port_sort
from specgen.facts.fact import Declared
from specgen.facts.inputs import Seen, Trail
from specgen.facts.registry import Calculator, figure
from specgen.model import EthernetPort, ManagementController, NetworkAdapter, expand
from specgen.quantity import DataRate

Found = tuple[Place, EthernetPort, Declared]


def ethernet_ports(assembly: Assembly) -> Iterator[Found]:
    """Every Ethernet port of the machine, with the line that declares it."""
    for kind in (NetworkAdapter, ManagementController):
        for place, part in assembly.fitted(kind):
            for index, port in enumerate(part.ethernet):  # type: ignore[attr-defined]
                for name in expand(port.name):
                    at = partial(part.origin.at, "ethernet", index, "speed")
                    yield (
                        place,
                        port,
                        Declared(f"{part.name}: {name}", port.speed, at, part.source, place.name),
                    )


def _data(assembly: Assembly, sort: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [
        (port, at)
        for _, port, at in ethernet_ports(assembly)
        if not port.management and (not sort or port_sort(port.speed, port.connector) == sort)
    ]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


def _management(assembly: Assembly, _: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [(port, at) for _, port, at in ethernet_ports(assembly) if port.management]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


@figure(
    "network.ports",
    "Ethernet ports",
    formula="ports of adapters, management ports apart",
    ports=Seen(_data),
)
def ports(ports: tuple[EthernetPort, ...]) -> int:
    return len(ports)


@figure(
    "network.{ports}.count",
    "Ethernet ports",
    formula="ports of this speed and connector",
    over=PORT_SORTS,
    ports=Seen(_data),
)
def count(ports: tuple[EthernetPort, ...]) -> int:
    return len(ports)


@figure(
    "network.{ports}.medium", "Medium", formula="as declared", over=PORT_SORTS, ports=Seen(_data)
)
def medium(ports: tuple[EthernetPort, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(port.medium for port in ports))


@figure(
    "network.line_rate",
    "Line rate of all ports",
    formula="sum over ports, management ports apart",
    ports=Seen(_data),
)
def line_rate(ports: tuple[EthernetPort, ...]) -> DataRate:
    return sum((port.speed for port in ports), DataRate.of(0, "Gbit/s"))


@figure(
    "network.management_ports",
    "Management ports",
    formula="ports of the management controller",
    ports=Seen(_management),
)
def management_ports(ports: tuple[EthernetPort, ...]) -> int:
    return len(ports)


def _shared(assembly: Assembly, _: str) -> tuple[tuple[EthernetPort, ...], Trail]:
    found = [(port, at) for _, port, at in ethernet_ports(assembly) if port.shared]
    return tuple(port for port, _ in found), tuple(at for _, at in found)


@figure(
    "network.shared_ports",
    "Ports shared with management",
    formula="data ports through which the management controller can be reached too",
    ports=Seen(_shared),
)
def shared_ports(ports: tuple[EthernetPort, ...]) -> int:
    return len(ports)


CALCULATORS: tuple[Calculator, ...] = (
    ports,
    management_ports,
    shared_ports,
    line_rate,
    count,
    medium,
)
