"""What a platform can reach at the most, proved over all its builds."""

from collections.abc import Sequence

from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, table_of, value_cell
from specgen.document.tree import Cell, Datum, Table, words
from specgen.limits.limit import Limit, Status
from specgen.messages import NOT_DECLARED, Message, say

NOTE = say(
    "Over all builds that pass the checks, at the conditions of this edition; for each value an "
    "example build reaches it."
)
ALL_PROVED = say(
    "Proved over all builds that pass the checks, at the conditions of this edition: none goes "
    "beyond, and for each value an example build reaches it."
)
SURE = {
    Status.PROVED: say("proved"),
    Status.FOUND: say("best found"),
    Status.NOTHING: say("no build"),
    Status.UNDECLARED: NOT_DECLARED,
}


def limits(case: Case) -> Table | None:
    """The printed limits of a platform; nothing where they could not be solved.

    What a platform has none of, such as accelerators, has no row. How sure they are is said once,
    where that is the same of all.
    """
    found = () if case.reach is None else case.reach.limits
    sure = proved(case)
    return table_of(
        ((limit,) for limit in found if not (limit.most and limit.nothing)),
        say("What it can reach"),
        "limits-table",
        (say("Parameter"), lambda limit: limit.bounded),
        (say("Reached"), lambda limit: value_cell(case.facts[f"limits.{limit.key}"], NONE)),
        None
        if sure
        else (
            say("Proof"),
            lambda limit: how_sure(limit, f"{case.platform.id}.limits.{limit.key}"),
        ),
        note=proof_of(found),
    )


def proved(case: Case) -> bool:
    """Whether no limit of a platform is but the best that was found."""
    return case.reach is None or _all_proved(case.reach.limits)


def proof_of(limits: Sequence[Limit]) -> Message:
    """How sure the limits of a platform are, all together."""
    return ALL_PROVED if _all_proved(limits) else NOTE


def _all_proved(limits: Sequence[Limit]) -> bool:
    return all(limit.status is Status.PROVED for limit in limits)


def how_sure(limit: Limit, key: str) -> Cell:
    """How sure one limit is; `key`: that of its bound."""
    if limit.status is not Status.FOUND or limit.bound is None:
        return words(SURE[limit.status])
    bound = Datum(limit.bound, key)
    if limit.most:
        return (say("best found, max. {bound}", bound=bound),)
    return (say("best found, min. {bound}", bound=bound),)
