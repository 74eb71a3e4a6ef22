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
from specgen.document.blocks.order_facts import order_facts
from specgen.document.case import Case
from specgen.document.several import Ordered
from specgen.document.tree import (
    Block,
    Cell,
    Column,
    FactList,
    Figure,
    Listing,
    Paragraph,
    Strong,
    Table,
    Text,
    link,
    words,
)
from specgen.facts import Facts
from specgen.model import Part, PowerCord, PowerSupply
from specgen.quantity import split

Each = tuple[str, str]
"""Title of a column, and the figure of one machine in it; `=KEY` for that of all its kind."""

SIZE: Final[tuple[Each, ...]] = (
    ("Rack units", "mechanics.rack_units"),
    ("Width", "mechanics.width"),
    ("Height", "mechanics.height"),
    ("Depth", "mechanics.depth"),
    ("Mass", "mechanics.mass"),
    ("Mass, all", "=mass"),
)
ELECTRICAL: Final[tuple[Each, ...]] = (
    ("Line", "conditions.line"),
    ("Supplies", "power.supplies"),
    ("Redundancy", "conditions.redundancy"),
    ("Input, typical", "power.typical.input"),
    ("Input, at most", "power.maximum.input"),
    ("Input at most, all", "=input"),
    ("Apparent, all", "=apparent"),
    ("Current, all", "=current"),
)
CIRCUITS: Final[tuple[Each, ...]] = (
    ("Highest in a cord", "power.cord_current"),
    ("Inlet rated", "power.inlet_rating"),
    ("Cord rated", "power.cord_rating"),
    ("Circuit rated", "power.circuit"),
    ("Allowed without pause", "power.circuit_allowed"),
    ("Share of one machine", "power.circuit_share"),
    ("Machines on one circuit", "power.circuit_machines"),
)
HEAT: Final[tuple[Each, ...]] = (
    ("Typical", "cooling.heat_typical"),
    ("At most", "cooling.heat"),
    ("At most, all", "=heat"),
    ("All, per hour", "=heat_btu"),
    ("Airflow", "cooling.airflow_needed"),
    ("Airflow, all", "=airflow"),
    ("All, cubic feet", "=airflow_cfm"),
    ("Rise", "cooling.rise"),
    ("Inlet planned", "conditions.inlet"),
    ("Inlet limit", "cooling.inlet_limit"),
)
RACK: Final[tuple[Each, ...]] = (
    ("Rack units, all", "=rack_units"),
    ("Depth with cables", "mechanics.depth_needed"),
    ("To spare", "mechanics.depth_spare"),
    ("Rails from", "mechanics.rails_least"),
    ("Rails to", "mechanics.rails_most"),
    ("Fits the rack", "mechanics.fits_rack"),
)
NOISE: Final[tuple[Each, ...]] = (
    ("Sound power", "noise.sound_power"),
    ("Upper limit", "noise.upper_limit"),
    ("Declared by", "noise.edition"),
)


def _rows(
    ordered: Ordered, title: str, anchor: str, each: tuple[Each, ...], note: str = ""
) -> Table | None:
    """A row a build; then the sums, where there is more than one machine."""
    facts = order_facts(ordered)
    shown = [one for one in each if not (ordered.single and one[1].startswith("="))]
    rows: list[tuple[Cell, ...]] = []
    for case, count in ordered.lines:
        assert case.build is not None
        name = case.build.id
        row: list[Cell] = [link(case.build.name, f"build:{name}")]
        if not ordered.single:
            row.append((Figure(str(count), "", f"order.machines.{name}"),))
        row += [_one(facts, case, key) for _, key in shown]
        rows.append(tuple(row))
    if not ordered.single:
        sums = [_all(facts, key) for _, key in shown]
        if any(sums):
            count_cell = (Strong(cell_of(facts, "order.machines")),)
            rows.append(((Strong(words("All")),), count_cell, *sums))
    columns: list[Column] = [head("Machine")]
    if not ordered.single:
        columns.append(number("Number"))
    columns += [number(title_) for title_, _ in shown]
    return table(title, tuple(columns), rows, anchor, note)


def _one(facts: Facts, case: Case, key: str) -> Cell:
    assert case.build is not None
    if key.startswith("="):
        return value_cell(facts.get(f"order.{key[1:]}.{case.build.id}"), NONE)
    fact = case.facts.get(key)
    if fact is None or fact.value in (None, ()):
        return words(NONE)
    number_, unit = split(fact.value)
    return (Figure(number_, unit, f"{case.build.id}.{fact.key}"),)


def _all(facts: Facts, key: str) -> Cell:
    if not key.startswith("="):
        return ()
    return (Strong(cell_of(facts, f"order.{key[1:]}", NONE)),)


def size(ordered: Ordered) -> Table | None:
    return _rows(ordered, "Machines", "machines-table", SIZE)


def electrical(ordered: Ordered) -> Table | None:
    note = "Input power and current at the line, losses of the supplies included."
    return _rows(ordered, "At the line", "site-electrical-table", ELECTRICAL, note)


def circuits(ordered: Ordered) -> Table | None:
    note = (
        "The highest current in a cord is that after the failures that the machine must survive: "
        "one feed then carries all. Put supplies that stand in for one another on different "
        "circuits, and count each circuit as if it alone were left."
    )
    return _rows(ordered, "Cords and circuits", "circuits-table", CIRCUITS, note)


def heat(ordered: Ordered) -> Table | None:
    note = "The room must take away the heat at most; the airflow is that through the machines."
    return _rows(ordered, "Of each machine, and of all", "heat-table", HEAT, note)


