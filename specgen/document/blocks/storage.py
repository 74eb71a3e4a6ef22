"""Drives, bays and volumes."""

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
from specgen.facts.calculators.storage import on_card
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.declared import declared_fact
from specgen.model import Drive


def drives(case: Case) -> Table | None:
    """A row for each sort of drive, by the port that serves it."""
    groups: dict[tuple[str, str, str], list[Place]] = {}
    parts: dict[str, Drive] = {}
    for place, part in case.assembly.fitted(Drive):
        link = case.assembly.links.get(place.name)
        root = "" if link is None or link.root is None else link.root.place.name
        runs = "" if link is None else f"{spoken(link.protocol)} x{link.lanes}"
        groups.setdefault((part.id, root, runs), []).append(place)
        parts[part.id] = part
    rows: list[tuple[Cell, ...]] = []
    for (name, root, runs), places in groups.items():
        part = parts[name]
        rows.append(
            (
                names_cell(tuple(place.name for place in places)),
                part_cell(part),
                value_cell(declared_fact(part, ("capacity",), part.capacity)),
                words(spoken(part.interface)),
                words(f"{part.swap}-swap"),
                words(root or NONE),
                words(runs or NONE),
            )
        )
    columns = (
        head("Bays"),
        column("Drive"),
        number("Each"),
        column("Interface"),
        column("Exchange"),
        column("Served by"),
        column("Link"),
    )
    return table("Drives", columns, rows, "drives-table")


def volumes(case: Case) -> Table | None:
    """A row for each volume."""
    keys = ("level", "members", "spares", "raw", "usable", "survives")
    rows: list[tuple[Cell, ...]] = [
        (words(name), *(cell_of(case.facts, f"storage.{name}.{key}") for key in keys))
        for name in VOLUMES.listed(case.assembly)
    ]
    columns = (
        short_head("Volume"),
        column("Level"),
        number("Members"),
        number("Hot spares"),
        number("Raw"),
        number("Usable"),
        number("Failures survived"),
    )
    note = "Usable capacity is counted before any file system."
    return table("Volumes", columns, rows, "volumes-table", note)


def bays(case: Case) -> Table | None:
    """Bays by form, exchange and state."""
    groups: dict[tuple[str, str, str], list[str]] = {}
    for place in case.assembly.taking("drive"):
        if on_card(case.assembly, place):
            continue
        position = place.position
        key = (", ".join(position.form), position.swap or "", str(place.state))
        groups.setdefault(key, []).append(place.name)
    rows: list[tuple[Cell, ...]] = [
        (
            names_cell(tuple(names)),
            words(form or NONE),
            words(f"{swap}-swap" if swap else NONE),
            words(state),
        )
        for (form, swap, state), names in groups.items()
    ]
    columns = (head("Bays"), column("Form"), column("Exchange"), column("State"))
    return table("Drive bays", columns, rows, "bays-table")
