"""The one place that knows the solver: exact truths and sums over its variables."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import field
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm
from typing import Any, Final

from specgen.frozen import frozen, state
from specgen.limits.reason import Reason, ReasonKind, ReasonMaker
from specgen.limits.sums import BoolVar, Sum
from specgen.messages import Message, say

LARGEST: Final = 2**50
"""Beyond this a sum could leave the solver's whole numbers."""


class NoSolver(Exception):
    """The package that solves is not installed: `message` says why, and how to mend it."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


class NotIntegral(Exception):
    """Amounts that cannot be made whole numbers without loss, as `message` says."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


def _cp_model() -> Any:
    try:
        from ortools.sat.python import cp_model
    except ImportError as problem:
        raise NoSolver(
            say(
                "limits need the solver OR-Tools, which cannot be imported here ({problem}); "
                "install it: pip install ortools",
                problem=str(problem),
            )
        ) from None
    return cp_model


def steps(amounts: Iterable[Decimal]) -> Fraction:
    """How many steps of a unit make all amounts whole numbers. Raises `NotIntegral`."""
    times = Counter(amount for amount in amounts if amount)
    if not times:
        return Fraction(1)
    exact = {Fraction(amount): count for amount, count in times.items()}
    per_unit = Fraction(
        lcm(*(each.denominator for each in exact)), gcd(*(each.numerator for each in exact))
    )
    if sum(abs(each * per_unit) * count for each, count in exact.items()) > LARGEST:
        raise NotIntegral(
            say("amounts as far apart as these need more than {count} steps", count=LARGEST)
        )
    return per_unit


@state
class Logic:
    """A model of the solver with memoised logic: the same question is the same literal.

    A model that `argues` about some sorts of statements has a literal for each of them, and holds
    to a statement where its literal is true; the others, and all of a plain model, always hold.
    """

    argues: frozenset[ReasonKind] = frozenset()
    cp: Any = field(default_factory=_cp_model)
    reasons: dict[Reason, BoolVar] = field(default_factory=dict)
    _now: BoolVar = None
    model: Any = None
    TRUE: BoolVar = None
    FALSE: BoolVar = None
    _ands: dict[tuple[int, ...], BoolVar] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.model = self.cp.CpModel()
        self.TRUE = self.model.new_constant(1)
        self.FALSE = self.TRUE.negated()

    def free(self, name: str) -> BoolVar:
        return self.model.new_bool_var(name)

    def number(self, most: Decimal) -> Any:
        """A whole number of nothing up to the most; a term of sums as literals are."""
        return self.model.new_int_var(0, int(most), "")

    def summed(self, amount: Sum, scale: Fraction) -> Any:
        """A sum in whole steps as a number of the model; a term of sums as literals are.

        All its amounts are nothing or more.
        """
        most = sum((a for a, _ in amount.terms), start=amount.constant)
        number = self.number(Decimal(int(Fraction(most) * scale)))
        self.model.add(self.expression(amount, scale) == number)
        return number

    def both(self, literals: Iterable[BoolVar]) -> BoolVar:
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

    def either(self, literals: Iterable[BoolVar]) -> BoolVar:
        """Whether any of these holds."""
        return self.both(each.negated() for each in literals).negated()

    @property
    def now(self) -> BoolVar:
        """The literal of the statement that is being told; None where there is none."""
        return self._now

    @contextmanager
    def because(self, sort: ReasonKind, saying: ReasonMaker) -> Iterator[None]:
        """What is told inside rests on a statement."""
        before = self._now
        if sort in self.argues:
            reason = saying()
            if reason not in self.reasons:
                self.reasons[reason] = self.free("")
            self._now = self.reasons[reason]
        yield
        self._now = before

    def never(self, *literals: BoolVar) -> None:
        """These do not hold together."""
        self._clause([each.negated() for each in literals])

    def implies(self, literal: BoolVar, *others: BoolVar) -> None:
        """Where the first holds, one of the others does."""
        self._clause([literal.negated(), *others])

    def _clause(self, literals: list[BoolVar]) -> None:
        if self._now is not None:
            literals.append(self._now.negated())
        self.model.add_bool_or(literals)

    def at_most_one(self, literals: Iterable[BoolVar]) -> None:
        found = list(literals)
        if len(found) < 2:
            return
        if self._now is None:
            self.model.add_at_most_one(found)
        else:
            self.model.add(sum(found) <= 1).only_enforce_if(self._now)

    def expression(self, amount: Sum, scale: Fraction) -> Any:
        """A sum in whole steps, so many a unit."""
        start = int(Fraction(amount.constant) * scale)
        whole = {a: int(Fraction(a) * scale) for a in {a for a, _ in amount.terms if a}}
        terms = [(literal, whole[a]) for a, literal in amount.terms if a]
        if not terms:
            return start
        literals, factors = zip(*terms, strict=True)
        return self.cp.LinearExpr.weighted_sum(literals, factors) + start

    def scale_of(self, amount: Sum) -> Fraction:
        return steps([*(a for a, _ in amount.terms), amount.constant])

    def at_most(self, amount: Sum, *where: BoolVar) -> None:
        """A sum is nothing or below, where all these literals hold."""
        if all(a <= 0 for a, _ in amount.terms) and amount.constant <= 0:
            return
        scale = self.scale_of(amount)
        expression = self.expression(amount, scale)
        if isinstance(expression, int):
            if expression > 0:
                self.never(*where)
            return
        holding = [*where, *(() if self._now is None else (self._now,))]
        constraint = self.model.add(expression <= 0)
        if holding:
            constraint.only_enforce_if(holding)

    def below_or_none(self, amount: Sum) -> BoolVar:
        """Whether a sum is nothing or below, exactly."""
        if not any(a for a, _ in amount.terms):
            return self.TRUE if amount.constant <= 0 else self.FALSE
        scale = self.scale_of(amount)
        expression, holds = self.expression(amount, scale), self.free("")
        self.model.add(expression <= 0).only_enforce_if(holds)
        self.model.add(expression >= 1).only_enforce_if(holds.negated())
        return holds


