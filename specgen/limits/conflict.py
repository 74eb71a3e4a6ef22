"""Which statements of the definitions stand in the way of what is wished."""

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from typing import Any, Final

from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.limits.input_power import input_beyond
from specgen.limits.learnt import Learnt, hold
from specgen.limits.limit import DIVIDED, Limit, Status
from specgen.limits.objectives import INPUT, objectives_of
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.solver import WORK, Answer, BoolVar, Goal, Nothing, Sum, run
from specgen.model import ANYWHERE, Conditions, Definitions, Platform
from specgen.quantity import Quantity

LONG = 4.0
"""For the question whose answer is that nothing is left."""
MOST_RUNS: Final = 120
"""Runs of the solver for one conflict."""
MANY: Final = 32
"""Spare positions of each sort where one more of each would not do."""

ALL_SORTS = frozenset(ReasonKind)


@frozen
class Conflict:
    """Statements that together leave no build for a wish; without any one, the others leave one.

    `alone` are those that would be enough to take back by themselves, everything else in force.
    No reasons: no choice of parts in the catalog comes near the wish at all, however many
    positions there were. Without `tried`, time was up before each was tried without: the others
    may be enough.
    """

    reasons: tuple[Reason, ...]
    alone: frozenset[Reason] = frozenset()
    tried: bool = True


@frozen
class Wished:
    """What shall hold beside, as literals of a model, and a sum that leads there."""

    literals: tuple[BoolVar, ...]
    towards: Any = None
    """What is to grow where it is a sum that is wished for: linear programs are led by that."""


Where = Callable[[Solver], Wished]


def conflict(
    definitions: Definitions,
    platform: Platform,
    where: Where,
    at: Conditions = ANYWHERE,
    learnt: Sequence[Learnt] = (),
) -> Conflict | None:
    """A conflict of the statements about a platform; None where there is none.

    Too where time was too short to find one. Where one more position of each sort does not help,
    many more are tried, so that a number of positions is named where it is the reason. What the
    checks refuse, as far as it is `learnt`, stands in the way as well. Raises what `Solver` does.
    """
    for spares in (1, MANY):
        arguing = Solver(definitions, platform, at, argues=ALL_SORTS, spares=spares)
        hold(arguing.builds, learnt)
        found = Argument(arguing, where(arguing)).conflict()
        if found is None or found.reasons:
            return found
    return Conflict(())


class Argument:
    """Asks a model that argues which of its statements stand in the way."""

    def __init__(self, arguing: Solver, wished: Wished) -> None:
        self.literals, self.logic, self.wished = arguing.logic.reasons, arguing.logic, wished
        self.everything = tuple(self.literals)
        self.runs = 0

    def conflict(self) -> Conflict | None:
        """The conflict that is left when all that it can do without is left out.

        First all that builds beyond take back is gathered until it leaves none. Of that, what
        says least to a reader is tried without first, all of a sort together where that will do.
        """
        gathered = self._gathered()
        if gathered is None:
            return None
        alone = {each for each in gathered if self._enough_alone(each)}
        kept, tried = list(gathered), True
        for _, alike in sorted(grouped((_rank(each), each) for each in gathered).items()):
            spared = [each for each in alike if each not in alone]
            if not spared:
                continue
            without = self.ruled_out([each for each in kept if each not in spared])
            if without:
                kept = [each for each in kept if each not in spared]
                continue
            for each in spared:
                fewer = [other for other in kept if other is not each]
                # all of a sort were just tried together, so one by itself was as well
                without = without if len(spared) == 1 else self.ruled_out(fewer)
                tried = tried and without is not None
                if without:
                    kept = fewer
        return Conflict(tuple(kept), frozenset(alone), tried)

    def _gathered(self) -> tuple[Reason, ...] | None:
        """Statements that leave no build, most of them needed for that; None where time was up."""
        found: list[Reason] = []
        while True:
            cost = sum(
                (100 - _rank(each)) * literal.negated()
                for each, literal in self.literals.items()
                if each not in found
            )
            goal = Goal(cost, most=False, sums=False)
            if self.wished.towards is not None:
                far = 100 * len(self.everything) + 1
                goal = Goal(self.wished.towards * far - cost)
            answer = self._run(found, (), goal, LONG)
            if isinstance(answer, Nothing):
                break
            missed = [each for each in self.everything if not self._holds(answer, each)]
            if not missed:
                return None
            found += missed
        if not answer.proved:
            return None
        return tuple(sorted(found, key=_rank))

    def _enough_alone(self, reason: Reason) -> bool:
        """Whether there is a build beyond that takes back this alone."""
        others = [each for each in self.everything if each is not reason]
        return isinstance(self._run(others, (), self._towards), Answer)

    def ruled_out(self, kept: Iterable[Reason]) -> bool | None:
        """Whether some reasons leave no build, all others taken back; None where time was up."""
        held = set(kept)
        others = [each for each in self.everything if each not in held]
        answer = self._run(held, others, self._towards)
        if isinstance(answer, Answer):
            return False
        return True if answer.proved else None

    @property
    def _towards(self) -> Goal:
        return Goal(self.wished.towards, first=True)

    def _holds(self, answer: Answer, reason: Reason) -> bool:
        return bool(answer.holds[self.literals[reason].index])

    def _run(
        self, kept: Iterable[Reason], back: Iterable[Reason], goal: Goal, work: float = WORK
    ) -> Answer | Nothing:
        """One run in which some reasons are kept and some are taken back."""
        if self.runs == MOST_RUNS:
            return Nothing(False)
        self.runs += 1
        model = self.logic.model.clone()
        for literal in (*self.wished.literals, *(self.literals[each] for each in kept)):
            model.add_bool_or([literal])
        for each in back:
            model.add_bool_or([self.literals[each].negated()])
        return run(self.logic, model, goal, work)


def _rank(reason: Reason) -> int:
    """How much a reason tells a reader."""
    return list(ReasonKind).index(reason.sort)


def binding(
    definitions: Definitions, platform: Platform, limit: Limit, at: Conditions = ANYWHERE
) -> Conflict | None:
    """What keeps a limit from being passed by one step, or any build from being valid where none
    is; None where no bound is known.

    Raises what `Solver` does.
    """
    nothing = limit.status is Status.NOTHING
    if limit.bound is None and not nothing:
        return None
    plain = Solver(definitions, platform, at)
    beside = Wished(()) if nothing else beyond(plain, limit)
    _ = plain.seek(plain.model(beside.literals, started=False))

    def where(arguing: Solver) -> Wished:
        return Wished(()) if nothing else beyond(arguing, limit)

    return conflict(definitions, platform, where, at, plain.learnt)


def beyond(solver: Solver, limit: Limit) -> Wished:
    """That a system goes beyond the bound of a limit."""
    bound = 0 if limit.bound is None else limit.bound
    objective = objectives_of(solver.definitions)[limit.key]
    amount = bound.amount if isinstance(bound, Quantity) else Decimal(bound)
    total, (expression, _) = objective.total(solver.builds), solver.totals[limit.key]
    if objective.fact == INPUT:
        further = 1 + DIVIDED if limit.most else 1 - DIVIDED  # than rounding of quotients
        past = input_beyond(solver, total, amount * further, limit.most)
    else:
        apart = total.plus(Sum((), -amount))
        signed = apart if limit.most else apart.times(Decimal(-1))
        past = solver.logic.below_or_none(signed).negated()
    return Wished((past,), expression if limit.most else -expression)
