"""What a place must have ready before systems come: a row for each build, and sums."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.document.blocks.cells import NONE, cell_of, heads, part_cell, table, value_cell
from specgen.document.several import Order
from specgen.document.tree import (
    Block,
    Cell,
    Datum,
    Listing,
    Paragraph,
    Table,
    words,
)
from specgen.messages import say
from specgen.model import PowerCord


def cords(order: Order) -> Table | None:
    """Cords by sort, and inlets that come without one."""
    facts = order.facts
    sorts = {
        part.id: part for case, _ in order.lines for _, part in case.assembly.fitted(PowerCord)
    }
    rows: list[tuple[Cell, ...]] = [
        (
            part_cell(part),
            words(part.form),
            words(part.plug),
            (Datum(part.current, f"{part.id}.current"),),
            (Datum(part.length, f"{part.id}.length"),) if part.length else words(NONE),
            cell_of(facts, f"order.parts.{part.id}"),
        )
        for part in sorts.values()
    ]
    rows += [
        (
            words(say("without a cord in the build")),
            words(fact.subject),
            words(say("by the place")),
            words(NONE),
            words(NONE),
            value_cell(fact),
        )
        for fact in facts.of_all("order.inlets.{inlets}")
        if fact.value
    ]
    columns = heads(
        say("Cord"),
        say("At the machine"),
        say("At the outlet"),
        say("Rated"),
        say("Length"),
        say("Number"),
    )
    return table(say("Cords"), columns, rows, "cords-table")


def lifting(order: Order) -> tuple[Block, ...]:
    """How to lift each system: how many people, or a lift, and which masses it reaches."""
    items: list[tuple[Block, ...]] = []
    for case, _ in order.lines:
        assert case.build is not None
        name = case.build.id
        facts = case.facts
        mass, reached = facts.get("mechanics.mass"), facts.value("mechanics.lifting_reached")
        if mass is None or mass.value is None:
            text = say("{build}: weight not known.", build=case.build.name)
            items.append((Paragraph((text,)),))
            continue
        named = {
            "build": case.build.name,
            "mass": Datum(mass.value, f"{name}.mechanics.mass"),
            "limits": Datum(reached, f"{name}.mechanics.lifting_reached"),
            "who": Datum(facts.value("mechanics.lifting"), f"{name}.mechanics.lifting"),
        }
        if reached:
            text = say("{build}: about {mass}, which reaches {limits}: {who}.", **named)
        else:
            text = say("{build}: about {mass}: {who}.", **named)
        items.append((Paragraph((text,)),))
    return (Listing(tuple(items)),) if items else ()


SITE_BLOCKS: Final[Mapping[str, Callable[[Order], object]]] = {
    "cords": cords,
    "lifting": lifting,
}
"""What a template about a site calls by `site("NAME")`."""
