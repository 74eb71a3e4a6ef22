"""The tables and lists that templates call by name. A new one is a function and a line here.

Not the pictures, nor what stands in several documents: who asks for a table pays for tables only.
"""

from collections.abc import Callable, Mapping
from functools import cache, partial

from specgen.document.blocks import (
    choices,
    compare,
    expansion,
    fitted,
    inlet,
    kinds,
    limits,
    options,
    ordered,
    overview,
    part,
    review,
    rules,
    supply_choice,
)
from specgen.document.case import Case, PartCase
from specgen.document.several import Compared, Order

OfCase = Callable[[Case], object]
OfPart = Callable[[PartCase], object]
OfCompared = Callable[[Compared], object]
OfOrdered = Callable[[Order], object]


def reached(case: Case) -> Callable[[], choices.Possible]:
    """What can go into the platform, worked out once and only when asked for."""
    return cache(partial(choices.possible, case))


SYSTEM_TABLES: Mapping[str, OfCase] = {
    "memory": fitted.memory,
    "links": expansion.links,
    "ports": expansion.ports,
    "unusable": expansion.unusable,
    "drives": fitted.drives,
    "bays": fitted.bays,
    "supplies": fitted.supplies,
    "parts": ordered.of_one,
    "watched": ordered.watched_of_one,
    "supply-choice": lambda case: supply_choice.supply_choice(case, reached(case)),
    "offered": lambda case: choices.offered(case, reached(case)),
    "open-points": review.open_points,
    "sources": review.sourced,
    "fixtures": overview.fixtures,
    "notes": overview.notes,
    "own-kinds": kinds.fitted,
    "positions": options.positions,
    "options": options.options,
    "consequences": options.consequences,
    "rules": rules.rules_of_platform,
    "limits": limits.limits,
    "inlet-limits": lambda case: inlet.inlet_limits(case, reached(case)),
}
SYSTEM_LISTS: Mapping[str, OfCase] = {
    "review": review.summary,
    "parts-totals": ordered.totals_of_one,
}
ORDER_TABLES: Mapping[str, OfOrdered] = {"parts": ordered.parts, "watched": ordered.watched}
ORDER_LISTS: Mapping[str, OfOrdered] = {"parts-totals": ordered.totals}
COMPARED_TABLES: Mapping[str, OfCompared] = {"parts": compare.parts, "purposes": compare.suits}
COMPARED_LISTS: Mapping[str, OfCompared] = {"machines": compare.systems}
PART_TABLES: Mapping[str, OfPart] = {
    "brings": part.brings,
    "needs": part.needs,
    "tables": part.tables,
    "used": part.used,
    "rules": rules.rules_of_part,
}
PART_LISTS: Mapping[str, OfPart] = {"identity": part.identity, "data": part.data}
