"""What limits are asked of: figures that are sums over the parts and positions of a machine."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from specgen.limits.machine import ONE, Machine
from specgen.limits.solver import Sum
from specgen.limits.together import draw
from specgen.model import (
    Accelerator,
    BootModule,
    Card,
    Drive,
    ManagementController,
    MemoryModule,
    NetworkAdapter,
    Part,
    Processor,
    StorageController,
    expand,
)
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity

CARDS: Final = {kind.kind for kind in (NetworkAdapter, StorageController, Accelerator, BootModule)}


@dataclass(frozen=True, slots=True)
class Objective:
    """A figure to bring to its most or least: `fact` is its key in the ledger of a build."""

    key: str
    label: str
    fact: str
    total: Callable[[Machine], Sum]
    most: bool = True
    quantity: type[Quantity] | None = None


def _per_part(kind: type[Part], amount: Callable[[Part], Decimal]) -> Callable[[Machine], Sum]:
    def total(machine: Machine) -> Sum:
        return Sum(tuple((amount(seat.part), seat.works) for seat in machine.working(kind)))

    return total


def _slots(machine: Machine) -> Sum:
    return Sum(
        tuple(
            (ONE, machine.exists(node))
            for node in machine.nodes
            if node.place.position.height is not None
            and node.place.lead is not None
            and not node.fixed
            and not CARDS.isdisjoint(node.place.position.takes)
        )
    )


def _ports(rate: bool) -> Callable[[Part], Decimal]:
    def amount(part: Part) -> Decimal:
        ports = part.ethernet if isinstance(part, NetworkAdapter | ManagementController) else ()
        return sum(
            (
                len(expand(port.name)) * (port.speed.amount if rate else ONE)
                for port in ports
                if not port.management
            ),
            Decimal(0),
        )

    return amount


def _mass(machine: Machine) -> Sum:
    """Everything in the machine, soldered parts that rest and blanks included."""
    terms = [
        (seat.part.mass.amount, seat.sits)
        for seat in machine.seats.values()
        if seat.part.mass is not None
    ]
    parts, blocked = machine.bare.definitions.parts, machine.blocked()
    for node in machine.nodes:
        blank = parts.get(node.place.position.blank or "")
        if blank is not None and blank.mass is not None and not node.fixed:
            left = machine.closed_by_blank(node)
            taken = blocked.get(node.index)
            here = left if taken is None else machine.puzzle.both([left, taken.negated()])
            terms.append((blank.mass.amount, here))
    return Sum(tuple(terms), machine.bare.platform.mass.amount)


def _cores(part: Part) -> Decimal:
    return Decimal(part.cores) if isinstance(part, Processor) else Decimal(0)


def _capacity(part: Part) -> Decimal:
    return part.capacity.amount if isinstance(part, MemoryModule | Drive) else Decimal(0)


def _one(_: Part) -> Decimal:
    return ONE


_NETWORK: Final = Part

OBJECTIVES: Final[Mapping[str, Objective]] = {
    each.key: each
    for each in (
        Objective("cores", "Cores", "processors.cores", _per_part(Processor, _cores)),
        Objective(
            "memory", "Memory", "memory.capacity", _per_part(MemoryModule, _capacity),
            quantity=DataSize,
        ),
        Objective("drives", "Drives", "storage.drives", _per_part(Drive, _one)),
        Objective(
            "raw", "Raw capacity", "storage.raw", _per_part(Drive, _capacity), quantity=DataSize
        ),
        Objective("slots", "Card slots", "expansion.slots", _slots),
        Objective("accelerators", "Accelerators", "", _per_part(Accelerator, _one)),
        Objective("ports", "Ethernet ports", "network.ports", _per_part(_NETWORK, _ports(False))),
        Objective(
            "line-rate", "Line rate of all ports", "network.line_rate",
            _per_part(_NETWORK, _ports(True)), quantity=DataRate,
        ),
        Objective("power", "Maximum power, most", "power.maximum", draw, quantity=Power),
        Objective(
            "power-least", "Maximum power, least", "power.maximum", draw, False, quantity=Power
        ),
        Objective("mass", "Mass, most", "mechanics.mass", _mass, quantity=Mass),
        Objective("mass-least", "Mass, least", "mechanics.mass", _mass, False, quantity=Mass),
    )
}  # fmt: skip
"""All objectives, in the order of the table."""

COUNTED: Final[Mapping[str, type[Card]]] = {"accelerators": Accelerator}
"""Objectives that no figure of a build states: so many working parts of a kind."""
