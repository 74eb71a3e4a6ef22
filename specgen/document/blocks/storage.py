"""Drives, bays and volumes."""

from dataclasses import replace

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
from specgen.facts import Fact
from specgen.facts.calculators.bays import on_card
from specgen.facts.calculators.subjects import DRIVE_SORTS, VOLUMES
from specgen.facts.declared import declared_fact
from specgen.model import Drive
from specgen.quantity import DataSize

REPAIRS = frozenset({"rebuild_time", "repair_time"})
"""What a volume that survives no failure does not have."""
WEAR = frozenset({"written_per_day", "endurance", "comparable_writes"})
"""What makers declare of flash only."""


def drives(case: Case) -> Table | None:
    """A row for each sort of drive, by the port that serves it."""
    groups: dict[tuple[str, str, str], list[Place]] = {}
    parts: dict[str, Drive] = {}
    for place, part in case.assembly.fitted(Drive):
        link = case.assembly.links.get(place.name)
        server = case.assembly.controller(place.name)
        root = "" if server is None else server.place.name
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
    """A row for each volume: what it is made of and what it holds."""
    keys = ("level", "members", "spares", "raw", "usable", "usable_binary", "survives")
    rows = _by_volume(case, (*keys, "survives_best"))
    columns = (
        short_head("Volume"),
        column("Level"),
        number("Members"),
        number("Hot spares"),
        number("Raw"),
        number("Usable"),
        number("Usable, binary"),
        number("Failures survived"),
        number("At best"),
    )
    note = (
        "Usable capacity is counted before any file system. Failures survived: whichever members "
        "fail; at best: where they spread over pairs and groups."
    )
    if _unused(case):
        note += " Larger members count with the capacity of the smallest."
    return table("Volumes", columns, rows, "volumes-table", note)


def _unused(case: Case) -> list[Fact]:
    """What unequal members leave unused, where it is not nothing."""
    facts = case.facts.along("storage.{volume}.unused")
    return [fact for fact in facts if isinstance(fact.value, DataSize) and fact.value.amount]


def _by_volume(case: Case, keys: tuple[str, ...]) -> list[tuple[Cell, ...]]:
    """A row of facts for each volume; a dash stands for what its level does not have."""
    rows = []
    for name in VOLUMES.listed(case.assembly):
        bare = case.facts.value(f"storage.{name}.survives") == 0
        cells = (
            cell_of(
                case.facts,
                f"storage.{name}.{key}",
                NONE if bare and key in REPAIRS else "not declared",
            )
            for key in keys
        )
        rows.append((words(name), *cells))
    return rows


def volume_rates(case: Case) -> Table | None:
    """A row for each volume: ceilings of its reads and writes, and what sets them."""
    keys = ("read", "read_limit", "write", "write_limit", "write_penalty")
    rows = _by_volume(case, (*keys, "random_reads", "random_writes", "random_mixed"))
    columns = (
        short_head("Volume"),
        number("Read"),
        column("Set by"),
        number("Write"),
        column("Set by"),
        number("Write penalty"),
        number("Reads a second"),
        number("Writes a second"),
        number("Mixed a second"),
    )
    note = "Ceilings with all members whole, without a cache and with nothing else on the way."
    made = table("What volumes carry, at most", columns, rows, "volume-rates-table", note)
    return _with_figure(case, made, " Share of reads in a mixed load: ", "storage.read_share")


def _with_figure(case: Case, made: Table | None, text: str, key: str) -> Table | None:
    """A table with one more sentence in its note, which ends in a figure."""
    if made is None or case.facts.value(key) is None:
        return made
    sentence = (*words(text), *cell_of(case.facts, key), *words("."))
    return replace(made, note=(*made.note, *sentence))


def volume_care(case: Case) -> Table | None:
    """A row for each volume: rebuilding it, and the model of how long it keeps its data."""
    keys = ("unused", "rebuild_time", "repair_time", "time_to_data_loss", "data_loss")
    rows = _by_volume(case, keys)
    columns = (
        short_head("Volume"),
        number("Left unused"),
        number("Rebuild of a member"),
        number("Failure to whole again"),
        number("Mean time to data loss, model"),
        number("Data loss within a year, model"),
    )
    note = (
        "Model values compare layouts and are no lifetimes: unreadable sectors, failures with a "
        "common cause and mistakes of people are left out."
    )
    return table("Care of volumes", columns, rows, "volume-care-table", note)


def drive_care(case: Case) -> Table | None:
    """A row for each sort of drive: what it may be written and how often it fails."""
    keys = ("count", "capacity_binary", "written_per_day", "endurance", "comparable_writes")
    parts = {drive.id: drive for _, drive in case.assembly.fitted(Drive)}
    rows: list[tuple[Cell, ...]] = [
        (
            part_cell(parts[name]),
            *(
                cell_of(
                    case.facts,
                    f"drives.{name}.{key}",
                    NONE if parts[name].medium == "disk" and key in WEAR else "not declared",
                )
                for key in (*keys, "annual_failure_rate", "failures")
            ),
        )
        for name in DRIVE_SORTS.listed(case.assembly)
    ]
    columns = (
        head("Drive"),
        number("Number"),
        number("Each, binary"),
        number("Written a day"),
        number("Written within warranty"),
        number("Drive writes a day, compared"),
        number("Annual failure rate"),
        number("Failures a year"),
    )
    note = (
        "Figures of wear are at most, for each drive. Failures a year are those to expect of all."
    )
    made = table("Care of drives", columns, rows, "drive-care-table", note)
    return _with_figure(
        case, made, " Drive writes a day are compared over ", "storage.endurance_span"
    )


def bays(case: Case) -> Table | None:
    """Bays by form, exchange and state."""
    groups: dict[tuple[str, str, str], list[str]] = {}
    for place in case.assembly.taking("drive"):
        if on_card(case.assembly, place):
            continue
        position = place.position
        forms = ", ".join(case.definitions.term(form) for form in position.form)
        key = (forms, position.swap or "", str(place.state))
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
