"""Asks a model which of its statements stand in the way of what is wished."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import Any, Final

from specgen.frozen import frozen
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.solver import WORK, Answer, Goal, Nothing, run
from specgen.limits.spare_positions import declared_name
from specgen.limits.sums import BoolVar

LONG: Final = 4.0
"""For questions whose answer is that nothing is left."""
MOST_SAID: Final = 100
"""What it costs to take back a statement, less what it says to a reader. A build that takes back
some three more than it need does to gather them."""
MOST_RUNS: Final = 120
"""Runs of the solver for one conflict."""


@frozen
class Conflict:
    """Statements that together leave no build for a wish; without any one, the others leave one.

    `alone` are those that would be enough to take back by themselves, everything else in force.
    No reasons: no choice of parts in the catalog comes near the wish at all, however many
    positions there were. Without `tried`, the counted work was up before each was tried without:
    the others may be enough.
    """

    reasons: tuple[Reason, ...]
    alone: frozenset[Reason] = frozenset()
    together: tuple[Reason, ...] = ()
    """The fewest that would be enough to take back at once, where none is by itself."""
    tried: bool = True


@frozen
class Wished:
    """What shall hold beside, as literals of a model, and a sum that leads there."""

    literals: tuple[BoolVar, ...]
    towards: Any = None
    """What is to grow where it is a sum that is wished for: linear programs are led by that."""
    beside: tuple[BoolVar, ...] = ()
    """What else shall hold, and does in builds that come as far as any."""


class Argument:
    """Asks a model that argues which of its statements stand in the way.

    In counted runs: statements that would be enough to take back by themselves are found one a
    run, however many there are of others, and stand in every conflict. They are most of those of
    a sum, such as a weight, so that few are left to be tried.
    """

    def __init__(self, arguing: Solver, wished: Wished) -> None:
        self.arguing, self.logic, self.wished = arguing, arguing.logic, wished
        self.literals = self.logic.reasons
        self.everything = tuple(self.literals)
        self.runs = 0
        self._missed: list[frozenset[Reason]] = []
        """What builds beyond take back of that which leaves none."""

    def conflict(self) -> Conflict | None:
        """The conflict that is left when all that it can do without is left out.

        To some enough by themselves is gathered what builds beyond take back, until there is none:
        all others enough by themselves are among that. Of the rest, what says least to a reader is
        tried without first. What would be enough together is asked by `completed`.
        """
        best = self._best()
        alone = [] if best is None else self._enough_alone(self.everything, best)
        gathered = None if alone is None else self._gathered(alone, self.everything)
        if alone is None or gathered is None:
            return None
        more = self._enough_alone(_without(gathered, alone))
        if more is None:
            return None
        alone += more
        kept, tried = self._narrowed(gathered, _without(gathered, alone))
        return Conflict(kept, frozenset(alone), tried=tried)

    def beside(self, known: Conflict, told: Iterable[Reason]) -> Conflict:
        """A conflict of a model that was `told` less, and what it needs here beside.

        All that is said here alone rules out with it what is wished, since there it did by itself,
        and what was needed there is so here.
        """
        asked = (*known.reasons, *_without(self.everything, told))
        gathered = self._gathered(known.reasons, asked) or asked
        more = self._enough_alone(_without(gathered, known.reasons)) or []
        kept, tried = self._narrowed(gathered, _without(gathered, [*known.reasons, *more]))
        alone = frozenset((*known.alone, *more))
        return self.completed(Conflict(self._in_order(kept), alone, tried=known.tried and tried))

    def completed(self, found: Conflict) -> Conflict:
        """A conflict with the fewest that are enough together, where none is by itself."""
        if found.alone or not found.reasons:
            return found
        return replace(found, together=self._fewest_back())

    def _fewest_back(self) -> tuple[Reason, ...]:
        """The fewest statements without which there is a build beyond, all others in force; none of
        them is enough by itself."""
        answer = self._count(self._model(()), Goal(self._taken_back(), most=False, sums=False))
        if not isinstance(answer, Answer):
            return ()
        found = self._in_order(each for each in self.everything if not self._holds(answer, each))
        fewer_cost = MOST_SAID * (len(found) - 1)
        return found if answer.bound > fewer_cost else ()

    def _taken_back(self, but: Collection[Reason] = ()) -> Any:
        """How many statements are taken back; of equals, those that say most to a reader."""
        return sum(
            (MOST_SAID - _rank(each)) * literal.negated()
            for each, literal in self.literals.items()
            if each not in but
        )

    def _enough_alone(
        self, group: tuple[Reason, ...], like: Answer | None = None
    ) -> list[Reason] | None:
        """The statements of a group without any one of which there is a build beyond; None where
        there is one that holds to all.

        Only builds `like` the best that holds to all, if given: few parts more, quickly found.
        """
        found: list[Reason] = []
        waiting = [group] if group else []
        while waiting:
            left = _without(waiting.pop(), found)
            answer = self._one_back(left, like)
            if isinstance(answer, Answer):
                missed = [each for each in left if not self._holds(answer, each)]
                if not missed:
                    return None
                found += missed
                waiting += [tuple(left)] if len(left) > 1 else []
            elif not answer.proved and like is None and len(left) > 1:
                waiting += _halves(left)
        return found

    def _in_order(self, found: Iterable[Reason]) -> tuple[Reason, ...]:
        """Statements by what they tell a reader, then as the model was told them."""
        known = set(found)
        return tuple(sorted((each for each in self.everything if each in known), key=_rank))

    def _best(self) -> Answer | None:
        """The build that comes nearest to what is wished, and holds to all."""
        if self.wished.towards is None:
            return None
        model = self.logic.model.clone()
        _hold(model, (*self.literals.values(), *self.wished.beside))
        answer = self._count(model, Goal(self.wished.towards))
        return answer if isinstance(answer, Answer) else None

    def _one_back(self, group: Sequence[Reason], like: Answer | None) -> Answer | Nothing:
        """A build beyond that takes back at most one of a group; `like` another in all positions
        that the platform has."""
        model = self._model([each for each in self.everything if each not in group])
        model.add_at_most_one(self.literals[each].negated() for each in group)
        if like is not None:
            for seat in self.arguing.free:
                if seat.node.name == declared_name(seat.node.name):
                    sits = bool(like.holds[seat.sits.index])
                    _hold(model, [seat.sits if sits else seat.sits.negated()])
        return self._count(model, self._towards, LONG if like is None else WORK)

    def _gathered(
        self, start: Iterable[Reason], among: tuple[Reason, ...]
    ) -> tuple[Reason, ...] | None:
        """Statements that leave no build, most of them needed for that, all others taken back; None
        where the counted work did not do."""
        found = list(start)
        others = _without(self.everything, among)
        while True:
            cost = self._taken_back(but=[*found, *others])
            goal = Goal(cost, most=False, slack=3 * MOST_SAID, sums=False)
            if self.wished.towards is not None:
                far = MOST_SAID * len(self.everything) + 1
                goal = Goal(self.wished.towards * far - cost)
            answer = self._count(self._model(found, others), goal, LONG)
            if isinstance(answer, Nothing):
                break
            missed = [each for each in among if not self._holds(answer, each)]
            if not missed:
                return None
            self._missed.append(frozenset(missed))
            found += missed
        if not answer.proved:
            return None
        return self._in_order(found)

    def _narrowed(
        self, kept: tuple[Reason, ...], spared: Iterable[Reason]
    ) -> tuple[tuple[Reason, ...], bool]:
        """What is left of `kept` without those `spared` that it can do without, and whether each
        was tried; first what says least to a reader."""
        tried = True
        for each in sorted(spared, key=_rank):
            if any(missed.intersection(kept) == {each} for missed in self._missed):
                continue
            fewer = _without(kept, [each])
            without = self.ruled_out(fewer)
            tried = tried and without is not None
            kept = fewer if without else kept
        return kept, tried

    def ruled_out(self, kept: Iterable[Reason]) -> bool | None:
        """Whether some reasons leave no build, all others taken back; None where the counted work
        did not do."""
        held = tuple(kept)
        model = self._model(held, _without(self.everything, held))
        answer = self._count(model, self._towards)
        if isinstance(answer, Answer):
            return False
        return True if answer.proved else None

    @property
    def _towards(self) -> Goal:
        return Goal(self.wished.towards, first=True)

    def _holds(self, answer: Answer, reason: Reason) -> bool:
        return bool(answer.holds[self.literals[reason].index])

    def _model(self, kept: Iterable[Reason], back: Iterable[Reason] = ()) -> Any:
        """A copy of the model in which what is wished and some reasons hold, and some are taken
        back."""
        model = self.logic.model.clone()
        wished = (*self.wished.literals, *self.wished.beside)
        _hold(model, (*wished, *(self.literals[each] for each in kept)))
        _hold(model, (self.literals[each].negated() for each in back))
        return model

    def _count(self, model: Any, goal: Goal, work: float = WORK) -> Answer | Nothing:
        """One run, of at most so many."""
        if self.runs == MOST_RUNS:
            return Nothing(False)
        self.runs += 1
        return run(self.logic, model, goal, work)


def _hold(model: Any, literals: Iterable[BoolVar]) -> None:
    for each in literals:
        model.add_bool_or([each])


def _without(kept: Iterable[Reason], spared: Iterable[Reason]) -> tuple[Reason, ...]:
    left_out = set(spared)
    return tuple(each for each in kept if each not in left_out)


def _halves(group: tuple[Reason, ...]) -> tuple[tuple[Reason, ...], tuple[Reason, ...]]:
    half = len(group) // 2
    return group[:half], group[half:]


def _rank(reason: Reason) -> int:
    """How much a reason tells a reader."""
    return list(ReasonKind).index(reason.sort)
