"""Tables of what is fitted, alike things in one row: modules, drives, bays, supplies."""

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

from specgen.assembly import Place
from specgen.document.blocks.cells import (
    NONE,
    cell_of,
    column,
    head,
    names_cell,
    number,
    part_cell,
    short_head,
    spoken,
    table,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words
from specgen.facts.calculators.bays import on_card
from specgen.facts.declared import declared_fact
from specgen.facts.terms import STATE, SWAP, worded
from specgen.messages import listed, say
from specgen.model import Drive, MemoryModule, PowerSupply

Thing = TypeVar("Thing")
Like = TypeVar("Like", bound=Hashable)


def alike(things: Iterable[Thing], like: Callable[[Thing], Like]) -> dict[Like, list[Thing]]:
    """Things that are alike together, in the order in which each sort is met first."""
    found: dict[Like, list[Thing]] = {}
    for thing in things:
        found.setdefault(like(thing), []).append(thing)
    return found


def _names(places: Iterable[Place]) -> Cell:
    return names_cell(tuple(place.name for place in places))


def memory(case: Case) -> Table | None:
    """A row for each sort of module under each processor."""
    fitted = case.assembly.fitted(MemoryModule)
    rows: list[tuple[Cell, ...]] = []
    for (processor, _), found in alike(fitted, lambda each: (each[0].of, each[1].id)).items():
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
    columns = (
        short_head(say("Processor")),
        column(say("Module")),
        column(say("Positions")),
        number(say("Each")),
        number(say("Module's rate")),
        number(say("Runs at")),
        number(say("Channels used")),
        number(say("Peak bandwidth")),
    )
    return table(say("Memory"), columns, rows, "memory-table")


def drives(case: Case) -> Table | None:
    """A row for each sort of drive, by the port that serves it."""

    def like(each: tuple[Place, Drive]) -> tuple[str, str, str]:
        link = case.assembly.links.get(each[0].name)
        server = case.assembly.controller(each[0].name)
        runs = "" if link is None else f"{spoken(link.protocol)} x{link.lanes}"
        return each[1].id, "" if server is None else server.place.name, runs

    rows: list[tuple[Cell, ...]] = []
    for (_, server, runs), found in alike(case.assembly.fitted(Drive), like).items():
        part = found[0][1]
        rows.append(
            (
                _names(place for place, _ in found),
                part_cell(part),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                words(spoken(part.interface)),
                words(worded(SWAP, part.swap)),
                words(server or NONE),
                words(runs or NONE),
            )
        )
    columns = (
        head(say("Bays")),
        column(say("Drive")),
        number(say("Each")),
        column(say("Interface")),
        column(say("Exchange")),
        column(say("Served by")),
        column(say("Link")),
    )
    return table(say("Drives"), columns, rows, "drives-table")


def bays(case: Case) -> Table | None:
    """Bays by form, exchange and state."""
    places = (place for place in case.assembly.taking("drive") if not on_card(case.assembly, place))
    sorts = alike(places, lambda each: (each.position.form, each.position.swap, each.state))
    rows: list[tuple[Cell, ...]] = [
        (
            _names(found),
            words(listed(map(case.definitions.term, form)) if form else NONE),
            words(worded(SWAP, swap) if swap else NONE),
            words(STATE[state]),
        )
        for (form, swap, state), found in sorts.items()
    ]
    columns = (
        head(say("Bays")),
        column(say("Form")),
        column(say("Exchange")),
        column(say("State")),
    )
    return table(say("Drive bays"), columns, rows, "bays-table")


def supplies(case: Case) -> Table | None:
    """A row for each sort of supply."""
    sorts = alike(case.assembly.fitted(PowerSupply), lambda each: each[1].id)
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
    columns = (
        head(say("Positions")),
        column(say("Supply")),
        number(say("Output at the line voltage")),
        column(say("Inlet")),
        column(say("Exchange")),
    )
    return table(say("Power supplies"), columns, rows, "supplies-table")
