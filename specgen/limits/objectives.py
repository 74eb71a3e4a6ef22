"""What limits are asked of: values that are sums over the parts and positions of a system."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Final

from specgen.assembly import Assembly, State
from specgen.facts import kind_facts
from specgen.facts.slots_and_bays import is_slot
from specgen.frozen import frozen
from specgen.limits.totals import TOTALS, Total, one, per_part, slots
from specgen.messages import Message, Words, say
from specgen.model import Definitions, Part, Platform
from specgen.model.position import CardHeight
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity

INPUT: Final = "power.input"
"""No sum: worked out of the DC load for each choice of power supplies, see `input_power`."""
INPUT_POWER: Final = say("Input power, worst case")
Amount = int | Quantity
"""What a limit comes to."""


def bounded(name: Words, most: bool) -> Words:
    """What is limited, and on which side."""
    return say("{name}, max.", name=name) if most else say("{name}, min.", name=name)


@frozen
class Objective:
    """A value to bring to its most or least.

    `fact` is its key in the ledger of a build, `counted` counts where no value says it.
    `full` says that the build that reaches it is full of parts, so that tidying is no use.
    """

    key: str
    name: Words
    total: Total
    fact: str = ""
    most: bool = True
    quantity: type[Quantity] | None = None
    counted: Callable[[Assembly], int] | None = None
    full: bool = False
    both: bool = False
    """Whether there is a most and a least of it."""
    kind: type[Part] | None = None
    """The kind of the project's own whose parts are counted."""

    @property
    def label(self) -> Words:
        """The name, and which of the two it is where there are both."""
        return bounded(self.name, self.most) if self.both else self.name


def _of(
    key: str,
    name: Message,
    fact: str,
    quantity: type[Quantity] | None = None,
    most: bool = True,
    full: bool = False,
    both: bool = False,
) -> Objective:
    return Objective(key, name, TOTALS[fact], fact, most, quantity, full=full, both=both)


def _slots(key: str, name: Message, height: CardHeight | None = None) -> Objective:
    def counted(assembly: Assembly) -> int:
        places = (
            place
            for place in assembly.places.values()
            if is_slot(assembly.definitions, place, height)
        )
        return sum(place.state in (State.FILLED, State.EMPTY) for place in places)

    return Objective(key, name, slots(height), counted=counted)


OBJECTIVES: Final[Mapping[str, Objective]] = {
    each.key: each
    for each in (
        _of("cores", say("Cores"), "processors.cores"),
        _of("memory", say("Memory"), "memory.capacity", DataSize),
        _of("drives", say("Drives"), "storage.drives"),
        _of("bays", say("Drive bays"), "storage.bays_usable"),
        _of("raw", say("Raw capacity"), "storage.raw", DataSize),
        _slots("slots", say("Card slots")),
        _slots("slots-full", say("Full-height slots"), "full"),
        _slots("slots-low", say("Low-profile slots"), "low"),
        _of("accelerators", say("Accelerators"), "accelerators.count"),
        _of("accelerator-memory", say("Accelerator memory"), "accelerators.memory", DataSize),
        _of("ports", say("Ethernet ports"), "network.ports"),
        _of("line-rate", say("Line rate of all ports"), "network.line_rate", DataRate),
        _of("power", INPUT_POWER, "power.input", Power, full=True, both=True),
        _of("power-least", INPUT_POWER, "power.input", Power, most=False, full=True, both=True),
        _of("dc-load", say("Load of the power supplies, maximum"), "power.load", Power, full=True),
        _of("mass", say("Weight"), "mechanics.mass", Mass, full=True, both=True),
        _of("mass-least", say("Weight"), "mechanics.mass", Mass, most=False, both=True),
    )
}  # fmt: skip
"""Those that every project has, in the order of the table."""


@lru_cache(maxsize=8)
def objectives_of(definitions: Definitions) -> Mapping[str, Objective]:
    """All objectives of a project: the number of parts of each kind of its own too.

    Its key is the kind's, with `-count` behind it where something else has that.
    """
    found = dict(OBJECTIVES)
    for declared in definitions.declared:
        kind = definitions.kinds[declared.id]
        if not kind.closes:
            key = declared.id if declared.id not in found else f"{declared.id}-count"
            fact = f"{kind_facts.GROUP}.{kind.collection()}.count"
            found[key] = Objective(key, kind.named_many(), per_part(kind, one), fact, kind=kind)
    return found


def printed(definitions: Definitions, platform: Platform) -> tuple[str, ...]:
    """The limits that pages print, by key: the others take longest, and are asked for by command.

    Of the project's own kinds, those that a position of the platform, or of any part, takes.
    """
    brought = (part.brings.positions for part in definitions.parts.values())
    positions = (position for each in (platform.positions, *brought) for position in each)
    taken = {kind for position in positions for kind in position.takes}
    return tuple(
        key
        for key, each in objectives_of(definitions).items()
        if not each.full and (each.kind is None or each.kind.kind in taken)
    )


def amount_of(objective: Objective, amount: Decimal) -> Amount:
    """So much of an objective, from the number in the unit that its quantity keeps."""
    return int(amount) if objective.quantity is None else objective.quantity.of(amount)
