"""Tables of what is fitted, alike things in one row: modules, drives, bays, supplies."""

from collections.abc import Callable, Iterable
from typing import Final

from specgen.assembly import Assembly, Place, swap_of
from specgen.document.case import Case
from specgen.document.cells.cell_makers import (
    NONE,
    cell_of,
    fact_column,
    head_of,
    names_cell,
    part_cell,
    stated_cell,
    table_of,
    term_name,
)
from specgen.document.tree import Cell, Table
from specgen.facts.slots_and_bays import in_bay
from specgen.facts.terms import STATE
from specgen.grouped import grouped
from specgen.messages import NO, YES, Words, listed, say
from specgen.model import Drive, MemoryModule, PowerSupply

SUPPLY_OUTPUT: Final = "power.supply_output"


def hot_swap(assembly: Assembly, place: Place) -> Words:
    """Whether what sits in a position can be replaced while the system runs, yes or no."""
    swap = swap_of(assembly, place)
    return NONE if swap is None else YES if swap == "hot" else NO


def _names(places: Iterable[Place]) -> Cell:
    return names_cell(tuple(place.name for place in places))


def memory(case: Case) -> Table | None:
    """A row for each sort of module under each processor."""
    sorts = grouped(((each[0].of, each[1].id), each) for each in case.assembly.fitted(MemoryModule))

    def of_processor(key: str) -> tuple[Words, Callable[..., Cell]]:
        return fact_column(case.definitions, case.facts, f"memory.{{processor}}.{key}")

    return table_of(
        ((processor, found[0][1], found) for (processor, _), found in sorts.items()),
        say("Memory"),
        "memory-table",
        (say("Processor"), lambda processor, *_: processor or say("board")),
        (say("Module"), lambda _, part, __: part_cell(part)),
        (say("Positions"), lambda _, __, found: _names(place for place, _ in found)),
        (say("Each"), lambda _, part, __: stated_cell(part, part.capacity, "capacity")),
        (say("Module's rate"), lambda _, part, __: stated_cell(part, part.speed, "speed")),
        of_processor("speed"),
        of_processor("channels_used"),
        of_processor("bandwidth"),
        short=True,
    )


def drives(case: Case) -> Table | None:
    """A row for each sort of drive, by the port that serves it."""

    def like(place: Place, drive: Drive) -> tuple[str, str, str, Words]:
        link = case.assembly.links.get(place.name)
        server = case.assembly.controller(place.name)
        runs = "" if link is None else f"{term_name(link.protocol)} x{link.lanes}"
        served = "" if server is None else server.place.name
        return drive.id, served, runs, hot_swap(case.assembly, place)

    sorts = grouped((like(*each), each) for each in case.assembly.fitted(Drive))
    return table_of(
        ((like, found[0][1], found) for like, found in sorts.items()),
        say("Drives"),
        "drives-table",
        (say("Positions"), lambda _, __, found: _names(place for place, _ in found)),
        (say("Drive"), lambda _, part, __: part_cell(part)),
        (say("Each"), lambda _, part, __: stated_cell(part, part.capacity, "capacity")),
        (say("Interface"), lambda _, part, __: term_name(part.interface)),
        (say("Hot-swap"), lambda like, *_: like[3]),
        (say("Served by"), lambda like, *_: like[1] or NONE),
        (say("Link"), lambda like, *_: like[2] or NONE),
    )


def bays(case: Case) -> Table | None:
    """Bays by form, hot-swap and state."""
    places = (place for place in case.assembly.taking("drive") if in_bay(case.assembly, place))
    sorts = grouped(((p.position.form, hot_swap(case.assembly, p), p.state), p) for p in places)
    term = case.definitions.term
    return table_of(
        ((found, *like) for like, found in sorts.items()),
        say("Drive bays"),
        "bays-table",
        (say("Bays"), lambda found, *_: _names(found)),
        (say("Form factor"), lambda _, form, *__: listed(map(term, form)) if form else NONE),
        (say("Hot-swap"), lambda _, __, hot, ___: hot),
        (say("State"), lambda *each: STATE[each[3]]),
    )


def supplies(case: Case) -> Table | None:
    """A row for each sort of supply."""
    fitted = case.assembly.fitted(PowerSupply)
    sorts = grouped(((each[1].id, hot_swap(case.assembly, each[0])), each) for each in fitted)
    output = cell_of(case.facts, SUPPLY_OUTPUT)
    return table_of(
        ((hot, found[0][1], found) for (_, hot), found in sorts.items()),
        say("Power supplies"),
        "supplies-table",
        (say("Positions"), lambda _, __, found: _names(place for place, _ in found)),
        (say("PSU"), lambda _, part, __: part_cell(part)),
        (head_of(case.definitions, SUPPLY_OUTPUT), lambda *_: output),
        (say("Inlet"), lambda _, part, __: part.inlet),
        (say("Hot-swap"), lambda hot, *_: hot),
    )
