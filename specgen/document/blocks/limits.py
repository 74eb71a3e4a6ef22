"""What a platform can reach at the most, proved over all its builds."""

from specgen.document.blocks.cells import NONE, column, head, number, table, value_cell
from specgen.document.case import Case
from specgen.document.tree import Cell, Figure, Table, Text, words
from specgen.limits import Limit, Status
from specgen.quantity import split

NOTE = (
    "Over all builds that pass the checks, at the conditions of this edition; for each figure an "
    "example build reaches it."
)


def limits(case: Case) -> Table | None:
    """The printed limits of a platform; nothing where they could not be solved."""
    if case.reach is None:
        return None
    rows: list[tuple[Cell, ...]] = [
        (
            words(limit.label),
            words("most" if limit.most else "least"),
            value_cell(case.facts[f"limits.{limit.key}"], NONE),
            _sure(case, limit),
        )
        for limit in case.reach.limits
    ]
    columns = (head("Figure"), column("Extreme"), number("Reached"), column("How sure"))
    return table("What it can reach", columns, rows, "limits-table", NOTE)


def _sure(case: Case, limit: Limit) -> Cell:
    if limit.status is not Status.FOUND or limit.bound is None:
        return words(str(limit.status))
    side = "at most" if limit.most else "at least"
    key = f"{case.platform.id}.limits.{limit.key}"
    return (Text(f"{limit.status}, {side} "), Figure(*split(limit.bound), key))
