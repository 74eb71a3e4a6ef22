"""Which supply to choose: what each gives by line voltage, and what load several of them carry."""

from collections.abc import Callable, Iterator
from typing import Final

from specgen.document.blocks.cells import (
    cell_of,
    column,
    derived,
    head,
    number,
    part_cell,
    table,
    value_cell,
)
from specgen.document.blocks.choices import Possible
from specgen.document.case import Case
from specgen.document.tree import Cell, Column, FactList, Table, words
from specgen.facts import Fact
from specgen.facts.declared import declared_fact
from specgen.model import PowerSupply, natural
from specgen.quantity import Ratio

LOST: Final = ("All carry", "After one failed", "After two failed", "After three failed")


def supply_choice(case: Case, reachable: Callable[[], Possible]) -> Table | None:
    """Each supply and range of line voltage: output, load carried after failures, efficiency.

    The loads are for a machine with all its places for supplies filled. A build's own load is held
    against them: what carries it after the failures that it must survive.
    """
    places = sum(place.host is None for place in case.assembly.taking(PowerSupply.kind))
    if not places:
        return None
    shown = LOST[: min(places, len(LOST))]
    rows = [row for part in _supplies(case, reachable) for row in _rows(case, part, len(shown))]
    columns: list[Column] = [
        head("Supply"),
        number("Line voltage from"),
        number("To"),
        number("Output of one"),
        *(number(title) for title in (shown if places > 1 else ())),
        number("Best efficiency"),
        column("Inlet"),
        column("Exchange"),
    ]
    if case.build is not None:
        columns.append(column("Carries this build"))
    note = ""
    if places > 1:
        note = "Loads are carried with every place for a supply filled, shared equally. "
    note += "The least voltage at a place counts, sags and long cords included."
    return table("Choice of supplies", tuple(columns), rows, "supply-choice-table", note)


def _supplies(case: Case, reachable: Callable[[], Possible]) -> Iterator[PowerSupply]:
    parts = (case.definitions.parts[name] for name in reachable())
    supplies = [part for part in parts if isinstance(part, PowerSupply)]
    yield from sorted(supplies, key=lambda part: natural(part.name))


def _rows(case: Case, part: PowerSupply, losses: int) -> Iterator[tuple[Cell, ...]]:
    places = sum(place.host is None for place in case.assembly.taking(PowerSupply.kind))
    carries = case.facts.value("power.choices")
    for at, entry in enumerate(part.outputs):
        path = ("outputs", at)
        output = declared_fact(part, (*path, "output"), entry.output)
        row: list[Cell] = [
            part_cell(part),
            value_cell(declared_fact(part, (*path, "from"), entry.from_)),
            value_cell(declared_fact(part, (*path, "to"), entry.to)),
            value_cell(output),
        ]
        if places > 1:
            row += [value_cell(_carried(part, at, output, places, lost)) for lost in range(losses)]
        row.append(value_cell(_best(part)))
        row += [words(part.inlet), words(f"{part.swap}-swap")]
        if case.build is not None:
            row.append(_verdict(case, part, at, carries))
        yield tuple(row)


def _carried(part: PowerSupply, at: int, output: Fact, places: int, lost: int) -> Fact:
    entry = part.outputs[at]
    return derived(
        f"{part.id}.outputs.{at}.carried_{lost}",
        f"Load carried, {lost} of {places} failed",
        entry.output * (places - lost),
        "output of one supply x (supplies less those that failed)",
        output,
    )


def _best(part: PowerSupply) -> Fact | None:
    points = [(point.efficiency, number_) for number_, point in enumerate(part.curve)]
    if not points:
        return None
    best, at = max(points, key=lambda point: (point[0], -point[1]))
    return declared_fact(part, ("curve", at, "efficiency"), Ratio.of_fraction(best))


def _verdict(case: Case, part: PowerSupply, at: int, carries: object) -> Cell:
    """Whether it would carry the build, said in the range of its line voltage only."""
    line = case.assembly.conditions.line
    entry = part.outputs[at]
    if line is None or not entry.from_ <= line <= entry.to:
        return words("another line voltage")
    if not isinstance(carries, tuple):
        return words("not known")
    return words("yes" if part.id in carries else "no")


def envelope(case: Case) -> FactList:
    """What the operating class allows of the air, with what limits it on this machine."""
    keys = (
        ("Operating class", "conditions.operating_class"),
        ("Lowest inlet temperature", "regulation.inlet_lowest"),
        ("Highest inlet temperature", "regulation.inlet_highest"),
        ("Recommended from", "regulation.recommended_lowest"),
        ("Recommended to", "regulation.recommended_highest"),
        ("Inlet limit of class and parts, before rules", "cooling.inlet_limit"),
        ("Set by", "cooling.inlet_limit_by"),
        ("Humidity", "regulation.humidity"),
        ("Highest dew point", "regulation.dew_point"),
    )
    entries = [
        (label, cell_of(case.facts, key))
        for label, key in keys
        if case.facts.value(key) not in (None, ())
    ]
    return FactList("Air it works in", tuple(entries))
