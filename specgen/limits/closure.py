"""Every position that a platform can have with any choice of parts, and what may go into each."""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from specgen.assembly import Assembly, Place
from specgen.assembly.fill import Filling, new_places
from specgen.facts.calculators.supplies import output_at
from specgen.model import EthernetPort, Part, PowerSupply, Processor, Transceiver, expand
from specgen.rules.fit import listed, suits
from specgen.rules.network import OLDER_FORMS

MOST_NODES = 5_000
MOST_DEPTH = 6  # parts that bring positions for parts that bring positions


class TooLarge(Exception):
    """A platform has more possible positions than a solver is asked about."""


@dataclass(frozen=True, slots=True, eq=False)
class Node:
    """A position that may exist: the platform's, or brought by `bringer` in `host`."""

    index: int
    place: Place
    host: "Node | None"
    bringer: Part | None
    parts: tuple[Part, ...]
    depth: int

    @property
    def name(self) -> str:
        return self.place.name

    @property
    def fixed(self) -> bool:
        return self.place.position.fixed is not None


def closure(bare: Assembly) -> tuple[Node, ...]:
    """All positions that any choice of parts gives, hosts before what they bring.

    `bare` is the platform with nothing fitted, at the conditions asked for. Raises `TooLarge`.
    """
    nodes: list[Node] = []
    waiting: deque[tuple[Place, Node | None, Part | None]] = deque()
    work = Filling(bare.definitions, {})
    for place in new_places(
        work, bare.platform.origin, bare.platform.positions, None, 0, ("positions",)
    ):
        waiting.append((place, None, None))
    while waiting:
        place, host, bringer = waiting.popleft()
        depth = 0 if host is None else host.depth + 1
        if len(nodes) >= MOST_NODES or depth > MOST_DEPTH:
            raise TooLarge(f"{bare.platform.name} can have more than {MOST_NODES} positions")
        node = Node(len(nodes), place, host, bringer, tuple(_choices(bare, place, bringer)), depth)
        nodes.append(node)
        for part in node.parts:
            if part.brings.positions and not part.closes:
                waiting.extend((each, node, part) for each in _brought(bare, node, part))
    return tuple(nodes)


def _brought(bare: Assembly, node: Node, part: Part) -> list[Place]:
    work = Filling(bare.definitions, {})
    offset = node.place.position.offset
    path = ("brings", "positions")
    return new_places(work, part.origin, part.brings.positions, node.name, offset, path)


def _choices(bare: Assembly, place: Place, bringer: Part | None) -> Iterator[Part]:
    parts = bare.definitions.parts
    fixed = place.position.fixed
    if fixed is not None:
        if fixed in parts:
            yield parts[fixed]
        return
    for part in sorted(parts.values(), key=lambda each: each.id):
        if (
            part.life.status != "withdrawn"
            and suits(place, part)
            and listed(bare, part)
            and _goes_along(bare, place, part, bringer)
        ):
            yield part


def _goes_along(bare: Assembly, place: Place, part: Part, bringer: Part | None) -> bool:
    """What the checks beside the fit say of one part in one position, whatever else is fitted."""
    position, conditions = place.position, bare.conditions
    if isinstance(part, Processor) and position.tdp is not None and part.tdp > position.tdp:
        return False
    if isinstance(part, PowerSupply) and output_at(part.outputs, conditions.line) is None:
        return False
    warmest, limit = conditions.inlet, part.inlet_limit
    if not part.closes and warmest is not None and limit is not None and warmest > limit:
        return False
    own_cable = any((need.resource or "").startswith("aux") for need in part.needs)
    drawn = part.power.maximum if part.power is not None and not own_cable else None
    if drawn is not None and position.power is not None and drawn > position.power:
        return False
    if isinstance(part, Transceiver):
        port = _cage(place, bringer)
        return port is None or _suits_cage(place, part, port)
    return True


def _cage(place: Place, bringer: Part | None) -> EthernetPort | None:
    own = place.name.rpartition(".")[2]
    ports: tuple[EthernetPort, ...] = getattr(bringer, "ethernet", ())
    return next((port for port in ports if own in expand(port.name)), None)


def _suits_cage(place: Place, module: Transceiver, port: EthernetPort) -> bool:
    forms = (port.connector, *OLDER_FORMS.get(port.connector, ()))
    return (module.form in forms or bool(place.position.form)) and module.speed <= port.speed
