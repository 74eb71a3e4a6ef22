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
from specgen.facts.calculators.subjects import (
    ADAPTERS,
    CARDS,
    PORT_SORTS,
    PROCESSORS,
    SLOTS,
    SOCKETS,
    UPLINKS,
    port_sort,
)
from specgen.facts.terms import HEIGHT, LENGTH, MEDIUM, STATE, worded
from specgen.messages import Words, listed, say
from specgen.model import Drive
from specgen.quantity import show

SHARE = ("hanging", "demand", "uplink", "oversubscription", "shared")
SOCKET = ("present", "owns", "needed_by", "memory_slots", "lanes_wired")
POWER = ("power_needed", "power_offered", "power_by_slot", "power_by_cable", "auxiliary")
HOST = ("line_rate", "host_bandwidth", "load", "limited_by")


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
                words(_shape(case, place)),
                cell_of(case.facts, f"{prefix}.mechanical", NONE),
                cell_of(case.facts, f"{prefix}.electrical", NONE),
                cell_of(case.facts, f"{prefix}.generation", NONE),
                cell_of(case.facts, f"{prefix}.bandwidth", NONE),
                cell_of(case.facts, f"{prefix}.owner", NONE),
                cell_of(case.facts, f"{prefix}.running", NONE),
            )
        )
    columns = (
        short_head(say("Slot")),
        column(say("Fitted")),
        column(say("Takes")),
        number(say("Mechanical")),
        number(say("Electrical")),
        number(say("PCIe generation")),
        number(say("Bandwidth one way")),
        column(say("Owner")),
        column(say("Runs at")),
    )
    return table(say("Slots"), columns, rows, "slots-table")


def _fitted(place: Place) -> Cell:
    if place.part is not None and place.filled:
        return part_cell(place.part)
    return words(STATE[place.state])


def _shape(case: Case, place: Place) -> Words:
    position = place.position
    shape: list[Words] = [HEIGHT[position.height]] if position.height else []
    shape += [LENGTH[position.length]] if position.length else []
    if not shape:
        shape = [case.definitions.term(form) for form in position.form]
    return listed(shape) if shape else NONE


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
    columns = (
        short_head(say("Processor")),
        number(say("Lanes owned")),
        number(say("In use")),
        number(say("Free")),
    )
    return table(say("PCIe lanes"), columns, rows, "lanes-table")


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
    columns = (
        short_head(say("Speed")),
        column(say("Connector")),
        column(say("Medium")),
        number(say("Ports")),
        column(say("Where")),
        number(say("Transceivers")),
        number(say("Empty cages")),
        column(say("Use")),
    )
    return table(say("Ethernet ports"), columns, rows, "ports-table")


def links(case: Case) -> Table | None:
    """Links in use; drives that run alike and are narrowed alike share a row."""
    groups: dict[tuple[str, str, str, bool], list[str]] = {}
    for fact in case.facts.along("expansion.{end}.running_bandwidth"):
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
    columns = (
        short_head(say("Position")),
        column(say("Lanes from")),
        number(say("In use, each one way")),
        column(say("Narrowed by")),
    )
    return table(say("Links in use"), columns, rows, "links-table")


def uplinks(case: Case) -> Table | None:
    """A row for each switch, expander, hub or controller with something behind it."""
    rows: list[tuple[Cell, ...]] = []
    for name in UPLINKS.listed(case.assembly):
        if not case.facts.value(f"expansion.{name}.hanging"):
            continue
        figures = (cell_of(case.facts, f"expansion.{name}.{figure}", NONE) for figure in SHARE)
        rows.append((words(name), *figures))
    columns = (
        short_head(say("Fed through")),
        number(say("Links behind it")),
        number(say("Those in all")),
        number(say("Uplink")),
        number(say("Oversubscription")),
        column(say("In words")),
    )
    note = say("Rates are one way; every link is taken to be busy at once.")
    return table(say("Shared uplinks"), columns, rows, "uplinks-table", note)


def locality(case: Case) -> Table | None:
    """A row for each processor socket: what is reached through it, what is lost without it."""
    rows: list[tuple[Cell, ...]] = []
    for name in SOCKETS.listed(case.assembly):
        figures = (cell_of(case.facts, f"expansion.{name}.{figure}", NONE) for figure in SOCKET)
        rows.append((words(name), *figures))
    columns = (
        short_head(say("Socket")),
        column(say("Fitted")),
        column(say("Reached through it")),
        column(say("Lost without it")),
        number(say("Memory slots lost")),
        number(say("Wired lanes lost")),
    )
    return table(say("What belongs to which processor"), columns, rows, "locality-table")


def slot_power(case: Case) -> Table | None:
    """A row for each card: its power against what the slot gives."""
    rows: list[tuple[Cell, ...]] = []
    for name in CARDS.listed(case.assembly):
        if case.facts.value(f"expansion.{name}.power_offered") is None:
            continue
        figures = (cell_of(case.facts, f"expansion.{name}.{figure}", NONE) for figure in POWER)
        rows.append((words(name), _fitted(case.assembly.places[name]), *figures))
    columns = (
        short_head(say("Slot")),
        column(say("Card")),
        number(say("Card draws at most")),
        number(say("Place is rated for")),
        number(say("Slot alone gives")),
        number(say("By auxiliary cable")),
        number(say("Auxiliary connectors")),
    )
    return table(say("Power of cards"), columns, rows, "slot-power-table")


def adapters(case: Case) -> Table | None:
    """A row for each network adapter: its ports against its link to the host."""
    rows: list[tuple[Cell, ...]] = []
    for name in ADAPTERS.listed(case.assembly):
        figures = (cell_of(case.facts, f"network.{name}.{figure}", NONE) for figure in HOST)
        rows.append((words(name), _fitted(case.assembly.places[name]), *figures))
    columns = (
        short_head(say("Position")),
        column(say("Adapter")),
        number(say("Line rate of its ports")),
        number(say("Host link")),
        number(say("Line rate over host link")),
        column(say("Limited by")),
    )
    return table(say("Network adapters"), columns, rows, "adapters-table")


def unusable(case: Case) -> Table | None:
    """Positions that exist and cannot be used, with the reason."""
    groups: dict[Words, list[str]] = {}
    for place in case.assembly.places.values():
        if place.state in (State.UNUSABLE, State.BLOCKED):
            groups.setdefault(place.reason, []).append(place.name)
    rows: list[tuple[Cell, ...]] = [
        (names_cell(tuple(names)), words(reason)) for reason, names in groups.items()
    ]
    columns = (head(say("Positions")), column(say("Why they cannot be used")))
    return table(say("Not usable in this build"), columns, rows, "unusable-table")
