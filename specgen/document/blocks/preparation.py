"""What a place must have ready before systems come: a row for each build, and sums."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.document.cells.cell_makers import NONE, part_cell, stated_cell, table_of, value_cell
from specgen.document.several import Order
from specgen.document.tree import Block, Datum, Listing, Paragraph, Table
from specgen.facts import Fact
from specgen.messages import Words, say
from specgen.model import PowerCord


def cords(order: Order) -> Table | None:
    """Cords by sort, and inlets that come without one."""
    facts, fitted = order.facts, (each[0].assembly.fitted(PowerCord) for each in order.lines)
    sorts = {part.id: part for each in fitted for _, part in each}
    bare = (fact for fact in facts.of_all("order.inlets.{inlets}") if fact.value)
    rows: list[tuple[PowerCord | None, Fact | None]] = [
        *((part, facts.get(f"order.parts.{part.id}")) for part in sorts.values()),
        *((None, fact) for fact in bare),
    ]

    def form(part: PowerCord | None, fact: Fact | None) -> Words:
        return part.form if part is not None else fact.subject if fact is not None else NONE

    return table_of(
        rows,
        say("Cords"),
        "cords-table",
        (say("Cord"), lambda p, _: part_cell(p) if p else say("without a cord in the build")),
        (say("At the server"), form),
        (say("At the outlet"), lambda part, _: part.plug if part else say("by the place")),
        (say("Rated"), lambda p, _: stated_cell(p, p.current, "current") if p else NONE),
        (say("Length"), lambda p, _: stated_cell(p, p.length, "length", empty=NONE) if p else NONE),
        (say("Number"), lambda _, number: value_cell(number)),
    )


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
