"""Tables of what is fitted, alike things in one row: modules, drives, bays, supplies."""

from collections.abc import Iterable

from specgen.assembly import Place
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
from specgen.facts.calculators.bays import on_card
from specgen.facts.declared import declared_fact
from specgen.facts.terms import STATE, SWAP, worded
from specgen.grouped import grouped
from specgen.messages import listed, say
from specgen.model import Drive, MemoryModule, PowerSupply


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

    def like(place: Place, drive: Drive) -> tuple[str, str, str]:
        link = case.assembly.links.get(place.name)
        server = case.assembly.controller(place.name)
        runs = "" if link is None else f"{term_name(link.protocol)} x{link.lanes}"
        return drive.id, "" if server is None else server.place.name, runs

    sorts = grouped((like(*each), each) for each in case.assembly.fitted(Drive))
    rows: list[tuple[Cell, ...]] = []
    for (_, server, runs), found in sorts.items():
        part = found[0][1]
        rows.append(
            (
                _names(place for place, _ in found),
                part_cell(part),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                words(term_name(part.interface)),
                words(worded(SWAP, part.swap)),
                words(server or NONE),
                words(runs or NONE),
            )
        )
    columns = heads(
        say("Bays"),
        say("Drive"),
        say("Each"),
        say("Interface"),
        say("Exchange"),
        say("Served by"),
        say("Link"),
    )
    return table(say("Drives"), columns, rows, "drives-table")


def bays(case: Case) -> Table | None:
    """Bays by form, exchange and state."""
    places = (place for place in case.assembly.taking("drive") if not on_card(case.assembly, place))
    sorts = grouped(((p.position.form, p.position.swap, p.state), p) for p in places)
    rows: list[tuple[Cell, ...]] = [
        (
            _names(found),
            words(listed(map(case.definitions.term, form)) if form else NONE),
            words(worded(SWAP, swap) if swap else NONE),
            words(STATE[state]),
        )
        for (form, swap, state), found in sorts.items()
    ]
    columns = heads(say("Bays"), say("Form"), say("Exchange"), say("State"))
    return table(say("Drive bays"), columns, rows, "bays-table")


def supplies(case: Case) -> Table | None:
    """A row for each sort of supply."""
    sorts = grouped((each[1].id, each) for each in case.assembly.fitted(PowerSupply))
    rows: list[tuple[Cell, ...]] = [
        (
            _names(place for place, _ in found),
            part_cell(found[0][1]),
            cell_of(case.facts, "power.supply_output"),
            words(found[0][1].inlet),
            words(worded(SWAP, found[0][1].swap)),
        )
        for found in sorts.values()
    ]
    columns = heads(
        say("Positions"),
        say("Supply"),
        say("Output at the line voltage"),
        say("Inlet"),
        say("Exchange"),
    )
    return table(say("Power supplies"), columns, rows, "supplies-table")
