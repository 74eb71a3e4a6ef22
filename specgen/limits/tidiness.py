"""What sets tidy builds apart from others that the checks accept: the same models throughout, a
cord for each power supply, memory alike behind each processor, nothing taken out that can stay.

All are sums of a solver's model, for its goals. They say what is preferred, never what is allowed.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from specgen.limits.build_model import Seat
from specgen.limits.solve import Solver
from specgen.limits.sums import BoolVar
from specgen.model import Fill, PowerCord, expand

Fills = Mapping[str, Fill]


def strange(solver: Solver, fills: Fills) -> Any:
    """How many parts are of models that the build does not have yet."""
    known = {fill.part for fill in fills.values()}
    return sum(seat.sits for seat in solver.free if seat.part.id not in known)


def models(solver: Solver) -> Any:
    """How many models of parts there are: eight drives of one model rather than of three."""
    seats: dict[str, list[BoolVar]] = {}
    for seat in solver.free:
        seats.setdefault(seat.part.id, []).append(seat.sits)
    return sum(solver.logic.either(found) for found in seats.values())


def emptied(solver: Solver, fills: Fills) -> Any:
    """How many positions that the build fills are left empty."""
    filled = sum(seat.sits for seat in solver.free if seat.node.name in fills)
    free = {seat.node.name for seat in solver.free}
    return sum(name in free for name in fills) - filled


def lacking(solver: Solver, fills: Fills) -> Any:
    """How many positions a buyer would miss something in, beside what the build fills: a power
    supply's cord, where the build has cords, and a processor's memory, where another has some."""
    return sum((*_uncorded(solver, fills), *_unlike(solver, fills)))


def _uncorded(solver: Solver, fills: Fills) -> Iterator[BoolVar]:
    """Power supplies beside those of the build that are fitted without a cord."""
    builds, parts = solver.builds, solver.definitions.parts
    if not any(isinstance(parts.get(fill.part), PowerCord) for fill in fills.values()):
        return
    for node in builds.nodes:
        of = node.place.of
        if of is not None and of not in fills and PowerCord.kind in node.place.position.takes:
            yield solver.logic.both([builds.works_at(of), builds.works(node).negated()])


def _unlike(solver: Solver, fills: Fills) -> Iterator[BoolVar]:
    """Memory slots of a processor that the build does not have, filled otherwise than the slot of
    the same rank in the order of a processor that it has."""
    builds, logic = solver.builds, solver.logic
    orders = {
        entry.of: tuple(name for text in entry.order for name in expand(text))
        for entry in solver.platform.population
        if entry.of is not None
    }
    for of, names in orders.items():
        like = next((each for owner, each in orders.items() if owner in fills), ())
        if of in fills or len(like) != len(names):
            continue
        there = builds.works_at(of)
        for name, other in zip(names, like, strict=True):
            same = [
                logic.either(_sits(solver, name)).negated(),
                logic.either(_sits(solver, other)).negated(),
            ]
            alike = [logic.both(same)]
            for part in {seat.part.id for seat in builds.at_name(name)}:
                pair = (logic.either(_sits(solver, each, part)) for each in (name, other))
                alike.append(logic.both(pair))
            yield logic.both([there, logic.either(alike).negated()])


def _sits(solver: Solver, name: str, part: str = "") -> Iterator[BoolVar]:
    """That a part, or any, sits in a position."""
    seats: Iterator[Seat] = solver.builds.at_name(name)
    return (seat.sits for seat in seats if not part or seat.part.id == part)
