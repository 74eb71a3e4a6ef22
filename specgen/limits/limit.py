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
from specgen.limits.input_power import DIVIDED, SupplyChoice, supply_choices
from specgen.limits.objectives import INPUT, LOAD, Amount, Objective, amount_of, bounded
from specgen.limits.solve import FoundBuild, NoBuild, Solver
from specgen.limits.solver import Goal, Nothing, run
from specgen.limits.sums import BoolVar
from specgen.limits.tidied import tidied
from specgen.messages import Words
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform, PowerSupply
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
    if objective.fact == INPUT or (objective.fact == LOAD and _all_carry(solver)):
        return _of_supplies(solver, objective, tuple(where), shown)
    return _of_sum(solver, objective, tuple(where), shown)


def _all_carry(solver: Solver) -> bool:
    """Whether there are power supplies, and it is known of each how much it carries."""
    choices = {choice.model for choice in supply_choices(solver.builds)}
    return {seat.part.id for seat in solver.builds.working(PowerSupply)} == choices != set()


def _of_supplies(
    solver: Solver, objective: Objective, where: tuple[BoolVar, ...], shown: bool
) -> Limit:
    """The limit of input power, or of the load: that of the load for each choice of supplies."""
    most = objective.most
    sought = _BySupplies(solver, objective, where)
    sought.seek()
    value, bound = sought.value, sought.bound
    if sought.best is None or value is None or bound is None:
        return _without_example(
            objective, bound, sought.rounds, declared=bool(sought.choices)
        )  # fmt: skip
    if abs(bound - value) <= value * DIVIDED:
        bound = value
    proved = sought.exact and bound == value
    found, choice = sought.best
    load_at = found.facts.value(LOAD)
    assert isinstance(load_at, Power)
    expression, scale = solver.totals[objective.key]
    steps = _in_steps(load_at, scale)

    def as_far(model: Any) -> None:
        _chosen(model, choice)
        model.add(expression == steps)

    if shown:
        name = f"{objective.key}-example"
        found = tidied(solver, found, name, where, as_far, objective.full)
    return Limit(
        objective.key, objective.name, objective.label, most, Power.of(value), Power.of(bound),
        Status.PROVED if proved else Status.FOUND,
        found.build, text_of(found.build, solver.at), sought.rounds,
    )  # fmt: skip


class _BySupplies:
    """The most or least of input power, or of the load, for one choice of supplies after the other.

    What a choice carries is a bound that no relaxation of the whole comes near. Only where parts
    are the tighter one, the load is bounded for all choices.
    """

    def __init__(
        self, solver: Solver, objective: Objective, where: tuple[BoolVar, ...]
    ) -> None:  # fmt: skip
        self.solver, self.objective, self.where = solver, objective, where
        expression, self.scale = solver.totals[objective.key]
        self.goal = Goal(expression, objective.most)
        self.choices = tuple(supply_choices(solver.builds))
        self.best: tuple[FoundBuild, SupplyChoice] | None = None
        self.value: Decimal | None = None
        self.bound: Decimal | None = None
        self.rounds, self.exact = 0, True

    def seek(self) -> None:
        """Tries choices, the most promising first, until no other can go beyond what is found."""
        most = self.objective.most
        load = None if most else _load(self.solver, self.goal, self.scale, self.where)
        left = self._in_order(self.choices, load)
        while left:
            within, choice = left.pop(0)
            if self.value is not None and self._beyond(self.value, within) == self.value:
                break
            at = self._tried(choice, within)
            if most and load is None and at is not None and at < choice.carried:
                load = _load(self.solver, self.goal, self.scale, self.where)
                left = self._in_order((each for _, each in left), load)

    def _in_order(
        self, choices: Iterable[SupplyChoice], load: Decimal | None
    ) -> list[tuple[Decimal, SupplyChoice]]:
        """Choices with what bounds them, where none has a load beyond another."""
        found = []
        for each in choices:
            carried = each.carried if self.objective.most else load
            at = carried if carried is None or load is None else min(carried, load)
            if at is not None:
                found.append((self._at(each, at), each))
        return sorted(found, key=lambda each: each[0], reverse=self.objective.most)

    def _at(self, choice: SupplyChoice, load: Decimal) -> Decimal:
        """What a choice comes to at a load, at the most or least."""
        known = self.objective.fact == LOAD
        return load if known else choice.bound(load, self.objective.most)

    def _beyond(self, one: Decimal | None, two: Decimal) -> Decimal:
        """The further of two."""
        if one is None:
            return two
        return max(one, two) if self.objective.most else min(one, two)

    def _tried(self, choice: SupplyChoice, within: Decimal) -> Decimal | None:
        """The bound on the load with a choice that comes to nothing beyond `within`; None where it
        has no build."""
        found = _with_supplies(self.solver, self.goal, self.where, choice)
        self.rounds += found.rounds
        if isinstance(found, NoBuild):
            if not found.proved:
                self.exact, self.bound = False, self._beyond(self.bound, within)
            return None
        at = _in_units(found.answer.bound, self.scale)
        reachable = self._at(choice, min(at, choice.carried) if self.objective.most else at)
        here = found.facts.value(self.objective.fact)
        if isinstance(here, Power) and here.amount == within:
            reachable = within  # whatever was refused before does not go beyond
        else:
            self.exact = self.exact and found.exact
        self.bound = self._beyond(self.bound, reachable)
        if isinstance(here, Power) and self._beyond(self.value, here.amount) == here.amount:
            self.best, self.value = (found, choice), here.amount
        return at


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


def _with_supplies(
    solver: Solver, goal: Goal, where: tuple[BoolVar, ...], choice: SupplyChoice
) -> FoundBuild | NoBuild:
    """The build of the most or the least load with a choice of supplies, sought once: the limit of
    the load asks for the same ones as that of input power."""
    key = goal.most, choice, tuple(each.index for each in where)
    if key not in solver.with_supplies:
        model = solver.model(where, started=False)
        _chosen(model, choice)
        solver.with_supplies[key] = solver.seek(model, goal)
    return solver.with_supplies[key]


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
