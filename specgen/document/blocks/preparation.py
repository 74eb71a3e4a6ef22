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
from specgen.facts import ledger_of
from specgen.messages import Message, Words, listed, say
from specgen.model import Part, PowerCord

Each = str | tuple[Message, str]
"""A fact of one machine, or of all its kind (`order.mass`): a column under the fact's own head.

With a message that is the head: where the key says more than the calculator (the state).
"""

SIZE: Final[tuple[Each, ...]] = (
    *("mechanics.rack_units", "mechanics.width", "mechanics.height", "mechanics.depth"),
    *("mechanics.mass", "order.mass"),
)
ELECTRICAL: Final[tuple[Each, ...]] = (
    *("conditions.line", "power.supplies", "conditions.redundancy"),
    (say("Input, typical"), "power.typical.input"),
    (say("Input, at most"), "power.maximum.input"),
    *("order.input", "order.apparent", "order.current"),
)
CIRCUITS: Final[tuple[Each, ...]] = (
    *("power.cord_current", "power.inlet_rating", "power.cord_rating", "power.circuit"),
    *("power.circuit_allowed", "power.circuit_share", "power.circuit_machines"),
)
HEAT: Final[tuple[Each, ...]] = (
    *("cooling.heat_typical", "cooling.heat", "order.heat", "order.heat_btu"),
    *("cooling.airflow_needed", "order.airflow", "order.airflow_cfm", "cooling.rise"),
    *("conditions.inlet", "cooling.inlet_limit"),
)
RACK: Final[tuple[Each, ...]] = (
    *("order.rack_units", "mechanics.depth_needed", "mechanics.depth_spare"),
    *("mechanics.rails_least", "mechanics.rails_most", "mechanics.fits_rack"),
)
NOISE: Final[tuple[Each, ...]] = ("noise.sound_power", "noise.upper_limit", "noise.edition")
TOTALS: Final[tuple[tuple[str, ...], ...]] = (
    ("order.machines",),
    ("order.rack_units",),
    ("order.input", "order.apparent"),
    ("order.input_typical",),
    ("order.heat", "order.heat_btu"),
    ("order.airflow", "order.airflow_cfm"),
    ("order.inlet_limit",),
    ("order.mass",),
    ("order.rack_and_machines",),
    ("order.depth_needed",),
    ("order.sound_power",),
    ("order.upper_limit",),
    ("order.energy",),
)
"""What the whole order asks of the place: a line each, under the label of its first fact."""


def _of_order(key: str) -> bool:
    return key.startswith("order.")


def _rows(
    ordered: Ordered, title: Words, anchor: str, each: tuple[Each, ...], note: Words = ""
) -> Table | None:
    """A row a build; then the sums, where there is more than one machine."""
    facts, known = ordered.facts, ledger_of(ordered.definitions).by_key
    keyed = [one if isinstance(one, tuple) else ("", one) for one in each]
    shown = [one for one in keyed if not (ordered.single and _of_order(one[1]))]
    rows: list[tuple[Cell, ...]] = []
    for case, count in ordered.lines:
        assert case.build is not None
        name = case.build.id
        row: list[Cell] = [link(case.build.name, f"build:{name}")]
        if not ordered.single:
            row.append((Datum(count, f"order.machines.{name}"),))
        for _, key in shown:
            own = f"{key}.{name}" if _of_order(key) else f"{name}.{key}"
            row.append(cell_of(facts, own, NONE))
        rows.append(tuple(row))
    if not ordered.single:
        sums = [(Strong(cell_of(facts, key, NONE)),) if _of_order(key) else () for _, key in shown]
        if any(sums):
            count_cell = (Strong(cell_of(facts, "order.machines")),)
            rows.append(((Strong(words(say("All"))),), count_cell, *sums))
    columns: list[Column] = [head(say("Machine"))]
    if not ordered.single:
        columns.append(number(say("Number")))
    for title_, key in shown:
        own_head = facts[key].short if _of_order(key) else "" if title_ else known[key].short
        columns.append(number(title_ or own_head))
    return table(title, tuple(columns), rows, anchor, note)


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


def totals(ordered: Ordered) -> FactList:
    """What the whole order asks of the place."""
    facts = ordered.facts
    entries = []
    for keys in TOTALS:
        cells = [value_cell(facts.get(key)) for key in keys if facts.value(key) is not None]
        if cells:
            entries.append((facts[keys[0]].label, words(listed(cells, "or"))))
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
