"""The most and the least that any valid build of a platform reaches."""

from collections.abc import Iterable
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from specgen.assembly import Assembly
from specgen.facts import Facts
from specgen.frozen import frozen
from specgen.limits.build_text import text_of
from specgen.limits.objectives import Amount, Objective, amount_of
from specgen.limits.solve import NoBuild, Solver
from specgen.limits.solver import BoolVar, Goal
from specgen.messages import Words
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.quantity import Quantity


class Status(StrEnum):
    """How sure a limit is."""

    PROVED = "proved"
    FOUND = "best found"
    NOTHING = "no build"


@frozen
class Limit:
    """The most or least of a quantity that any valid build of a platform reaches.

    `value` is what `build` reaches, which the checks found sound; no valid build goes beyond
    `bound`. The two are equal where the limit is proved. `rounds` counts the builds judged.
    """

    key: str
    name: Words
    """What it is the most or least of."""
    label: Words
    """Its name, told apart from another limit of the same name."""
    most: bool
    value: Amount | None
    bound: Amount | None
    status: Status
    build: Build | None
    text: str
    rounds: int


def limit_of(solver: Solver, objective: Objective, where: Iterable[BoolVar] = ()) -> Limit:
    """The most or least of an objective, with the build that reaches it; some literals hold."""
    expression, scale = solver.totals[objective.key]
    goal, weight = Goal(expression, objective.most), 1
    if not objective.full:
        goal, weight = solver.tidy(expression, objective.most)
    model = solver.model(where, started=not objective.full)
    found = solver.seek(model, goal, f"{objective.key}-example")
    if isinstance(found, NoBuild):
        steps = None if found.bound is None else _steps(solver, found.bound, weight, objective.most)
        bound = None if steps is None else _amount(objective, steps, scale)
        status = Status.NOTHING if found.proved or bound is None else Status.FOUND
        return Limit(
            objective.key, objective.name, objective.label, objective.most, None, bound,
            status, None, "", found.rounds,
        )  # fmt: skip
    value = reached(objective, found.assembly, found.facts)
    bound = _amount(objective, _steps(solver, found.answer.bound, weight, objective.most), scale)
    proved = found.exact and not _beyond(objective, bound, value)
    if isinstance(value, Quantity) and isinstance(bound, Quantity):
        bound = bound.to(value.unit.symbol)
    return Limit(
        objective.key, objective.name, objective.label, objective.most, value, bound,
        Status.PROVED if proved else Status.FOUND,
        found.build, text_of(found.build, solver.at), found.rounds,
    )  # fmt: skip


def best(
    definitions: Definitions,
    platform: Platform,
    objective: Objective,
    conditions: Conditions = ANYWHERE,
) -> Limit:
    """The most or least of an objective over all valid builds of a platform.

    Raises what `Solver` does.
    """
    return limit_of(Solver(definitions, platform, conditions), objective)


def _steps(solver: Solver, bound: int, weight: int, most: bool) -> int:
    """The bound on a sum from that on the sum with parts counted in: at most one a position."""
    if weight == 1:
        return bound
    parts = len(solver.nodes)
    return (bound + parts) // weight if most else -((parts - bound) // weight)


def _amount(objective: Objective, steps: int, scale: Fraction) -> Amount:
    return amount_of(objective, Decimal(steps * scale.denominator) / scale.numerator)


def _beyond(objective: Objective, one: Amount, two: Amount) -> bool:
    a = one.amount if isinstance(one, Quantity) else Decimal(one)
    b = two.amount if isinstance(two, Quantity) else Decimal(two)
    return a > b if objective.most else a < b


def reached(objective: Objective, assembly: Assembly, facts: Facts) -> Amount:
    """What a build reaches of an objective."""
    if objective.counted is not None:
        return objective.counted(assembly)
    value = facts.value(objective.fact)
    if isinstance(value, int | Quantity):
        return value
    return 0 if objective.quantity is None else objective.quantity.of(Decimal(0))
