"""Every position that a platform can have with any choice of parts, and what may go into each."""

from collections import deque
from dataclasses import dataclass

from specgen.assembly import Assembly, Place
from specgen.assembly.fill import Filling, new_places
from specgen.fitness import around, candidates
from specgen.messages import Message, say
from specgen.model import Part

MOST_NODES = 5_000
MOST_DEPTH = 6  # parts that bring positions for parts that bring positions


class TooLarge(Exception):
    """A platform has more possible positions than a solver is asked about."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True, eq=False)
class PositionNode:
    """A position that may exist: the platform's, or brought by `bringer` in `host`."""

    index: int
    place: Place
    host: "PositionNode | None"
    bringer: Part | None
    parts: tuple[Part, ...]
    depth: int
    spare_of: "tuple[PositionNode, ...]" = ()
    """Of a position that the platform lacks: those like it that it has (`spare_positions`)."""

    @property
    def name(self) -> str:
        return self.place.name

    @property
    def fixed(self) -> bool:
        return self.place.position.fixed is not None


def closure(bare: Assembly, published: bool = True) -> tuple[PositionNode, ...]:
    """All positions that any choice of parts gives, hosts before what they bring.

    `bare` is the platform with nothing fitted, at the conditions asked for; what is `published`
    holds no part that cannot be ordered. Raises `TooLarge`.
    """
    nodes: list[PositionNode] = []
    waiting: deque[tuple[Place, PositionNode | None, Part | None]] = deque()
    work = Filling(bare.definitions, {})
    for place in new_places(
        work, bare.platform.origin, bare.platform.positions, None, 0, ("positions",)
    ):
        waiting.append((place, None, None))
    while waiting:
        place, host, bringer = waiting.popleft()
        depth = 0 if host is None else host.depth + 1
        if len(nodes) >= MOST_NODES or depth > MOST_DEPTH:
            raise TooLarge(
                say(
                    "{platform} can have more than {count} positions",
                    platform=bare.platform.name,
                    count=MOST_NODES,
                )
            )
        parts = candidates(place, around(bare, place, bringer, published))
        node = PositionNode(len(nodes), place, host, bringer, parts, depth)
        nodes.append(node)
        for part in node.parts:
            if part.brings.positions and not part.closes:
                waiting.extend((each, node, part) for each in _brought(bare, node, part))
    return tuple(nodes)


def _brought(bare: Assembly, node: PositionNode, part: Part) -> list[Place]:
    work = Filling(bare.definitions, {})
    offset = node.place.position.offset
    path = ("brings", "positions")
    return new_places(work, part.origin, part.brings.positions, node.name, offset, path)
