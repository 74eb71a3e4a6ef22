"""Which supply to choose: what each gives by line voltage, and what load several of them carry."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Place, swap_of
from specgen.document.blocks.cells import derived, heads, part_cell, table, value_cell
from specgen.document.blocks.choices import possible
from specgen.document.case import Case
from specgen.document.tree import Cell, Column, Table, words
from specgen.facts import Fact
from specgen.facts.declared import declared_fact
from specgen.messages import NO, YES, Message, listed, say
from specgen.model import PowerSupply, SupplyOutput, natural
from specgen.quantity import Ratio

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
    shown = LOST[: len(places)] if len(places) > 1 else ()
    ranges = (say("Line voltage from"), say("To"), say("Output of one"))
    described = (say("Best efficiency"), say("Inlet"), say("Hot-swap"))
    columns = [*heads(say("Supply"), *ranges, *shown, *described)]
    if case.build is not None:
        columns.append(Column(say("Carries this build")))
    rows = [
        _row(case, part, at, len(places), len(shown))
        for part in _supplies(case)
        for at, _ in enumerate(part.outputs)
    ]
    note = [say("The least voltage at a place counts, sags and long cords included.")]
    if shown:
        note.insert(
            0, say("Loads are carried with every place for a supply filled, shared equally.")
        )
    caption = say("Choice of supplies")
    return table(caption, tuple(columns), rows, "supply-choice-table", listed(note, "sentence"))


def _places(case: Case) -> tuple[Place, ...]:
    taking = case.assembly.taking(PowerSupply.kind)
    return tuple(place for place in taking if place.host is None)


def _hot(case: Case, part: PowerSupply) -> bool:
    """Whether it is hot-swap wherever the platform takes it."""
    return all(swap_of(case.assembly, place, part) == "hot" for place in _places(case))


def _supplies(case: Case) -> Iterator[PowerSupply]:
    parts = (case.definitions.parts[name] for name in possible(case))
    supplies = [part for part in parts if isinstance(part, PowerSupply)]
    yield from sorted(supplies, key=lambda part: natural(part.name))


def _row(case: Case, part: PowerSupply, at: int, places: int, losses: int) -> tuple[Cell, ...]:
    entry = part.outputs[at]
    output = declared_fact(part, ("outputs", at, "output"), entry.output)
    row = [
        part_cell(part),
        value_cell(declared_fact(part, ("outputs", at, "from"), entry.from_)),
        value_cell(declared_fact(part, ("outputs", at, "to"), entry.to)),
        value_cell(output),
        *(value_cell(_carried(part, at, output, places, lost)) for lost in range(losses)),
        value_cell(_best(part)),
        words(part.inlet),
        words(YES if _hot(case, part) else NO),
    ]
    if case.build is not None:
        row.append(words(_verdict(case, part, entry)))
    return tuple(row)


def _carried(part: PowerSupply, at: int, output: Fact, places: int, lost: int) -> Fact:
    return derived(
        f"{part.id}.outputs.{at}.carried_{lost}",
        say("Load carried, {lost} of {places} failed", lost=lost, places=places),
        part.outputs[at].output * (places - lost),
        say("output of one supply x (supplies less those that failed)"),
        output,
    )


def _best(part: PowerSupply) -> Fact | None:
    if not part.curve:
        return None
    efficiency, at = max((point.efficiency, -at) for at, point in enumerate(part.curve))
    return declared_fact(part, ("curve", -at, "efficiency"), Ratio.of_fraction(efficiency))


def _verdict(case: Case, part: PowerSupply, entry: SupplyOutput) -> Message:
    """Whether it would carry the build, said in the range of its line voltage only."""
    line, carries = case.assembly.conditions.supply_line, case.facts.value("power.choices")
    if line is None or not entry.holds(line):
        return say("another line voltage")
    if not isinstance(carries, tuple):
        return say("not known")
    return YES if part.id in carries else NO
