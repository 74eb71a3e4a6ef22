"""What a place must have ready before machines come: a row for each build, and sums."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.document.blocks.cells import (
    NONE,
    cell_of,
    column,
    head,
    joined,
    number,
    part_cell,
    table,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.several import Ordered
from specgen.document.tree import (
    Block,
    Cell,
    Datum,
    Listing,
    Paragraph,
    Table,
    link,
    words,
)
from specgen.messages import say
from specgen.model import Part, PowerCord


def cords(ordered: Ordered) -> Table | None:
    """Cords by sort, and inlets that come without one."""
    facts = ordered.facts
    sorts = {
        part.id: part for case, _ in ordered.lines for _, part in case.assembly.fitted(PowerCord)
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
        for fact in facts.along("order.inlets.{inlets}")
        if fact.value
    ]
    columns = (
        head(say("Cord")),
        column(say("At the machine")),
        column(say("At the outlet")),
        number(say("Rated")),
        number(say("Length")),
        number(say("Number")),
    )
    return table(say("Cords"), columns, rows, "cords-table")


def lifting(ordered: Ordered) -> tuple[Block, ...]:
    """How to lift each machine: which published masses it reaches."""
    items: list[tuple[Block, ...]] = []
    for case, _ in ordered.lines:
        assert case.build is not None
        name = case.build.id
        mass, reached = case.facts.get("mechanics.mass"), case.facts.value("mechanics.lifting")
        if mass is None or mass.value is None:
            text = say("{build}: mass not known.", build=case.build.name)
            items.append((Paragraph((text,)),))
            continue
        named = {
            "build": case.build.name,
            "mass": Datum(mass.value, f"{name}.mechanics.mass"),
            "limits": Datum(reached, f"{name}.mechanics.lifting"),
        }
        if reached:
            text = say(
                "{build}: about {mass}, which reaches {limits}: two persons or a lifting tool.",
                **named,
            )
        else:
            text = say("{build}: about {mass}: below the published masses for one person.", **named)
        items.append((Paragraph((text,)),))
    return (Listing(tuple(items)),) if items else ()


def undeclared(ordered: Ordered) -> Table | None:
    """Parts that count for nothing in the sums, since their figures are not declared."""
    rows: list[tuple[Cell, ...]] = []
    for case, _ in ordered.lines:
        assert case.build is not None
        asked = ((say("power"), "power.undeclared"), (say("sound power"), "noise.silent"))
        for title, key in asked:
            named = case.facts.value(key)
            if isinstance(named, tuple) and named:
                rows.append(
                    (link(case.build.name, f"build:{case.build.id}"), words(title),
                     _names(case, named))
                )  # fmt: skip
    columns = (head(say("Machine")), column(say("Not declared")), column(say("Parts")))
    return table(say("Not in the sums"), columns, rows, "undeclared-table")


def _names(case: Case, named: tuple[object, ...]) -> Cell:
    known: Mapping[str, Part] = case.definitions.parts
    return joined(
        part_cell(known[str(name)]) if name in known else words(str(name)) for name in named
    )


SITE_BLOCKS: Final[Mapping[str, Callable[[Ordered], object]]] = {
    "cords": cords,
    "lifting": lifting,
    "undeclared": undeclared,
}
"""What a template about a site calls by `site("NAME")`."""
