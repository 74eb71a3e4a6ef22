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
VECTORS = (
    "vector_clock",
    "vector_clock_from",
    "operations_per_cycle",
    "peak",
    "peak_single",
    "cache_per_core",
)
USE = ("capacity", "visible", "speed", "speed_set_by", "bandwidth", "balance", "next")


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


def vectors(case: Case) -> Table | None:
    """A row for each processor: what its vector units reach at their best."""
    rows: list[tuple[Cell, ...]] = []
    for place, _ in case.assembly.fitted(Processor):
        figures = (cell_of(case.facts, f"processors.{place.name}.{name}") for name in VECTORS)
        rows.append((words(place.name), *figures))
    columns = (
        short_head("Socket"),
        number("Clock under vector work"),
        column("Which clock"),
        number("Operations a cycle"),
        number("Peak, double precision"),
        number("Peak, single precision"),
        number("Cache per core"),
    )
    return table("Floating point", columns, rows, "vectors-table")


def memory_use(case: Case) -> Table | None:
    """A row for each processor: what its memory comes to, what limits it, what to fill next."""
    rows: list[tuple[Cell, ...]] = []
    for place, _ in case.assembly.fitted(Processor):
        figures = (cell_of(case.facts, f"memory.{place.name}.{name}") for name in USE)
        rows.append((words(place.name), *figures))
    columns = (
        short_head("Processor"),
        number("Fitted"),
        number("System sees"),
        number("Runs at"),
        column("Speed set by"),
        number("Peak bandwidth"),
        column("Over channels"),
        column("Fill next"),
    )
    return table("Memory by processor", columns, rows, "memory-use-table")
