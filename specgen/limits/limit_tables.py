"""Many limits of a platform at once: the whole table, or one for each of several choices."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import Final

from specgen.diagnostics.fault import travelling
from specgen.frozen import frozen
from specgen.limits.closure import TooLarge
from specgen.limits.limit import Limit, limit_of
from specgen.limits.objectives import objectives_of
from specgen.limits.solve import Solver
from specgen.limits.solver import NoSolver, NotIntegral
from specgen.limits.sums import BoolVar, Sum
from specgen.limits.totals import one, per_part
from specgen.model import (
    ANYWHERE,
    Backplane,
    Conditions,
    Definitions,
    Part,
    Platform,
    PowerSupply,
    Processor,
    Redundancy,
    Riser,
)
from specgen.quantity import Temperature
from specgen.workers import can_fork, processes, workers

INLETS: Final = ("25 degC", "30 degC", "35 degC", "40 degC", "45 degC")
"""Upper ends of the allowable inlet ranges of ASHRAE's classes A1 to A4, and below them."""


def table_of(
    definitions: Definitions,
    platform: Platform,
    keys: Iterable[str] | None = None,
    at: Conditions = ANYWHERE,
    jobs: int = 1,
    *,
    shown: bool = False,
) -> tuple[Limit, ...]:
    """Several limits of a platform, in the order of `keys`, with builds tidied where these are to
    be `shown`. Raises what `Solver` does.

    With more `jobs`, shared out over processes where the system can fork; the answers are the
    same.
    """
    known = objectives_of(definitions)
    wanted = tuple(known if keys is None else keys)
    solver = Solver(definitions, platform, at)
    if jobs < 2 or len(wanted) < 2 or not can_fork():
        return tuple(limit_of(solver, known[key], shown=shown) for key in wanted)
    _ = solver.least  # once, for all processes
    global _shared
    _shared = solver
    hardest_first = sorted(wanted, key=lambda key: not known[key].full)
    with workers(jobs, processes(forking=True)) as pool:
        asked = partial(_one, shown=shown)
        found = dict(zip(hardest_first, pool.map(asked, hardest_first), strict=True))
    return tuple(found[key] for key in wanted)


_shared: Solver | None = None


def _one(key: str, *, shown: bool) -> Limit:
    assert _shared is not None
    with travelling(NoSolver, NotIntegral, TooLarge):
        return limit_of(_shared, objectives_of(_shared.definitions)[key], shown=shown)


@frozen
class LimitsAtChoice:
    """One row of a table of conditional limits: what is given, and the limits under it."""

    choice: str
    limits: tuple[Limit, ...]


AxisChoice = tuple[str, Solver, tuple[BoolVar, ...]]
Axis = Callable[[Solver], Iterator[AxisChoice]]


def choices(
    solver: Solver, axis: str, keys: Iterable[str], *, shown: bool = False
) -> Iterator[LimitsAtChoice]:
    """The limits for each choice along an axis of `AXES`; choices that no build has are left out.

    Raises what `Solver` does.
    """
    wanted, known = tuple(keys), objectives_of(solver.definitions)
    for choice, own, literals in AXES[axis](solver):
        limits = tuple(limit_of(own, known[key], literals, shown=shown) for key in wanted)
        if any(limit.build is not None for limit in limits):
            yield LimitsAtChoice(choice, limits)


def _processors(solver: Solver) -> Iterator[AxisChoice]:
    seats = list(solver.builds.working(Processor))
    total = per_part(Processor, one)(solver.builds)
    for count in range(1, len({seat.node.name for seat in seats}) + 1):
        exactly = solver.logic.both(_equals(solver, total, count))
        yield f"{count} processor{'' if count == 1 else 's'}", solver, (exactly,)


def _equals(solver: Solver, total: Sum, count: int) -> Iterator[BoolVar]:
    apart = Sum(total.terms, total.constant - count)
    yield solver.logic.below_or_none(apart)
    yield solver.logic.below_or_none(apart.times(Decimal(-1)))


def _parts(kind: type[Part]) -> Axis:
    def settings(solver: Solver) -> Iterator[AxisChoice]:
        seats: dict[str, list[BoolVar]] = {}
        for seat in solver.builds.working(kind):
            seats.setdefault(seat.part.id, []).append(seat.works)
        for name, literals in seats.items():
            held = solver.logic.either(literals)
            yield solver.definitions.parts[name].name, solver, (held,)

    return settings


def _supplies(solver: Solver) -> Iterator[AxisChoice]:
    for redundancy, spare in (("none", 0), ("1+1", 1), ("2+2", 2)):
        at = replace(solver.at, redundancy=Redundancy(redundancy, spare))
        own = Solver(solver.definitions, solver.platform, at)
        for name, _, literals in _parts(PowerSupply)(own):
            yield f"{name}, redundancy {redundancy}", own, literals


def _inlets(solver: Solver) -> Iterator[AxisChoice]:
    for text in INLETS:
        at = replace(solver.at, inlet=Temperature.parse(text))
        yield f"inlet {text}", Solver(solver.definitions, solver.platform, at), ()


AXES: Final[Mapping[str, Axis]] = {
    "processors": _processors,
    "bays": _parts(Backplane),
    "risers": _parts(Riser),
    "supplies": _supplies,
    "inlet": _inlets,
}
"""What limits may depend on."""
SETS_CONDITION: Final = {"supplies": "redundancy", "inlet": "inlet"}
"""The conditions that go through values along an axis."""
