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
    Datum,
    FactList,
    Listing,
    Paragraph,
    Strong,
    Table,
    link,
    words,
)
from specgen.facts import Facts
from specgen.messages import Message, Words, listed, say
from specgen.model import Part, PowerCord, PowerSupply

Each = tuple[Message, str]
"""Title of a column, and the figure of one machine in it; `=KEY` for that of all its kind."""

SIZE: Final[tuple[Each, ...]] = (
    (say("Rack units"), "mechanics.rack_units"),
    (say("Width"), "mechanics.width"),
    (say("Height"), "mechanics.height"),
    (say("Depth"), "mechanics.depth"),
    (say("Mass"), "mechanics.mass"),
    (say("Mass, all"), "=mass"),
)
ELECTRICAL: Final[tuple[Each, ...]] = (
    (say("Line"), "conditions.line"),
    (say("Supplies"), "power.supplies"),
    (say("Redundancy"), "conditions.redundancy"),
    (say("Input, typical"), "power.typical.input"),
    (say("Input, at most"), "power.maximum.input"),
    (say("Input at most, all"), "=input"),
    (say("Apparent, all"), "=apparent"),
    (say("Current, all"), "=current"),
)
CIRCUITS: Final[tuple[Each, ...]] = (
    (say("Highest in a cord"), "power.cord_current"),
    (say("Inlet rated"), "power.inlet_rating"),
    (say("Cord rated"), "power.cord_rating"),
    (say("Circuit rated"), "power.circuit"),
    (say("Allowed without pause"), "power.circuit_allowed"),
    (say("Share of one machine"), "power.circuit_share"),
    (say("Machines on one circuit"), "power.circuit_machines"),
)
HEAT: Final[tuple[Each, ...]] = (
    (say("Typical"), "cooling.heat_typical"),
    (say("At most"), "cooling.heat"),
    (say("At most, all"), "=heat"),
    (say("All, per hour"), "=heat_btu"),
    (say("Airflow"), "cooling.airflow_needed"),
    (say("Airflow, all"), "=airflow"),
    (say("All, cubic feet"), "=airflow_cfm"),
    (say("Rise"), "cooling.rise"),
    (say("Inlet planned"), "conditions.inlet"),
    (say("Inlet limit"), "cooling.inlet_limit"),
)
RACK: Final[tuple[Each, ...]] = (
    (say("Rack units, all"), "=rack_units"),
    (say("Depth with cables"), "mechanics.depth_needed"),
    (say("To spare"), "mechanics.depth_spare"),
    (say("Rails from"), "mechanics.rails_least"),
    (say("Rails to"), "mechanics.rails_most"),
    (say("Fits the rack"), "mechanics.fits_rack"),
)
NOISE: Final[tuple[Each, ...]] = (
    (say("Sound power"), "noise.sound_power"),
    (say("Upper limit"), "noise.upper_limit"),
    (say("Declared by"), "noise.edition"),
)


def _rows(
    ordered: Ordered, title: Words, anchor: str, each: tuple[Each, ...], note: Words = ""
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
            row.append((Datum(count, f"order.machines.{name}"),))
        row += [_one(facts, case, key) for _, key in shown]
        rows.append(tuple(row))
    if not ordered.single:
        sums = [_all(facts, key) for _, key in shown]
        if any(sums):
            count_cell = (Strong(cell_of(facts, "order.machines")),)
            rows.append(((Strong(words(say("All"))),), count_cell, *sums))
    columns: list[Column] = [head(say("Machine"))]
    if not ordered.single:
        columns.append(number(say("Number")))
    columns += [number(title_) for title_, _ in shown]
    return table(title, tuple(columns), rows, anchor, note)


def _one(facts: Facts, case: Case, key: str) -> Cell:
    assert case.build is not None
    if key.startswith("="):
        return value_cell(facts.get(f"order.{key[1:]}.{case.build.id}"), NONE)
    fact = case.facts.get(key)
    if fact is None or fact.value in (None, ()):
        return words(NONE)
    return (Datum(fact.value, f"{case.build.id}.{fact.key}"),)


def _all(facts: Facts, key: str) -> Cell:
    if not key.startswith("="):
        return ()
    return (Strong(cell_of(facts, f"order.{key[1:]}", NONE)),)


def size(ordered: Ordered) -> Table | None:
    return _rows(ordered, say("Machines"), "machines-table", SIZE)


def electrical(ordered: Ordered) -> Table | None:
    note = say("Input power and current at the line, losses of the supplies included.")
    return _rows(ordered, say("At the line"), "site-electrical-table", ELECTRICAL, note)


def circuits(ordered: Ordered) -> Table | None:
    note = say(
        "The highest current in a cord is that after the failures that the machine must survive: "
        "one feed then carries all. Put supplies that stand in for one another on different "
        "circuits, and count each circuit as if it alone were left."
    )
    return _rows(ordered, say("Cords and circuits"), "circuits-table", CIRCUITS, note)


def heat(ordered: Ordered) -> Table | None:
    note = say(
        "The room must take away the heat at most; the airflow is that through the machines."
    )
    return _rows(ordered, say("Of each machine, and of all"), "heat-table", HEAT, note)


def rack(ordered: Ordered) -> Table | None:
    return _rows(ordered, say("Room in the rack"), "rack-table", RACK)


def noise(ordered: Ordered) -> Table | None:
    note = say("Sound power is not the level at a desk: distance and room decide that.")
    return _rows(ordered, say("Declared sound power"), "noise-table", NOISE, note)


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
            (Datum(part.current, f"{part.id}.current"),),
            (Datum(part.length, f"{part.id}.length"),) if part.length else words(NONE),
            (Datum(many, f"order.cords.{part.id}"),),
        )
        for part, many in sorts.values()
    ]
    bare = _inlets_alone(ordered)
    rows += [
        (
            words(say("without a cord in the build")),
            words(inlet),
            words(say("by the place")),
            words(NONE),
            words(NONE),
            (Datum(many, f"order.inlets.{inlet}"),),
        )
        for inlet, many in bare.items()
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
        (say("Machines"), ("order.machines",)),
        (say("Rack units"), ("order.rack_units",)),
        (say("Input power at most"), ("order.input", "order.apparent")),
        (say("Input power, typical work"), ("order.input_typical",)),
        (say("Heat to be taken away"), ("order.heat", "order.heat_btu")),
        (say("Airflow through the machines"), ("order.airflow", "order.airflow_cfm")),
        (say("Inlet limit of all, before rules"), ("order.inlet_limit",)),
        (say("Mass"), ("order.mass",)),
        (say("Mass with one empty rack"), ("order.rack_and_machines",)),
        (say("Depth needed with cables"), ("order.depth_needed",)),
        (say("Declared sound power in all"), ("order.sound_power",)),
        (say("Upper limit of the sound power"), ("order.upper_limit",)),
        (say("Energy in a year, typical work"), ("order.energy",)),
    )
    entries = []
    for label, keys in lines:
        cells = [value_cell(facts.get(key)) for key in keys if facts.value(key) is not None]
        if cells:
            entries.append((label, words(listed(cells, "or"))))
    return FactList(say("In all"), tuple(entries))


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
