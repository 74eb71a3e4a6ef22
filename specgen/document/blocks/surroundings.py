"""Heat, air, noise, and the rack the machine stands in."""

from specgen.document.blocks.cells import cell_of, part_cell
from specgen.document.case import Case
from specgen.document.tree import Cell, FactList, Text, words

Line = tuple[str, str]
"""Label, and words with a fact in braces, in pieces; a piece without a value is left out."""

AIR: tuple[Line, ...] = (
    ("Heat at maximum power", "{cooling.heat}| or {cooling.heat_btu}"),
    ("Heat at typical work", "{cooling.heat_typical}| or {cooling.heat_typical_btu}"),
    (
        "Airflow needed",
        "{cooling.airflow_needed}| or {cooling.airflow_needed_cfm}| for a rise of {cooling.rise}",
    ),
    ("Airflow of the fans", "{cooling.airflow}|; with one failed {cooling.airflow_left}"),
    ("Fans", "{cooling.fans}|, needed {cooling.fans_needed}"),
    ("Inlet limit of class and parts, before rules", "{cooling.inlet_limit}"),
    ("Inlet limit set by", "{cooling.inlet_limit_by}"),
    ("Inlet temperature to spare", "{cooling.inlet_margin}"),
    ("Declared sound power in all", "{noise.sound_power}|, by {noise.edition}"),
    ("Upper limit of the sound power", "{noise.upper_limit}"),
)
RACK: tuple[Line, ...] = (
    ("Depth needed with cables", "{mechanics.depth_needed}"),
    ("Fits the rack", "{mechanics.fits_rack}|, depth to spare {mechanics.depth_spare}"),
    ("Rack units of all in a rack", "{mechanics.rack_units_taken}"),
    ("Mass of all in a rack", "{mechanics.rack_mass}"),
    ("Load on the floor", "{mechanics.floor_load}| or {mechanics.floor_pressure}"),
    ("Input power of all in a rack", "{power.rack_input}"),
)


def _entries(case: Case, lines: tuple[Line, ...]) -> list[tuple[str, Cell]]:
    """Each line with its pieces; one whose first piece has no value is left out."""
    entries: list[tuple[str, Cell]] = []
    for label, pattern in lines:
        if label == "Fans" and not (
            case.facts.value("cooling.fans") or case.facts.value("cooling.fans_needed")
        ):
            continue  # a machine without fans that needs none
        cell: Cell = ()
        for piece in pattern.split("|"):
            before, _, key = piece.removesuffix("}").partition("{")
            if case.facts.value(key) not in (None, ()):
                cell = (*cell, *words(before), *cell_of(case.facts, key))
            elif not cell:
                break
        if cell:
            entries.append((label, cell))
    return entries


def surroundings(case: Case) -> FactList:
    """What the machine gives to the room and asks of it."""
    entries = _entries(case, AIR)
    silent = case.facts.value("noise.silent")
    if isinstance(silent, tuple) and silent:
        known = case.definitions.parts
        names = [part_cell(known[str(name)]) for name in silent if name in known]
        cell: Cell = names[0] if names else words("")
        for name in names[1:]:
            cell = (*cell, Text("; "), *name)
        entries.append(("Without a declared sound power", cell))
    return FactList("Heat, air and noise", tuple(entries))


def rack(case: Case) -> FactList:
    """What the machine asks of a rack, and what a rack full of it asks of the floor."""
    return FactList("In the rack", tuple(_entries(case, RACK)))
