"""Which statements of the definitions stand in the way of what is wished."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Final

from specgen.limits.argument import Argument, Conflict, Wished
from specgen.limits.input_power import DIVIDED, input_beyond
from specgen.limits.learnt import Learnt, hold
from specgen.limits.limit import Limit, Status
from specgen.limits.objectives import INPUT, objectives_of
from specgen.limits.reason import ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.sums import Sum
from specgen.model import ANYWHERE, Conditions, Definitions, Platform
from specgen.quantity import Quantity

FEW: Final = 4
SPARES: Final = (1, FEW, 32)
"""Spare positions of each sort: more are tried where fewer would not do."""
MANY: Final = SPARES[-1]

ALL_SORTS = frozenset(ReasonKind)
COUNTED: Final = (ReasonKind.POSITION, ReasonKind.WIDTH)
"""Of which more could be taken back than one: positions, and the lanes that they need."""


Where = Callable[[Solver], Wished]


def conflict(
    definitions: Definitions,
    platform: Platform,
    where: Where,
    at: Conditions = ANYWHERE,
    learnt: Sequence[Learnt] = (),
    far: bool = False,
) -> Conflict | None:
    """A conflict of the statements about a platform; None where there is none.

    Too where the counted work did not do to find one. It is sought with the positions that there
    are, in a model of a third of the size of one with spare positions; which of their numbers stand
    in the way beside is asked then, but where other statements do without any. Where one more
    position of each sort does not help, many more are tried, so that a number of positions is named
    where it is the reason. With `far`, what is wished may lie several positions away: what leaves
    no build with one more of each sort must leave none with a few more. What the checks refuse, as
    far as it is `learnt`, stands in the way as well. Raises what `Solver` does.
    """

    def argument(spares: int) -> Argument:
        arguing = Solver(definitions, platform, at, argues=ALL_SORTS, spares=spares)
        hold(arguing.builds, learnt)
        return Argument(arguing, where(arguing))

    plain, one = argument(0), argument(SPARES[0])
    alone = bool(plain.ruled_out(()))  # the numbers of positions, by themselves
    known = Conflict(()) if alone else plain.conflict()
    if alone and one.ruled_out(plain.everything):
        other = one.conflict()
        return None if other is None else one.completed(other)
    if known is None:
        return None
    for spares in SPARES:
        here = one if spares == SPARES[0] else argument(spares)
        found = here.beside(known, plain.everything)
        if far and here is one and any(each.sort in COUNTED for each in found.reasons):
            further = argument(FEW)
            if further.ruled_out(found.reasons) is False:
                return further.beside(known, plain.everything)
        if found.reasons:
            return found
    return Conflict(())


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
    total = objective.total(solver.builds)
    expression, _ = solver.whole(total)
    if objective.fact == INPUT:
        further = 1 + DIVIDED if limit.most else 1 - DIVIDED  # than rounding of quotients
        past = input_beyond(solver.builds, total, amount * further, limit.most)
    else:
        apart = total.plus(Sum((), -amount))
        signed = apart if limit.most else apart.times(Decimal(-1))
        past = solver.logic.below_or_none(signed).negated()
    return Wished((past,), expression if limit.most else -expression)
