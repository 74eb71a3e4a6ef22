"""Tables of what is fitted, alike things in one row: modules, drives, bays, supplies."""

from collections.abc import Iterable

from specgen.assembly import Assembly, Place, swap_of
from specgen.document.blocks.cells import (
    NONE,
    cell_of,
    heads,
    names_cell,
    part_cell,
    table,
    term_name,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words
from specgen.facts.declared import declared_fact
from specgen.facts.slots_and_bays import in_bay
from specgen.facts.terms import STATE
from specgen.grouped import grouped
from specgen.messages import NO, YES, Words, listed, say
from specgen.model import Drive, MemoryModule, PowerSupply


def hot_swap(assembly: Assembly, place: Place) -> Words:
    """Whether what sits in a position can be replaced while the system runs, yes or no."""
    swap = swap_of(assembly, place)
    return NONE if swap is None else YES if swap == "hot" else NO


def _names(places: Iterable[Place]) -> Cell:
    return names_cell(tuple(place.name for place in places))


def memory(case: Case) -> Table | None:
    """A row for each sort of module under each processor."""
    sorts = grouped(((each[0].of, each[1].id), each) for each in case.assembly.fitted(MemoryModule))
    rows: list[tuple[Cell, ...]] = []
    for (processor, _), found in sorts.items():
        part = found[0][1]
        facts = (f"memory.{processor}.{key}" for key in ("speed", "channels_used", "bandwidth"))
        rows.append(
            (
                words(processor or say("board")),
                part_cell(part),
                _names(place for place, _ in found),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                value_cell(declared_fact(part, ("speed",), part.speed)),
                *(cell_of(case.facts, key) for key in facts),
            )
        )
    columns = heads(
        say("Processor"),
        say("Module"),
        say("Positions"),
        say("Each"),
        say("Module's rate"),
        say("Runs at"),
        say("Channels used"),
        say("Peak bandwidth"),
        short=True,
    )
    return table(say("Memory"), columns, rows, "memory-table")


def drives(case: Case) -> Table | None:
    """A row for each sort of drive, by the port that serves it."""

    def like(place: Place, drive: Drive) -> tuple[str, str, str, Words]:
        link = case.assembly.links.get(place.name)
        server = case.assembly.controller(place.name)
        runs = "" if link is None else f"{term_name(link.protocol)} x{link.lanes}"
        served = "" if server is None else server.place.name
        return drive.id, served, runs, hot_swap(case.assembly, place)

    sorts = grouped((like(*each), each) for each in case.assembly.fitted(Drive))
    rows: list[tuple[Cell, ...]] = []
    for (_, server, runs, hot), found in sorts.items():
        part = found[0][1]
        rows.append(
            (
                _names(place for place, _ in found),
                part_cell(part),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                words(term_name(part.interface)),
                words(hot),
                words(server or NONE),
                words(runs or NONE),
            )
        )
    columns = heads(
        say("Positions"),
        say("Drive"),
        say("Each"),
        say("Interface"),
        say("Hot-swap"),
        say("Served by"),
        say("Link"),
    )
    return table(say("Drives"), columns, rows, "drives-table")


def bays(case: Case) -> Table | None:
    """Bays by form, hot-swap and state."""
    places = (place for place in case.assembly.taking("drive") if in_bay(case.assembly, place))
    sorts = grouped(((p.position.form, hot_swap(case.assembly, p), p.state), p) for p in places)
    rows: list[tuple[Cell, ...]] = [
        (
            _names(found),
            words(listed(map(case.definitions.term, form)) if form else NONE),
            words(hot),
            words(STATE[state]),
        )
        for (form, hot, state), found in sorts.items()
    ]
    columns = heads(say("Bays"), say("Form"), say("Hot-swap"), say("State"))
    return table(say("Drive bays"), columns, rows, "bays-table")


def supplies(case: Case) -> Table | None:
    """A row for each sort of supply."""
    fitted = case.assembly.fitted(PowerSupply)
    sorts = grouped(
        ((part.id, hot_swap(case.assembly, place)), (place, part)) for place, part in fitted
    )
    rows: list[tuple[Cell, ...]] = [
        (
            _names(place for place, _ in found),
            part_cell(found[0][1]),
            cell_of(case.facts, "power.supply_output"),
            words(found[0][1].inlet),
            words(hot),
        )
        for (_, hot), found in sorts.items()
    ]
    columns = heads(
        say("Positions"),
        say("Supply"),
        say("Output at the line voltage"),
        say("Inlet"),
        say("Hot-swap"),
    )
    return table(say("Power supplies"), columns, rows, "supplies-table")
