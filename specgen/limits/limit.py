"""The most and the least that any valid build of a platform reaches."""

from collections.abc import Iterable
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any

from specgen.assembly import Assembly
from specgen.facts import Facts
from specgen.frozen import frozen
from specgen.limits.build_text import text_of
from specgen.limits.input_power import DIVIDED, SupplyChoice, best_first, supply_choices
from specgen.limits.objectives import INPUT, Amount, Objective, amount_of, bounded
from specgen.limits.solve import FoundBuild, NoBuild, Solver
from specgen.limits.solver import Goal, Nothing, run
from specgen.limits.sums import BoolVar
from specgen.limits.tidied import tidied
from specgen.messages import Words
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.quantity import Power, Quantity


class Status(StrEnum):
    """How sure a limit is."""

    PROVED = "proved"
    FOUND = "best found"
    NOTHING = "no build"
    UNDECLARED = "not declared"


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

    @property
    def nothing(self) -> bool:
        """Whether none of it is reached."""
        value = self.value.amount if isinstance(self.value, Quantity) else self.value
        return value is not None and not value

    @property
    def bounded(self) -> Words:
        """Its name, and whether it is the most or the least."""
        return bounded(self.name, self.most)


def limit_of(
    solver: Solver, objective: Objective, where: Iterable[BoolVar] = (), *, shown: bool = False
) -> Limit:
    """The most or least of an objective, with the build that reaches it; some literals hold.

    Tidying takes as long as proving, and is done of a build that is to be `shown`.
    """
    if objective.fact == INPUT:
        return _of_input(solver, objective, tuple(where), shown)
    return _of_sum(solver, objective, tuple(where), shown)


def _of_input(
    solver: Solver, objective: Objective, where: tuple[BoolVar, ...], shown: bool
) -> Limit:
    """The limit of input power: that of the load for each choice of power supplies."""
    most, (expression, scale) = objective.most, solver.totals[objective.key]
    pick = max if most else min
    loads: dict[str, Decimal | None] = {}
    choices = []
    for choice in supply_choices(solver.builds):
        if choice.model not in loads:
            some = solver.logic.either(each for seats, _ in choice.seats for each in seats)
            loads[choice.model] = _load(solver, Goal(expression, most), scale, (*where, some))
        load = loads[choice.model]
        if load is not None:
            choices.append((choice, load))
    best: tuple[FoundBuild, SupplyChoice] | None = None
    value, bound, rounds, exact = None, None, 0, True
    for within, choice in best_first(choices, most):
        if value is not None and pick(value, within) == value:
            break
        model = solver.model(where, started=False)
        _chosen(model, choice)
        found = solver.seek(model, Goal(expression, most), f"{objective.key}-example")
        rounds += found.rounds
        if isinstance(found, NoBuild):
            if not found.proved:
                exact, bound = False, within if bound is None else pick(bound, within)
            continue
        reachable = choice.bound(_in_units(found.answer.bound, scale), most)
        bound = reachable if bound is None else pick(bound, reachable)
        exact = exact and found.exact
        here = found.facts.value(objective.fact)
        if isinstance(here, Power) and (value is None or pick(value, here.amount) == here.amount):
            best, value = (found, choice), here.amount
    if best is None or value is None or bound is None:
        return _without_example(objective, bound, rounds, declared=bool(loads))
    if abs(bound - value) <= value * DIVIDED:
        bound = value
    proved = exact and bound == value
    found, choice = best
    load_at = found.facts.value("power.load")
    assert isinstance(load_at, Power)
    steps = _in_steps(load_at, scale)

    def as_far(model: Any) -> None:
        _chosen(model, choice)
        model.add(expression == steps)

    name = f"{objective.key}-example"
    if shown:
        found = tidied(solver, found, name, where, as_far, objective.full)
    return Limit(
        objective.key, objective.name, objective.label, most, Power.of(value), Power.of(bound),
        Status.PROVED if proved else Status.FOUND,
        found.build, text_of(found.build, solver.at), rounds,
    )  # fmt: skip


def _without_example(
    objective: Objective, bound: Decimal | None, rounds: int, *, declared: bool
) -> Limit:
    """What is known of input power without a build: `declared` where a supply has a curve."""
    status = Status.NOTHING if bound is None else Status.FOUND
    return Limit(
        objective.key, objective.name, objective.label, objective.most, None,
        None if bound is None else Power.of(bound),
        status if declared else Status.UNDECLARED, None, "", rounds,
    )  # fmt: skip


def _chosen(model: Any, choice: SupplyChoice) -> None:
    """Tells a model that a choice of power supplies is made."""
    for seats, count in choice.seats:
        model.add(sum(seats) == count)


def _load(
    solver: Solver, goal: Goal, scale: Fraction, where: tuple[BoolVar, ...]
) -> Decimal | None:
    """The bound on the DC load where some literals hold; None where no build has them."""
    answer = run(solver.logic, solver.model(where, started=False), goal)
    if isinstance(answer, Nothing):
        return None if answer.bound is None else _in_units(answer.bound, scale)
    return _in_units(answer.bound, scale)


def _in_units(steps: int, scale: Fraction) -> Decimal:
    return Decimal(steps * scale.denominator) / scale.numerator


def _of_sum(solver: Solver, objective: Objective, where: tuple[BoolVar, ...], shown: bool) -> Limit:
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
    rounds, steps_there = found.rounds, _in_steps(value, scale)
    if shown:
        name = f"{objective.key}-example"
        found = tidied(
            solver, found, name, where, lambda model: model.add(expression == steps_there),
            objective.full,
        )  # fmt: skip
    return Limit(
        objective.key, objective.name, objective.label, objective.most, value, bound,
        Status.PROVED if proved else Status.FOUND,
        found.build, text_of(found.build, solver.at), rounds,
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


def _in_steps(value: Amount, scale: Fraction) -> int:
    amount = value.amount if isinstance(value, Quantity) else Decimal(value)
    return int(Fraction(amount) * scale)


def _steps(solver: Solver, bound: int, weight: int, most: bool) -> int:
    """The bound on a sum from that on the sum with parts counted in: at most one a position."""
    if weight == 1:
        return bound
    parts = len(solver.nodes)
    return (bound + parts) // weight if most else -((parts - bound) // weight)


def _amount(objective: Objective, steps: int, scale: Fraction) -> Amount:
    return amount_of(objective, _in_units(steps, scale))


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