def rack(ordered: Ordered) -> Table | None:
    return _rows(ordered, "Room in the rack", "rack-table", RACK)


def noise(ordered: Ordered) -> Table | None:
    note = "Sound power is not the level at a desk: distance and room decide that."
    return _rows(ordered, "Declared sound power", "noise-table", NOISE, note)


def cords(ordered: Ordered) -> Table | None:
    """Cords by sort, and inlets that come without one."""
    sorts: dict[str, tuple[PowerCord, int]] = {}
    for case, count in ordered.lines:
        for _, part in case.assembly.fitted(PowerCord):
            known = sorts.get(part.id, (part, 0))[1]
            sorts[part.id] = (part, known + count)
    rows: list[tuple[Cell, ...]] = [
        (
            part_cell(part),
            words(part.form),
            words(part.plug),
            (Figure(*split(part.current), f"{part.id}.current"),),
            (Figure(*split(part.length), f"{part.id}.length"),) if part.length else words(NONE),
            (Figure(str(many), "", f"order.cords.{part.id}"),),
        )
        for part, many in sorts.values()
    ]
    bare = _inlets_alone(ordered)
    rows += [
        (
            words("without a cord in the build"),
            words(inlet),
            words("by the place"),
            words(NONE),
            words(NONE),
            (Figure(str(many), "", f"order.inlets.{inlet}"),),
        )
        for inlet, many in bare.items()
    ]
    columns = (
        head("Cord"),
        column("At the machine"),
        column("At the outlet"),
        number("Rated"),
        number("Length"),
        number("Number"),
    )
    return table("Cords", columns, rows, "cords-table")


def _inlets_alone(ordered: Ordered) -> dict[str, int]:
    found: dict[str, int] = {}
    for case, count in ordered.lines:
        corded = {place.of for place, _ in case.assembly.fitted(PowerCord)}
        for place, part in case.assembly.fitted(PowerSupply):
            if place.name not in corded:
                found[part.inlet] = found.get(part.inlet, 0) + count
    return found


def totals(ordered: Ordered) -> FactList:
    """What the whole order asks of the place."""
    facts = order_facts(ordered)
    lines = (
        ("Machines", ("order.machines",)),
        ("Rack units", ("order.rack_units",)),
        ("Input power at most", ("order.input", "order.apparent")),
        ("Input power, typical work", ("order.input_typical",)),
        ("Heat to be taken away", ("order.heat", "order.heat_btu")),
        ("Airflow through the machines", ("order.airflow", "order.airflow_cfm")),
        ("Inlet limit of all, before rules", ("order.inlet_limit",)),
        ("Mass", ("order.mass",)),
        ("Mass with one empty rack", ("order.rack_and_machines",)),
        ("Depth needed with cables", ("order.depth_needed",)),
        ("Declared sound power in all", ("order.sound_power",)),
        ("Upper limit of the sound power", ("order.upper_limit",)),
        ("Energy in a year, typical work", ("order.energy",)),
    )
    entries = []
    for label, keys in lines:
        cells = [value_cell(facts.get(key)) for key in keys if facts.value(key) is not None]
        if cells:
            entries.append((label, joined(cells, between=" or ")))
    return FactList("In all", tuple(entries))


def lifting(ordered: Ordered) -> tuple[Block, ...]:
    """How to lift each machine: which published masses it reaches."""
    items: list[tuple[Block, ...]] = []
    for case, _ in ordered.lines:
        assert case.build is not None
        name = case.build.id
        mass, reached = case.facts.get("mechanics.mass"), case.facts.value("mechanics.lifting")
        if mass is None or mass.value is None:
            items.append((Paragraph(words(f"{case.build.name}: mass not known.")),))
            continue
        weighs = (Figure(*split(mass.value), f"{name}.mechanics.mass"),)
        cell: Cell = (Text(f"{case.build.name}: about "), *weighs)
        if reached:
            limits = (Figure(*split(reached), f"{name}.mechanics.lifting"),)
            cell = (*cell, Text(", which reaches "), *limits,
                    Text(": two persons or a lifting tool."))  # fmt: skip
        else:
            cell = (*cell, Text(": below the published masses for one person."))
        items.append((Paragraph(cell),))
    return (Listing(tuple(items)),) if items else ()


def undeclared(ordered: Ordered) -> Table | None:
    """Parts that count for nothing in the sums, since their figures are not declared."""
    rows: list[tuple[Cell, ...]] = []
    for case, _ in ordered.lines:
        assert case.build is not None
        for title, key in (("power", "power.undeclared"), ("sound power", "noise.silent")):
            named = case.facts.value(key)
            if isinstance(named, tuple) and named:
                rows.append(
                    (link(case.build.name, f"build:{case.build.id}"), words(title),
                     _names(case, named))
                )  # fmt: skip
    columns = (head("Machine"), column("Not declared"), column("Parts"))
    return table("Not in the sums", columns, rows, "undeclared-table")


def _names(case: Case, named: tuple[object, ...]) -> Cell:
    known: Mapping[str, Part] = case.definitions.parts
    return joined(
        part_cell(known[str(name)]) if name in known else words(str(name)) for name in named
    )


SITE_BLOCKS: Final[Mapping[str, Callable[[Ordered], object]]] = {
    "totals": totals,
    "machines": size,
    "electrical": electrical,
    "circuits": circuits,
    "cords": cords,
    "heat": heat,
    "lifting": lifting,
    "rack": rack,
    "noise": noise,
    "undeclared": undeclared,
}
"""What a template about a site calls by `site("NAME")`."""
