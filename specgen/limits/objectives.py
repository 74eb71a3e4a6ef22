"""What limits are asked of: figures that are sums over the parts and positions of a machine."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from specgen.assembly import Assembly, State
from specgen.limits.totals import TOTALS, Total, is_slot, one, per_part, slots
from specgen.model import Accelerator
from specgen.model.position import Height
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity


@dataclass(frozen=True, slots=True)
class Objective:
    """A figure to bring to its most or least.

    `fact` is its key in the ledger of a build, `counted` counts where no figure says it.
    `full` says that the build that reaches it is full of parts, so that tidying is no use.
    """

    key: str
    label: str
    total: Total
    fact: str = ""
    most: bool = True
    quantity: type[Quantity] | None = None
    counted: Callable[[Assembly], int] | None = None
    full: bool = False


def _of(
    key: str,
    label: str,
    fact: str,
    quantity: type[Quantity] | None = None,
    most: bool = True,
    full: bool = False,
) -> Objective:
    return Objective(key, label, TOTALS[fact], fact, most, quantity, full=full)


def _slots(key: str, label: str, height: Height | None = None) -> Objective:
    def counted(assembly: Assembly) -> int:
        places = (place for place in assembly.places.values() if is_slot(place, height))
        return sum(place.state in (State.FILLED, State.EMPTY) for place in places)

    return Objective(key, label, slots(height), counted=counted)


OBJECTIVES: Final[Mapping[str, Objective]] = {
    each.key: each
    for each in (
        _of("cores", "Cores", "processors.cores"),
        _of("memory", "Memory", "memory.capacity", DataSize),
        _of("drives", "Drives", "storage.drives"),
        _of("raw", "Raw capacity", "storage.raw", DataSize),
        _slots("slots", "Card slots"),
        _slots("slots-full", "Full-height slots", "full"),
        _slots("slots-low", "Low-profile slots", "low"),
        Objective(
            "accelerators", "Accelerators", per_part(Accelerator, one),
            counted=lambda assembly: len(assembly.fitted(Accelerator)),
        ),
        _of("ports", "Ethernet ports", "network.ports"),
        _of("line-rate", "Line rate of all ports", "network.line_rate", DataRate),
        _of("power", "Maximum power, most", "power.maximum", Power, full=True),
        _of("power-least", "Maximum power, least", "power.maximum", Power, most=False),
        _of("mass", "Mass, most", "mechanics.mass", Mass, full=True),
        _of("mass-least", "Mass, least", "mechanics.mass", Mass, most=False),
    )
}  # fmt: skip
"""All objectives, in the order of the table."""
