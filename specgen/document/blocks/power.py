"""Power by subsystem, and the supplies."""

from specgen.document.blocks.cells import (
    cell_of,
    column,
    head,
    names_cell,
    number,
    part_cell,
    phrase,
    short_head,
    table,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, FactList, Strong, Table, Text, words
from specgen.facts.calculators.subjects import subsystems
from specgen.facts.constants import CONTINUOUS_SHARE
from specgen.model import PowerSupply
from specgen.quantity import Power

LEVELS = ("idle", "typical", "maximum")
STATES = {
    "idle": "Idle",
    "typical": "Typical work",
    "maximum": "Maximum",
    "failure": "Maximum, after failures",
}
"""States of the machine as the table of its supplies names them."""
PER_SUPPLY = ("supplies", "load_each", "share", "efficiency", "input", "power_factor")


def power(case: Case) -> Table | None:
    """Draw by subsystem at the supplies' output, and the sum."""
    rows: list[tuple[Cell, ...]] = []
    for subsystem in subsystems(case.assembly):
        most = case.facts.value(f"power.{subsystem}.maximum")
        if isinstance(most, Power) and most.amount == 0:
            continue
        cells = (cell_of(case.facts, f"power.{subsystem}.{level}") for level in LEVELS)
        rows.append((words(subsystem.replace("-", " ").capitalize()), *cells))
    if not rows:
        return None
    sums = ((Strong(cell_of(case.facts, f"power.{level}")),) for level in LEVELS)
    rows.append(((Strong(words("Sum")),), *sums))
    columns = (short_head("Subsystem"), number("Idle"), number("Typical"), number("Maximum"))
    note = (
        "At the supplies' output; conversion losses come on top. Rows are rounded, "
        "and the sum is taken before rounding."
    )
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


def electrical(case: Case) -> Table | None:
    """What each supply carries and takes from the line, in normal running and after failures."""
    facts = case.facts
    rows: list[tuple[Cell, ...]] = []
    for state, title in STATES.items():
        if f"power.{state}.load" not in facts:
            continue
        keys = (*PER_SUPPLY, "apparent", "current_each")
        rows.append((words(title), *(cell_of(facts, f"power.{state}.{key}") for key in keys)))
    columns = (
        head("State"),
        number("Supplies"),
        number("Load of each"),
        number("Of its output"),
        number("Efficiency"),
        number("Input in all"),
        number("Power factor"),
        number("Apparent power"),
        number("Current per cord"),
    )
    note = (
        "Supplies share the load equally. Efficiency and power factor are read off the supply's "
        "own curve at the share it really carries, linear between its points: a convention, no "
        "standard."
    )
    return table("From the line", columns, rows, "electrical-table", note)


SUPPLY_FIGURES: tuple[tuple[str, str], ...] = (
    ("Not in the sums, no power declared", "{power.undeclared}"),
    ("Redundancy wanted", "{conditions.redundancy}"),
    ("Supplies that may fail at maximum power", "{power.failures_survived}"),
    ("Output to spare after the failures", "{power.headroom}"),
    ("Highest current in a cord", "{power.cord_current}"),
    ("Current to spare in a cord", "{power.cord_margin}"),
    (
        "Branch circuit",
        "{power.circuit_share} of what a circuit of {power.circuit} may carry without pause "
        f"({CONTINUOUS_SHARE.source.partition(':')[0]})",
    ),
    ("Energy in a year, typical work", "{energy.year}"),
    ("Cost of that energy", "{energy.cost} {energy.currency}"),
    ("Emissions of that energy, CO₂ equivalent", "{energy.emissions}"),
)


def supply_figures(case: Case) -> FactList:
    """Redundancy, cords, branch circuit, a year's energy; what has no value is left out."""
    lines = ((label, phrase(case.facts, pattern)) for label, pattern in SUPPLY_FIGURES)
    entries = [(label, cell) for label, cell in lines if cell]
    if not case.facts.value("power.supplies"):  # nothing that a wish for redundancy could be about
        entries = [entry for entry in entries if entry[0] != "Redundancy wanted"]
    choices = case.facts.value("power.choices")
    if isinstance(choices, tuple) and choices:
        known = case.definitions.parts
        names: list[Cell] = [part_cell(known[str(name)]) for name in choices if name in known]
        joined = names[0]
        for name in names[1:]:
            joined = (*joined, Text("; "), *name)
        entries.append(("Supplies that would carry it, smallest first", joined))
    return FactList("Supplies and circuits", tuple(entries))
