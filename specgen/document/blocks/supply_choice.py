"""Which supply to choose: what each gives by line voltage, and what load several of them carry."""

from collections.abc import Callable, Iterator
from typing import Final

from specgen.assembly import Place, swap_of
from specgen.document.case import Case
from specgen.document.cells.cell_makers import part_cell, stated_cell, table_of, value_cell
from specgen.document.tree import Cell, Column, Table, literal
from specgen.facts.supply_values import best_efficiency, load_carried
from specgen.limits.reachable import possible
from specgen.messages import NO, YES, Message, Words, listed, say
from specgen.model import PowerSupply, SupplyOutput, natural

LOST: Final = (
    say("All carry"),
    say("After one failed"),
    say("After two failed"),
    say("After three failed"),
)


def supply_choice(case: Case) -> Table | None:
    """Each supply and range of line voltage: output, load carried after failures, efficiency.

    The loads are for a system with all its places for supplies filled. A build's own load is held
    against them: what carries it after the failures that it must survive.
    """
    places = _places(case)
    if not places:
        return None
    many, shown = len(places), LOST[: len(places)] if len(places) > 1 else ()
    note = [say("The lowest voltage at a place counts, sags and long cords included.")]
    if shown:
        note.insert(
            0,
            say("Loads are carried with every position for a power supply filled, shared equally."),
        )
    return table_of(
        ((part, *each) for part in _supplies(case) for each in enumerate(part.outputs)),
        say("Choice of power supplies"),
        "supply-choice-table",
        (say("PSU"), lambda part, *_: part_cell(part)),
        (Column(say("Order number"), short=True), lambda part, *_: literal(part.number or "")),
        (say("Line voltage from"), lambda part, at, out: _of(part, at, "from", out.from_)),
        (say("To"), lambda part, at, out: _of(part, at, "to", out.to)),
        (say("Output of one"), lambda part, at, out: _of(part, at, "output", out.output)),
        *(_carried(head, lost, many) for lost, head in enumerate(shown)),
        (say("Best efficiency"), lambda part, _, out: value_cell(best_efficiency(part, out))),
        (say("Inlet"), lambda part, *_: part.inlet),
        (say("Hot-swap"), lambda part, *_: YES if _hot(case, part) else NO),
        (say("Carries this build"), lambda part, _, out: _verdict(case, part, out))
        if case.build is not None
        else None,
        note=listed(note, "sentence"),
    )


def _of(part: PowerSupply, at: int, field: str, value: object) -> Cell:
    return stated_cell(part, value, "outputs", at, field)


def _places(case: Case) -> tuple[Place, ...]:
    taking = case.assembly.taking(PowerSupply.kind)
    return tuple(place for place in taking if place.host is None)


def _hot(case: Case, part: PowerSupply) -> bool:
    """Whether it is hot-swap wherever the platform takes it."""
    return all(swap_of(case.assembly, place, part) == "hot" for place in _places(case))


def _supplies(case: Case) -> Iterator[PowerSupply]:
    parts = (case.definitions.parts[name] for name in possible(case.assembly))
    supplies = [part for part in parts if isinstance(part, PowerSupply)]
    yield from sorted(supplies, key=lambda part: natural(part.name))


def _carried(
    head: Words, lost: int, places: int
) -> tuple[Words, Callable[[PowerSupply, int, SupplyOutput], Cell]]:
    """A column: what the supplies left carry after so many have failed."""
    return head, lambda part, at, _: value_cell(load_carried(part, at, places, lost))


def _verdict(case: Case, part: PowerSupply, entry: SupplyOutput) -> Message:
    """Whether it would carry the build, said in the range of its line voltage only."""
    line, carries = case.assembly.conditions.supply_line, case.facts.value("power.choices")
    if line is None or not entry.holds(line):
        return say("another line voltage")
    if not isinstance(carries, tuple):
        return say("not known")
    return YES if part.id in carries else NO
