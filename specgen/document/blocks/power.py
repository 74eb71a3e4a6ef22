"""Power by subsystem, and the supplies."""

from specgen.document.blocks.cells import (
    cell_of,
    column,
    head,
    names_cell,
    number,
    part_cell,
    short_head,
    table,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Strong, Table, words
from specgen.facts.calculators.subjects import SUBSYSTEMS
from specgen.model import PowerSupply
from specgen.quantity import Power

LEVELS = ("idle", "typical", "maximum")


def power(case: Case) -> Table | None:
    """Draw by subsystem at the supplies' output, and the sum."""
    rows: list[tuple[Cell, ...]] = []
    for subsystem in SUBSYSTEMS:
        most = case.facts.value(f"power.{subsystem}.maximum")
        if isinstance(most, Power) and most.amount == 0:
            continue
        cells = (cell_of(case.facts, f"power.{subsystem}.{level}") for level in LEVELS)
        rows.append((words(subsystem.capitalize()), *cells))
    if not rows:
        return None
    sums = ((Strong(cell_of(case.facts, f"power.{level}")),) for level in LEVELS)
    rows.append(((Strong(words("Sum")),), *sums))
    columns = (short_head("Subsystem"), number("Idle"), number("Typical"), number("Maximum"))
    note = "At the supplies' output; conversion losses come on top."
    return table("Draw by subsystem", columns, rows, "power-table", note)


def supplies(case: Case) -> Table | None:
    """The supplies fitted, and what is left after the failures they must survive."""
    groups: dict[str, list[str]] = {}
    parts: dict[str, PowerSupply] = {}
    for place, part in case.assembly.fitted(PowerSupply):
        groups.setdefault(part.id, []).append(place.name)
        parts[part.id] = part
    rows: list[tuple[Cell, ...]] = [
        (
            names_cell(tuple(names)),
            part_cell(parts[name]),
            cell_of(case.facts, "power.supply_output"),
            words(parts[name].inlet),
            words(f"{parts[name].swap}-swap"),
        )
        for name, names in groups.items()
    ]
    columns = (
        head("Positions"),
        column("Supply"),
        number("Output at the line voltage"),
        column("Inlet"),
        column("Exchange"),
    )
    return table("Power supplies", columns, rows, "supplies-table")
