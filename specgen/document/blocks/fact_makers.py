"""What lays out facts: the calls of templates that need no table of ours."""

from functools import cache, partial

from specgen.document.blocks.fact_list import fact_bullets, fact_list, fact_rows
from specgen.document.blocks.fact_table import fact_table
from specgen.document.case import Case
from specgen.document.cells.fact_cells import FactCells
from specgen.document.maker import BlockFunction
from specgen.document.several import Order
from specgen.document.tree import words
from specgen.messages import NOT_DECLARED


def fact_makers(cells: FactCells) -> dict[str, BlockFunction]:
    """What every template may call that is about systems with facts."""
    return {
        "fact": lambda key: cells.cell(cells.fact(key)) or words(NOT_DECLARED),
        "has": cells.has,
        "fact_list": partial(fact_list, cells),
        "fact_rows": partial(fact_rows, cells),
        "fact_table": partial(fact_table, cells),
        "fact_bullets": partial(fact_bullets, cells),
    }


def system_cells(case: Case) -> FactCells:
    """The facts of a system; those of an order of one such build are worked out when asked for."""
    if case.build is None:
        return FactCells(case.definitions, case.facts, case.assembly)
    order = Order.of_one(case)
    of_order = cache(lambda: order.facts)
    return FactCells(case.definitions, case.facts, case.assembly, order, of_order)


def shown_cells(case: Case) -> FactCells:
    """The facts of the build in the pictures of its platform."""
    prefix = "" if case.build is None else f"{case.build.id}."
    return FactCells(case.definitions, case.facts, case.assembly, prefix=prefix)


def order_cells(order: Order) -> FactCells:
    """The facts of an order."""
    facts = order.facts
    return FactCells(order.definitions, facts, None, order, lambda: facts)
