"""Links and network ports, alike ones in one row, and what cannot be used."""

from specgen.assembly import State
from specgen.document.blocks.cells import NONE, cell_of, heads, names_cell, table
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words
from specgen.facts.calculators.network import ethernet_ports
from specgen.facts.calculators.subjects import (
    PORT_SORTS,
    port_sort,
)
from specgen.facts.terms import MEDIUM, worded
from specgen.grouped import grouped
from specgen.messages import say
from specgen.model import Drive
from specgen.quantity import show


def ports(case: Case) -> Table | None:
    """Ethernet ports by speed and connector; management ports apart."""
    rows: list[tuple[Cell, ...]] = []
    for sort in PORT_SORTS.listed(case.assembly):
        holders = [
            (place.name, port)
            for place, port, _ in ethernet_ports(case.assembly)
            if not port.management and port_sort(port.speed, port.connector) == sort
        ]
        _, _, connector = sort.rpartition(" ")
        rows.append(
            (
                cell_of(case.facts, f"network.{sort}.speed"),
                words(connector.upper()),
                cell_of(case.facts, f"network.{sort}.medium"),
                cell_of(case.facts, f"network.{sort}.count"),
                names_cell(tuple(dict.fromkeys(name for name, _ in holders))),
                cell_of(case.facts, f"network.{sort}.transceivers", NONE),
                cell_of(case.facts, f"network.{sort}.open", NONE),
                words(say("data")),
            )
        )
    management = [found for found in ethernet_ports(case.assembly) if found[1].management]
    if management:
        place, port, _ = management[0]
        rows.append(
            (
                cell_of(case.facts, "network.management_speed"),
                words(port.connector.upper()),
                words(worded(MEDIUM, port.medium)),
                cell_of(case.facts, "network.management_ports"),
                words(place.name),
                words(NONE),
                words(NONE),
                words(say("management only")),
            )
        )
    columns = heads(
        say("Speed"),
        say("Connector"),
        say("Medium"),
        say("Ports"),
        say("Where"),
        say("Transceivers"),
        say("Empty cages"),
        say("Use"),
        short=True,
    )
    return table(say("Ethernet ports"), columns, rows, "ports-table")


def links(case: Case) -> Table | None:
    """Links in use; drives that run alike and are narrowed alike share a row."""
    groups: dict[tuple[str, str, str, bool], list[str]] = {}
    for fact in case.facts.of_all("expansion.{end}.running_bandwidth"):
        name = fact.subject
        link = case.assembly.links[name]
        narrowed = case.facts.value(f"expansion.{name}.narrowed_by")
        source = link.owner.place.name if link.owner is not None else ""
        alone = not isinstance(case.assembly.places[name].part, Drive)
        key = (name if alone else source, show(fact.value), show(narrowed), alone)
        groups.setdefault(key, []).append(name)
    rows: list[tuple[Cell, ...]] = []
    for names in groups.values():
        link, prefix = case.assembly.links[names[0]], f"expansion.{names[0]}"
        rows.append(
            (
                names_cell(tuple(names)),
                words(link.owner.place.name if link.owner is not None else NONE),
                cell_of(case.facts, f"{prefix}.running_bandwidth", NONE),
                cell_of(case.facts, f"{prefix}.narrowed_by", NONE),
            )
        )
    columns = heads(
        say("Position"),
        say("Lanes from"),
        say("In use, each one way"),
        say("Narrowed by"),
        short=True,
    )
    return table(say("Links in use"), columns, rows, "links-table")


def unusable(case: Case) -> Table | None:
    """Positions that exist and cannot be used, with the reason."""
    lost = (State.UNUSABLE, State.BLOCKED)
    groups = grouped((p.reason, p.name) for p in case.assembly.places.values() if p.state in lost)
    rows: list[tuple[Cell, ...]] = [
        (names_cell(tuple(names)), words(reason)) for reason, names in groups.items()
    ]
    columns = heads(say("Positions"), say("Why they cannot be used"))
    return table(say("Not usable in this build"), columns, rows, "unusable-table")
