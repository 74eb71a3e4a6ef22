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
from specgen.document.blocks.fact_cells import (
    ORDERED,
    FactCells,
    several,
    title_of,
    unknown_fact,
)
from specgen.document.case import Case
from specgen.document.maker import AuthorError
from specgen.document.several import Ordered
from specgen.document.tree import (
    Block,
    Cell,
    Datum,
    Listing,
    Paragraph,
    Strong,
    Table,
    link,
    words,
)
from specgen.messages import Words, say
from specgen.model import Part, PowerCord


def order_table(
    ordered: Ordered,
    title: object,
    columns: object,
    *,
    note: object = (),
    anchor: str = "",
) -> Table | None:
    """`{{ order_table("Machines", ["mechanics.depth", "order.mass"]) }}`: a row for each build.

    A column is the key of a fact of one machine, or of all of its kind (`order.mass`), which is
    left out where only one is ordered and summed where several are; its head is the fact's short
    one, or written before it: `("Input, typical", "power.typical.input")`. Raises `AuthorError`.
    """
    cells, single = FactCells(ordered.definitions, ordered.facts), ordered.single
    asked = [_asked(cells, each) for each in several(columns, "columns")]
    shown = [(head_, key) for head_, key in asked if not (single and _of_order(key))]
    rows: list[tuple[Cell, ...]] = []
    for case, count in ordered.lines:
        name = case.thing.id
        keys = (f"{key}.{name}" if _of_order(key) else f"{name}.{key}" for _, key in shown)
        number_of = () if single else ((Datum(count, f"order.machines.{name}"),),)
        values = (cell_of(cells.facts, key, NONE) for key in keys)
        rows.append((link(case.thing.name, f"build:{name}"), *number_of, *values))
    sums = [cell_of(cells.facts, key, NONE) if _of_order(key) else () for _, key in shown]
    if any(sums):
        every = (words(say("All")), cell_of(cells.facts, "order.machines"), *sums)
        rows.append(tuple((Strong(cell),) if cell else () for cell in every))
    made = [head(say("Machine")), *(() if single else (number(say("Number")),))]
    made += (number(title_) for title_, _ in shown)
    caption = title_of(title, "a title")
    return Table(caption, tuple(made), tuple(rows), anchor, cells.sentences(note))


def _of_order(key: str) -> bool:
    return key.startswith(ORDERED)


def _asked(cells: FactCells, column: object) -> tuple[Words, str]:
    """A column as its head and its key."""
    if isinstance(column, list | tuple) and len(column) == 2:
        return title_of(column[0], "a head"), _asked(cells, column[1])[1]
    if not isinstance(column, str):
        raise AuthorError("a column is the key of a fact, or a head with a key")
    if _of_order(column):
        fact = cells.fact(column)
        return ("" if fact is None else fact.short), column
    made = cells.calculator(column)
    if made is None:
        raise unknown_fact(column, cells.ledger.by_key)
    return made.short, column


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
