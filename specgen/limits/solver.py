"""The one place that knows the solver: exact truths and sums over its variables."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm
from typing import Any, Final

Literal = Any
"""A truth of the solver, or its negation; `TRUE` and `FALSE` of a `Puzzle` are literals too."""

LARGEST: Final = 2**50
"""Beyond this a sum could leave the solver's whole numbers."""


class NoSolver(Exception):
    """The package that solves is not installed."""


class NotWhole(Exception):
    """Amounts that cannot be made whole numbers without loss."""


def _cp_model() -> Any:
    try:
        from ortools.sat.python import cp_model
    except ImportError:
        raise NoSolver("limits need a solver: pip install 'specgen[limits]'") from None
    return cp_model


def steps(amounts: Iterable[Decimal]) -> Fraction:
    """How many steps of a unit make all amounts whole numbers. Raises `NotWhole`."""
    exact = [Fraction(amount) for amount in amounts if amount]
    if not exact:
        return Fraction(1)
    per_unit = Fraction(
        lcm(*(each.denominator for each in exact)), gcd(*(each.numerator for each in exact))
    )
    if sum(abs(each * per_unit) for each in exact) > LARGEST:
        raise NotWhole(f"amounts as far apart as these need more than {LARGEST} steps")
    return per_unit


@dataclass(frozen=True, slots=True)
class Sum:
    """Amounts that count where their literals hold, and one that always does."""

    terms: tuple[tuple[Decimal, Literal], ...] = ()
    constant: Decimal = Decimal(0)

    def plus(self, other: "Sum", sign: int = 1) -> "Sum":
        terms = tuple((sign * amount, literal) for amount, literal in other.terms)
        return Sum((*self.terms, *terms), self.constant + sign * other.constant)

    def times(self, by: Decimal) -> "Sum":
        return Sum(tuple((by * a, literal) for a, literal in self.terms), by * self.constant)


@dataclass(slots=True)
class Puzzle:
    """A model of the solver with memoised logic: the same question is the same literal."""

    cp: Any = field(default_factory=_cp_model)
    model: Any = None
    TRUE: Literal = None
    FALSE: Literal = None
    _ands: dict[tuple[int, ...], Literal] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.model = self.cp.CpModel()
        self.TRUE = self.model.new_constant(1)
        self.FALSE = self.TRUE.negated()

    def free(self, name: str) -> Literal:
        return self.model.new_bool_var(name)

    def both(self, literals: Iterable[Literal]) -> Literal:
        """Whether all of these hold."""
        found = {each.index: each for each in literals if each.index != self.TRUE.index}
        if not found:
            return self.TRUE
        if self.FALSE.index in found or any(-index - 1 in found for index in found):
            return self.FALSE
        if len(found) == 1:
            return next(iter(found.values()))
        key = tuple(sorted(found))
        if key not in self._ands:
            all_ = self.free("")
            members = [found[index] for index in key]
            for each in members:
                self.model.add_implication(all_, each)
            self.model.add_bool_or([all_, *(each.negated() for each in members)])
            self._ands[key] = all_
        return self._ands[key]

    def either(self, literals: Iterable[Literal]) -> Literal:
        """Whether any of these holds."""
        return self.both(each.negated() for each in literals).negated()

    def never(self, *literals: Literal) -> None:
        """These do not hold together."""
        self.model.add_bool_or([each.negated() for each in literals])

    def implies(self, literal: Literal, *others: Literal) -> None:
        """Where the first holds, one of the others does."""
        self.model.add_bool_or([literal.negated(), *others])

    def at_most_one(self, literals: Iterable[Literal]) -> None:
        found = list(literals)
        if len(found) > 1:
            self.model.add_at_most_one(found)

    def expression(self, amount: Sum, scale: Fraction) -> Any:
        """A sum in whole steps, so many a unit."""
        parts = [(int(Fraction(a) * scale), literal) for a, literal in amount.terms if a]
        start = int(Fraction(amount.constant) * scale)
        return sum((a * literal for a, literal in parts), start=start)

    def scale_of(self, amount: Sum) -> Fraction:
        return steps([*(a for a, _ in amount.terms), amount.constant])

    def at_most(self, amount: Sum, *where: Literal) -> None:
        """A sum is nothing or below, where all these literals hold."""
        if all(a <= 0 for a, _ in amount.terms) and amount.constant <= 0:
            return
        scale = self.scale_of(amount)
        expression = self.expression(amount, scale)
        if isinstance(expression, int):
            if expression > 0:
                self.model.add_bool_or([each.negated() for each in where])
            return
        constraint = self.model.add(expression <= 0)
        if where:
            constraint.only_enforce_if(list(where))

    def below_or_none(self, amount: Sum) -> Literal:
        """Whether a sum is nothing or below, exactly."""
        if not any(a for a, _ in amount.terms):
            return self.TRUE if amount.constant <= 0 else self.FALSE
        scale = self.scale_of(amount)
        expression, holds = self.expression(amount, scale), self.free("")
        self.model.add(expression <= 0).only_enforce_if(holds)
        self.model.add(expression >= 1).only_enforce_if(holds.negated())
        return holds


@dataclass(frozen=True, slots=True)
class Answer:
    """What a run found: which literals hold by index, the value, the bound; None for no build."""

    holds: Mapping[int, bool]
    value: int
    bound: int
    proved: bool


def run(puzzle: Puzzle, model: Any, goal: Any, most: bool, work: float) -> Answer | None:
    """One run for the most or the least of a goal, within deterministic `work`.

    The same model gives the same answer on any machine: one worker, one seed, and time counted
    in steps rather than by a clock.
    """
    (model.maximize if most else model.minimize)(goal)
    solver = puzzle.cp.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = 1
    parameters.max_deterministic_time = work
    parameters.symmetry_level = 0  # both look for what these models do not have
    parameters.cp_model_probing_level = 0
    status = solver.solve(model)
    if status not in (puzzle.cp.OPTIMAL, puzzle.cp.FEASIBLE):
        return None
    chosen = list(solver.response_proto.solution)
    holds = {index: bool(value) for index, value in enumerate(chosen)}
    value = round(solver.objective_value)
    bound = round(solver.best_objective_bound)
    return Answer(holds, value, bound, status == puzzle.cp.OPTIMAL)
