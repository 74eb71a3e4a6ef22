"""What a system of a platform can hold, whatever else is chosen: its positions and their parts."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from specgen.assembly import Assembly, Place
from specgen.fitness import around, candidates
from specgen.limits.closure import PositionNode, TooLarge, closure
from specgen.model import ANYWHERE, Part

Possible = Mapping[str, tuple[str, ...]]
"""Ids of parts that can go in anywhere, each with the positions it can go into."""


def reachable(assembly: Assembly) -> tuple[PositionNode, ...] | None:
    """Every position that any choice of parts gives, whatever the line voltage or the inlet
    temperature; None of a platform with more than can be followed. Worked out once for a system."""

    def nodes() -> tuple[PositionNode, ...] | None:
        try:
            return closure(replace(assembly, conditions=ANYWHERE))
        except TooLarge:
            return None

    return assembly.once(reachable, nodes)


def possible(assembly: Assembly) -> Possible:
    """Every part that a platform can hold, also where other parts bring the position.

    As in every answer, none that cannot be ordered on the project's date.
    """
    found: dict[str, dict[str, None]] = {}
    for node in reachable(assembly) or ():
        if not node.fixed:
            for part in node.parts:
                found.setdefault(part.id, {})[node.name] = None
    return {name: tuple(at) for name, at in found.items()}


def holdable(assembly: Assembly) -> frozenset[str]:
    """All that can be in a system of the platform: soldered parts and blanks too."""
    nodes = tuple(reachable(assembly) or ())
    blanks = (node.place.position.blank for node in nodes)
    held = (part.id for node in nodes for part in node.parts)
    return frozenset((*held, *(blank for blank in blanks if blank is not None)))


def choosable(
    assembly: Assembly, place: Place, among: Callable[[Part], bool] | None = None
) -> tuple[Part, ...]:
    """The parts that a build may put into a place, by id, at a line voltage and an inlet
    temperature of its own; only those `among` some, where these alone are asked for."""
    if place.position.fixed is not None:
        return ()
    anywhere = assembly.once(choosable, lambda: replace(assembly, conditions=ANYWHERE))
    return candidates(place, around(anywhere, place), among)
