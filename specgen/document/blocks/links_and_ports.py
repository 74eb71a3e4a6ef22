"""Links and network ports, alike ones in one row, and what cannot be used."""

from collections.abc import Callable

from specgen.assembly import State
from specgen.document.case import Case
from specgen.document.cells.cell_makers import (
    NONE,
    cell_of,
    fact_column,
    head_of,
    heads,
    names_cell,
    table,
    table_of,
)
from specgen.document.tree import Cell, Table, words
from specgen.facts.calculators.network import ethernet_ports
from specgen.facts.calculators.subjects import PORT_SORTS, port_sort
from specgen.facts.terms import MEDIUM, worded
from specgen.grouped import grouped
from specgen.messages import NOT_DECLARED, Words, listed, say
from specgen.model import Drive
from specgen.quantity import show


def ports(case: Case) -> Table | None:
    """Ethernet ports by speed and connector; management ports apart."""
    found = [(place.name, port) for place, port, _ in ethernet_ports(case.assembly)]

    def of(key: str, empty: Words = NOT_DECLARED) -> Cell:
        return cell_of(case.facts, f"network.{key}", empty)

    rows: list[tuple[Cell, ...]] = []
    for sort in PORT_SORTS.listed(case.assembly):
        held = dict.fromkeys(
            name
            for name, port in found
            if not port.management and port_sort(port.speed, port.connector) == sort
        )
        connector = words(sort.rpartition(" ")[2].upper())
        known = (of(f"{sort}.medium"), of(f"{sort}.count"), names_cell(tuple(held)))
        cages = (of(f"{sort}.transceivers", NONE), of(f"{sort}.open", NONE))
        rows.append((of(f"{sort}.speed"), connector, *known, *cages, words(say("data"))))
    managing = [(name, port) for name, port in found if port.management]
    if managing:
        connectors = dict.fromkeys(port.connector.upper() for _, port in managing)
        mediums = dict.fromkeys(worded(MEDIUM, port.medium) for _, port in managing)
        where = names_cell(tuple(dict.fromkeys(name for name, _ in managing)))
        connector = words(listed(connectors))
        known = (words(listed(mediums)), of("management_ports"), where)
        use = words(say("management only"))
        rows.append((of("management_speed"), connector, *known, words(NONE), words(NONE), use))
    speed, medium, count, full, empty = (
        head_of(case.definitions, f"network.{key}")
        for key in ("{ports}.speed", "{ports}.medium", "{ports}.count",
                    "{cages}.transceivers", "{cages}.open")
    )  # fmt: skip
    named = (speed, say("Connector"), medium, count, say("Where"))
    columns = heads(*named, full, empty, say("Use"), short=True)
    return table(say("Ethernet ports"), columns, rows, "ports-table")


def links(case: Case) -> Table | None:
    """Links in use; drives that run alike and are narrowed alike share a row."""
    groups: dict[tuple[str, str, str, bool], list[str]] = {}
    for fact in case.facts.of_all("expansion.{end}.running_bandwidth"):
        name = fact.subject
        narrowed = case.facts.value(f"expansion.{name}.narrowed_by")
        alone = not isinstance(case.assembly.places[name].part, Drive)
        key = (name if alone else _source(case, name), show(fact.value), show(narrowed), alone)
        groups.setdefault(key, []).append(name)

    def of_link(key: str) -> tuple[Words, Callable[..., Cell]]:
        return fact_column(case.definitions, case.facts, f"expansion.{key}", NONE)

    return table_of(
        ((names[0], names) for names in groups.values()),
        say("Links in use"),
        "links-table",
        (say("Position"), lambda _, names: names_cell(tuple(names))),
        (say("Lanes from"), lambda name, _: _source(case, name) or NONE),
        of_link("{end}.running_bandwidth"),
        of_link("{link}.narrowed_by"),
        short=True,
    )


def _source(case: Case, name: str) -> str:
    owner = case.assembly.links[name].owner
    return "" if owner is None else owner.place.name


def unusable(case: Case) -> Table | None:
    """Positions that exist and cannot be used, with the reason."""
    lost = (State.UNUSABLE, State.BLOCKED)
    groups = grouped((p.reason, p.name) for p in case.assembly.places.values() if p.state in lost)
    return table_of(
        groups.items(),
        say("Not usable in this build"),
        "unusable-table",
        (say("Positions"), lambda _, names: names_cell(tuple(names))),
        (say("Why they cannot be used"), lambda reason, _: reason),
    )