@frozen
class Answer:
    """What a run found: what literals and numbers are by index, the value, the bound on it."""

    holds: Mapping[int, int]
    value: int
    bound: int


@frozen
class Nothing:
    """A run that found nothing: because there is nothing (`proved`), or because time was up.

    `core` are indices of assumed literals that suffice for there being nothing; `bound` is the
    bound on the goal where one was found.
    """

    proved: bool
    core: tuple[int, ...] = ()
    bound: int | None = None


WORK: Final = 1.0
"""Deterministic seconds of the solver for one run."""

SMALL: Final = 2_000
"""Variables of a model up to which probing it pays; of larger ones it takes all the time."""

TIDY_SLACK: Final = 6
"""Parts more than the fewest at which a build is tidy enough."""


@frozen
class Goal:
    """What a run brings to its most or its least, None where any answer will do.

    Within `slack` of the best is good enough. `sums` says that the goal is about amounts, which
    linear programs are good at, rather than about how many.
    """

    expression: Any = None
    most: bool = True
    slack: float = 0.0
    sums: bool = True
    first: bool = False
    """Whether the first answer will do, the goal only leading there."""


ANY: Final = Goal()


def run(logic: Logic, model: Any, goal: Goal = ANY, work: float = WORK) -> Answer | Nothing:
    """One run for the most or the least of a goal, within deterministic `work`.

    The same model gives the same answer on any computer: one worker, one seed, and time counted
    in steps rather than by a clock.
    """
    model.clear_objective()
    if goal.expression is not None:
        (model.maximize if goal.most else model.minimize)(goal.expression)
    solver = logic.cp.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = 1
    # else it leaves the process without Python's own handler: an interrupt then clears nothing up
    parameters.catch_sigint_signal = False
    parameters.max_deterministic_time = work
    parameters.absolute_gap_limit = goal.slack
    parameters.stop_after_first_solution = goal.first
    parameters.linearization_level = 2 if goal.sums else 1
    parameters.symmetry_level = 0  # looks for what these models do not have
    parameters.find_big_linear_overlap = False  # takes all the time that a model is given
    parameters.cp_model_probing_level = 2 if len(model.proto.variables) <= SMALL else 0
    # tidying clauses before searching takes longer than the searches, which meet few conflicts
    parameters.inprocessing_probing_dtime = 0.02
    parameters.inprocessing_minimization_dtime = 0.02
    status = solver.solve(model)
    if status == logic.cp.INFEASIBLE:
        core = tuple(solver.sufficient_assumptions_for_infeasibility())
        return Nothing(True, core)
    if status not in (logic.cp.OPTIMAL, logic.cp.FEASIBLE):
        known = goal.expression is not None and abs(solver.best_objective_bound) < LARGEST
        return Nothing(False, (), round(solver.best_objective_bound) if known else None)
    holds = dict(enumerate(solver.response_proto.solution))
    return Answer(holds, round(solver.objective_value), round(solver.best_objective_bound))
