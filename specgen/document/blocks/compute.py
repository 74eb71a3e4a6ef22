"""Processors and memory."""

from specgen.document.blocks.cells import (
    cell_of,
    column,
    names_cell,
    number,
    part_cell,
    short_head,
    table,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words
from specgen.facts.declared import declared_fact
from specgen.model import MemoryModule, Processor

FIGURES = ("cores", "threads", "base_clock", "boost_clock", "tdp")


def processors(case: Case) -> Table | None:
    """A row for each processor fitted."""
    rows: list[tuple[Cell, ...]] = []
    for place, part in case.assembly.fitted(Processor):
        figures = (cell_of(case.facts, f"processors.{place.name}.{name}") for name in FIGURES)
        rows.append((words(place.name), part_cell(part), *figures))
    columns = (
        short_head("Socket"),
        column("Processor"),
        number("Cores"),
        number("Threads"),
        number("Base clock"),
        number("Highest clock"),
        number("Thermal design power"),
    )
    return table("Processors", columns, rows, "processors-table")


def memory(case: Case) -> Table | None:
    """A row for each sort of module under each processor."""
    groups: dict[tuple[str, str], list[str]] = {}
    parts: dict[str, MemoryModule] = {}
    for place, part in case.assembly.fitted(MemoryModule):
        groups.setdefault((place.of or "", part.id), []).append(place.name)
        parts[part.id] = part
    rows: list[tuple[Cell, ...]] = []
    for (processor, name), places in groups.items():
        part = parts[name]
        prefix = f"memory.{processor}"
        rows.append(
            (
                words(processor or "board"),
                part_cell(part),
                names_cell(tuple(places)),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                value_cell(declared_fact(part, ("speed",), part.speed)),
                cell_of(case.facts, f"{prefix}.speed"),
                cell_of(case.facts, f"{prefix}.channels_used"),
                cell_of(case.facts, f"{prefix}.bandwidth"),
            )
        )
    columns = (
        short_head("Processor"),
        column("Module"),
        column("Positions"),
        number("Each"),
        number("Module's rate"),
        number("Runs at"),
        number("Channels used"),
        number("Peak bandwidth"),
    )
    return table("Memory", columns, rows, "memory-table")
