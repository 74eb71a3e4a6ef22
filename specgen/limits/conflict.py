"""Which statements of the definitions stand in the way of what is wished."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any, Final

from specgen.assembly import assemble
from specgen.facts import facts_of
from specgen.frozen import frozen
from specgen.limits.learnt import Learnt, hold
from specgen.limits.limit import Limit, Status
from specgen.limits.objectives import INPUT, objectives_of
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.solver import ANY, Answer, BoolVar, Goal, Logic, Nothing, Sum, run
from specgen.model import ANYWHERE, Conditions, Definitions, Platform
from specgen.quantity import Quantity

WORK = 1.0
LONG = 4.0
"""For the last question, which proves the answer."""
SOON = 0.3
MOST_TRIES: Final = 60
MANY: Final = 32
"""Spare positions of each sort where one more of each would not do."""

ALL_SORTS = frozenset(ReasonKind)


@frozen
class Conflict:
    """Statements that together leave no build for a wish; without any one, the others leave one.

    No smaller number of statements leaves none. `alone` are those that
    would be enough to take back by themselves, everything else in force. No reasons: no choice
    of parts in the catalog comes near the wish at all, however many positions there were.
    """

    reasons: tuple[Reason, ...]
    alone: frozenset[Reason] = frozenset()


Where = Callable[[Solver], Sequence[BoolVar]]
"""What shall hold beside, as literals of a model."""


def conflict(
    definitions: Definitions,
    platform: Platform,
    where: Where,
    at: Conditions = ANYWHERE,
    learnt: Sequence[Learnt] = (),
) -> Conflict | None:
    """A smallest conflict of the statements about a platform; None where there is none.

    Too where time was too short to find one. Where one more position of each sort does not help,
    many more are tried, so that a number of positions is named where it is the reason. What the
    checks refuse, as far as it is `learnt`, stands in the way as well. Raises what `Solver` does.
    """
    for spares in (1, MANY):
        arguing = Solver(definitions, platform, at, argues=ALL_SORTS, spares=spares)
        hold(arguing.builds, learnt)
        found = _conflict(arguing, where(arguing))
        if found is None or found.reasons:
            return found
    return Conflict(())


def _conflict(arguing: Solver, where: Sequence[BoolVar]) -> Conflict | None:
    everything = tuple(arguing.logic.reasons)
    needed = _smallest(arguing, where, everything)
    if needed is None:
        return None
    alone = frozenset(
        reason
        for reason in needed
        if not ruled_out(arguing, where, [each for each in everything if each is not reason])
    )
    return Conflict(needed, alone)


def _smallest(
    arguing: Solver, where: Sequence[BoolVar], everything: Sequence[Reason]
) -> tuple[Reason, ...] | None:
    """Of the sets of statements that leave no build, one of the fewest; None where none is found.

    A set leaves none just where it has a member in common with whatever, taken back, would leave
    one. So a build is asked for that keeps all of the smallest set so far; what it does not keep
    must be met too, until there is no build left.
    """
    taken_back: list[frozenset[Reason]] = []
    for _ in range(MOST_TRIES):
        kept = _meeting(arguing, taken_back, everything)
        missed = _taken_back(arguing, where, kept, everything)
        if missed is None:
            return kept if ruled_out(arguing, where, kept, LONG) else None
        if not missed:
            return None
        while missed:  # those that have nothing in common, while one is at it
            taken_back.append(missed)
            kept = (*kept, *missed)
            missed = _taken_back(arguing, where, kept, everything, SOON) or frozenset()
    return None


def _meeting(
    arguing: Solver, sets: Sequence[frozenset[Reason]], everything: Sequence[Reason]
) -> tuple[Reason, ...]:
    """The fewest statements that have one in common with each set, those that tell most first."""
    rank = {sort: -place for place, sort in enumerate(ReasonKind)}
    logic = Logic(cp=arguing.logic.cp)
    chosen = {each: logic.free("") for each in everything if any(each in s for s in sets)}
    for each in sets:
        logic.model.add_bool_or([chosen[reason] for reason in everything if reason in each])
    weighed = sum((100 + rank[each.sort]) * literal for each, literal in chosen.items())
    answer = run(logic, logic.model, Goal(weighed, most=False, sums=False), WORK)
    assert isinstance(answer, Answer)
    return tuple(each for each, literal in chosen.items() if answer.holds[literal.index])


def _taken_back(
    arguing: Solver,
    where: Sequence[BoolVar],
    kept: Sequence[Reason],
    everything: Sequence[Reason],
    work: float = WORK,
) -> frozenset[Reason] | None:
    """The fewest statements that a build takes back which keeps some; None where none is found."""
    held, literals = set(kept), arguing.logic.reasons
    model = _model(arguing, where, kept)
    others = [literals[each] for each in everything if each not in held]
    answer = run(arguing.logic, model, Goal(sum(others), most=True, sums=False), work)
    if not isinstance(answer, Answer):
        return None
    return frozenset(each for each in everything if not answer.holds[literals[each].index])


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
    _ = plain.seek(plain.model([] if nothing else [beyond(plain, limit)], started=False))

    def where(arguing: Solver) -> list[BoolVar]:
        return [] if nothing else [beyond(arguing, limit)]

    return conflict(definitions, platform, where, at, plain.learnt)


def beyond(solver: Solver, limit: Limit) -> BoolVar:
    """Whether a system goes beyond the bound of a limit."""
    bound = 0 if limit.bound is None else limit.bound
    if objectives_of(solver.definitions)[limit.key].fact == INPUT and limit.build is not None:
        # what it grows with: the DC load of the build that reaches it
        assembly = assemble(solver.definitions, solver.platform, limit.build, solver.at)
        load = facts_of(assembly).value("power.load")
        bound = load if isinstance(load, Quantity) else bound
    amount = bound.amount if isinstance(bound, Quantity) else Decimal(bound)
    apart = objectives_of(solver.definitions)[limit.key].total(solver.builds).plus(Sum((), -amount))
    within = solver.logic.below_or_none(apart if limit.most else apart.times(Decimal(-1)))
    return within.negated()


def ruled_out(
    arguing: Solver, where: Sequence[BoolVar], kept: Sequence[Reason], work: float = WORK
) -> bool:
    """Whether it is proved that some reasons leave no build, all others taken back."""
    model, held = _model(arguing, where, kept), set(kept)
    for reason, literal in arguing.logic.reasons.items():
        if reason not in held:
            model.add_bool_or([literal.negated()])
    answer = run(arguing.logic, model, ANY, work)
    return isinstance(answer, Nothing) and answer.proved


def _model(arguing: Solver, where: Sequence[BoolVar], kept: Sequence[Reason]) -> Any:
    """A copy of the model in which some literals and some reasons hold."""
    model = arguing.logic.model.clone()
    for literal in (*where, *(arguing.logic.reasons[each] for each in kept)):
        model.add_bool_or([literal])
    return model
