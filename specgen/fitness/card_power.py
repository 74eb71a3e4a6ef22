"""Power for cards: what a slot itself gives, and what auxiliary connectors carry beside it."""

from collections.abc import Mapping
from typing import Final

from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.model import Part, Position
from specgen.quantity import Power

CARD_EDGE: Final = "card"
"""The form of what goes into a slot of the card standard."""
SLOT_SOURCE: Final = (
    "PCI Express CEM, later text: 75 W once configured, 3.3 V and 12 V together, and 25 W at x1; "
    "25 W in CEM 1.1 for low-profile cards"
)
SLOT_POWER: Final = Power.of(75)
SLOT_POWER_NARROW: Final = Power.of(25)


@frozen
class AuxiliaryConnector:
    """A kind of auxiliary power connector: its name, and the most that one carries."""

    name: Message
    rating: Power


# Source: PCI Express CEM: 2x3 contacts 75 W, 2x4 contacts 150 W, 12VHPWR and 12V-2x6 (which took
# its place in CEM 5.1) up to 600 W. From memory: which revision has which.
AUXILIARY_CONNECTORS: Final[Mapping[str, AuxiliaryConnector]] = {
    "pcie-6-pin": AuxiliaryConnector(say("6-pin PCIe power connector"), Power.of(75)),
    "pcie-8-pin": AuxiliaryConnector(say("8-pin PCIe power connector"), Power.of(150)),
    "12vhpwr": AuxiliaryConnector(say("12VHPWR power connector"), Power.of(600)),
    "12v-2x6": AuxiliaryConnector(say("12V-2x6 power connector"), Power.of(600)),
}
"""By the name of the resource that platforms, risers and cables offer, and cards need."""


def standard_power(lanes: int) -> Power:
    """What a card slot with a connector of so many lanes may give at most."""
    return SLOT_POWER if lanes >= 4 else SLOT_POWER_NARROW


def slot_gives(position: Position) -> Power | None:
    """What a position itself gives its card: as declared, and never above the card standard."""
    given = [] if position.power is None else [position.power]
    if position.connector is not None and CARD_EDGE in position.form:
        given.append(standard_power(position.connector))
    return min(given, default=None)


def fed(part: Part) -> Power | None:
    """The most that the auxiliary connectors which a part needs carry; None where it needs none."""
    wanted = [(AUXILIARY_CONNECTORS.get(need.resource or ""), need.count) for need in part.needs]
    found = [feed.rating * count for feed, count in wanted if feed is not None]
    return Power.zero().with_all(found) if found else None


def drawn_from_position(part: Part) -> Power | None:
    """What a part draws from its position at most: all that its connectors do not carry."""
    if part.power is None:
        return None
    return max(part.power.maximum - (fed(part) or Power.zero()), Power.zero())


def with_cables(position: Position) -> Power | None:
    """What a position is rated for with auxiliary cables, where it says more than a slot gives."""
    gives, power = slot_gives(position), position.power
    return power if gives is not None and power is not None and power > gives else None
