"""Slots, lanes and network ports."""

from specgen.assembly import Place, State
from specgen.document.blocks.cells import (
    NONE,
    cell_of,
    column,
    head,
    names_cell,
    number,
    part_cell,
    short_head,
    table,
)
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words
from specgen.facts.calculators.network import ethernet_ports
from specgen.facts.calculators.subjects import PORT_SORTS, PROCESSORS, SLOTS, port_sort


def slots(case: Case) -> Table | None:
    """A row for each slot, mechanical and electrical width told apart."""
    rows: list[tuple[Cell, ...]] = []
    for name in SLOTS.listed(case.assembly):
        place = case.assembly.places[name]
        prefix = f"expansion.{name}"
        rows.append(
            (
                words(name),
                _fitted(place),
                words(_shape(place)),
                cell_of(case.facts, f"{prefix}.mechanical", NONE),
                cell_of(case.facts, f"{prefix}.electrical", NONE),
                cell_of(case.facts, f"{prefix}.generation", NONE),
                cell_of(case.facts, f"{prefix}.bandwidth", NONE),
                cell_of(case.facts, f"{prefix}.owner", NONE),
                cell_of(case.facts, f"{prefix}.running", NONE),
            )
        )
    columns = (
        short_head("Slot"),
        column("Fitted"),
        column("Takes"),
        number("Mechanical"),
        number("Electrical"),
        number("PCIe generation"),
        number("Bandwidth one way"),
        column("Owner"),
        column("Runs at"),
    )
    return table("Slots", columns, rows, "slots-table")


def _fitted(place: Place) -> Cell:
    if place.part is not None and place.filled:
        return part_cell(place.part)
    return words(str(place.state))


def _shape(place: Place) -> str:
    position = place.position
    height = {"low": "low profile", "full": "full height"}.get(position.height or "", "")
    length = f"{position.length} length" if position.length else ""
    return ", ".join(filter(None, (height, length))) or ", ".join(position.form) or NONE


def lanes(case: Case) -> Table | None:
    """Lanes owned, used and free, by processor."""
    rows: list[tuple[Cell, ...]] = [
        (
            words(name),
            cell_of(case.facts, f"expansion.{name}.lanes"),
            cell_of(case.facts, f"expansion.{name}.lanes_used"),
            cell_of(case.facts, f"expansion.{name}.lanes_free"),
        )
        for name in PROCESSORS.listed(case.assembly)
    ]
    columns = (short_head("Processor"), number("Lanes owned"), number("In use"), number("Free"))
    return table("PCIe lanes", columns, rows, "lanes-table")


def ports(case: Case) -> Table | None:
    """Ethernet ports by speed and connector; management ports apart."""
    rows: list[tuple[Cell, ...]] = []
    for sort in PORT_SORTS.listed(case.assembly):
        holders = [
            (place.name, port)
            for place, port, _ in ethernet_ports(case.assembly)
            if not port.management and port_sort(port.speed, port.connector) == sort
        ]
        speed, _, connector = sort.rpartition(" ")
        rows.append(
            (
                words(speed),
                words(connector.upper()),
                cell_of(case.facts, f"network.{sort}.medium"),
                cell_of(case.facts, f"network.{sort}.count"),
                names_cell(tuple(dict.fromkeys(name for name, _ in holders))),
                words("data"),
            )
        )
    management = [found for found in ethernet_ports(case.assembly) if found[1].management]
    if management:
        place, port, _ = management[0]
        speed, _, _ = port_sort(port.speed, port.connector).rpartition(" ")
        rows.append(
            (
                words(speed),
                words(port.connector.upper()),
                words(port.medium),
                cell_of(case.facts, "network.management_ports"),
                words(place.name),
                words("management only"),
            )
        )
    columns = (
        short_head("Speed"),
        column("Connector"),
        column("Medium"),
        number("Ports"),
        column("Where"),
        column("Use"),
    )
    return table("Ethernet ports", columns, rows, "ports-table")


def unusable(case: Case) -> Table | None:
    """Positions that exist and cannot be used, with the reason."""
    groups: dict[str, list[str]] = {}
    for place in case.assembly.places.values():
        if place.state in (State.UNUSABLE, State.BLOCKED):
            groups.setdefault(place.reason, []).append(place.name)
    rows: list[tuple[Cell, ...]] = [
        (names_cell(tuple(names)), words(reason)) for reason, names in groups.items()
    ]
    columns = (head("Positions"), column("Why they cannot be used"))
    return table("Not usable in this build", columns, rows, "unusable-table")
