"""Which statements of the definitions stand in the way of what is wished."""

from collections.abc import Sequence
from decimal import Decimal

from specgen.frozen import frozen
from specgen.limits.learnt import hold
from specgen.limits.limit import Limit, Status
from specgen.limits.objectives import objectives_of
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.solver import ANY, BoolVar, Nothing, Sum, run
from specgen.model import ANYWHERE, Conditions, Definitions, Platform
from specgen.quantity import Quantity

WORK = 1.0
SOON = 0.3

ALL_SORTS = frozenset(ReasonKind)


@frozen
class Conflict:
    """Statements that together leave no build for a wish; without any one, the others leave one.

    `alone` are those that
    would be enough to take back by themselves, everything else in force. No reasons: no choice
    of parts in the catalog and positions of the platform comes near the wish at all.
    """

    reasons: tuple[Reason, ...]
    alone: frozenset[Reason] = frozenset()


def conflict(arguing: Solver, where: Sequence[BoolVar]) -> Conflict | None:
    """A smallest conflict, by inclusion, of a model that argues; None where there is none.

    `where` are literals that shall hold beside. None too where time was too short to find one.
    """
    order = {sort: rank for rank, sort in enumerate(ReasonKind)}
    everything = tuple(sorted(arguing.logic.reasons, key=lambda each: order[each.sort]))
    plainer = tuple(
        each for each in everything if each.sort not in (ReasonKind.WIDTH, ReasonKind.LINK)
    )
    start = _core(arguing, where, plainer) or _core(arguing, where, everything)
    needed = _shrunk(arguing, where, everything if start is None else start)
    if needed is None:
        return None
    alone = frozenset(
        reason
        for reason in needed
        if not ruled_out(arguing, where, [each for each in everything if each is not reason])
    )
    return Conflict(needed, alone)


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
    arguing = Solver(definitions, platform, at, argues=ALL_SORTS)
    plain = Solver(definitions, platform, at)
    _ = plain.seek(plain.model([] if nothing else [beyond(plain, limit)], started=False))
    hold(arguing.builds, plain.learnt)  # what the checks refuse stands in the way as well
    return conflict(arguing, [] if nothing else [beyond(arguing, limit)])


def beyond(solver: Solver, limit: Limit) -> BoolVar:
    """Whether a system goes beyond the bound of a limit."""
    bound = 0 if limit.bound is None else limit.bound
    amount = bound.amount if isinstance(bound, Quantity) else Decimal(bound)
    apart = objectives_of(solver.definitions)[limit.key].total(solver.builds).plus(Sum((), -amount))
    within = solver.logic.below_or_none(apart if limit.most else apart.times(Decimal(-1)))
    return within.negated()


def _shrunk(
    arguing: Solver, where: Sequence[BoolVar], reasons: Sequence[Reason]
) -> tuple[Reason, ...] | None:
    """A part of some reasons that leaves no build, none of which can be left out; None where even
    all of them are not seen to leave none. The first are left out first."""
    kept = list(reasons)
    if not ruled_out(arguing, where, kept):
        return None
    at, size = 0, max(1, len(kept) // 2)
    while at < len(kept):
        fewer = kept[:at] + kept[at + size :]
        if ruled_out(arguing, where, fewer):
            kept, size = fewer, size * 2
        elif size > 1:
            size //= 2
        else:
            at += 1
    return tuple(kept)


def ruled_out(arguing: Solver, where: Sequence[BoolVar], kept: Sequence[Reason]) -> bool:
    """Whether it is proved that some reasons leave no build, all others taken back."""
    model, held = arguing.logic.model.clone(), set(kept)
    for literal in where:
        model.add_bool_or([literal])
    for reason, literal in arguing.logic.reasons.items():
        model.add_bool_or([literal if reason in held else literal.negated()])
    answer = run(arguing.logic, model, ANY, WORK)
    return isinstance(answer, Nothing) and answer.proved


def _core(
    arguing: Solver, where: Sequence[BoolVar], reasons: Sequence[Reason]
) -> tuple[Reason, ...] | None:
    """Reasons that the solver itself names as leaving no build, where it sees that quickly."""
    model = arguing.logic.model.clone()
    for literal in where:
        model.add_bool_or([literal])
    model.add_assumptions([arguing.logic.reasons[reason] for reason in reasons])
    answer = run(arguing.logic, model, ANY, SOON)
    if not (isinstance(answer, Nothing) and answer.proved):
        return None
    named = set(answer.core)
    return tuple(each for each in reasons if arguing.logic.reasons[each].index in named)
