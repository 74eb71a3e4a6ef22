"""What limits are asked of: values that are sums over the parts and positions of a system."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Final

from specgen.assembly import Assembly, State
from specgen.facts import kind_facts, ledger
from specgen.facts.slots_and_bays import is_slot
from specgen.frozen import frozen
from specgen.limits.totals import TOTALS, Total, one, per_part, slots
from specgen.messages import Words, say
from specgen.model import Definitions, Part, Platform
from specgen.model.position import CardHeight
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity

INPUT: Final = "power.input"
"""No sum: worked out of the DC load for each choice of power supplies, see `input_power`."""
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
    total: Total
    fact: str = ""
    called: Words = ""
    """Its name, where that is not the label of a fact."""
    like: str = ""
    """The fact whose label is its name, where that is not its own."""
    most: bool = True
    quantity: type[Quantity] | None = None
    counted: Callable[[Assembly], int] | None = None
    full: bool = False
    both: bool = False
    """Whether there is a most and a least of it."""
    kind: type[Part] | None = None
    """The kind of the project's own whose parts are counted."""

    @property
    def name(self) -> Words:
        """What it is called, whether its most or its least is asked for."""
        return self.called or ledger().by_key[self.like or self.fact].label

    @property
    def label(self) -> Words:
        """The name, and which of the two it is where there are both."""
        return bounded(self.name, self.most) if self.both else self.name


def _of(
    key: str,
    fact: str,
    quantity: type[Quantity] | None = None,
    most: bool = True,
    full: bool = False,
    both: bool = False,
    called: Words = "",
    like: str = "",
) -> Objective:
    total = TOTALS[fact]
    return Objective(key, total, fact, called, like, most, quantity, full=full, both=both)


def _slots(key: str, name: Words, height: CardHeight | None = None, like: str = "") -> Objective:
    def counted(assembly: Assembly) -> int:
        places = (
            place
            for place in assembly.places.values()
            if is_slot(assembly.definitions, place, height)
        )
        return sum(place.state in (State.FILLED, State.EMPTY) for place in places)

    return Objective(key, slots(height), called=name, like=like, counted=counted)


OBJECTIVES: Final[Mapping[str, Objective]] = {
    each.key: each
    for each in (
        _of("cores", "processors.cores"),
        _of("memory", "memory.capacity", DataSize, called=say("Memory")),
        _of("drives", "storage.drives"),
        _of("bays", "storage.bays_usable", like="storage.bays"),
        _of("raw", "storage.raw", DataSize),
        _slots("slots", "", like="expansion.slots"),
        _slots("slots-full", say("Full-height slots"), "full"),
        _slots("slots-low", say("Low-profile slots"), "low"),
        _of("accelerators", "accelerators.count"),
        _of("accelerator-memory", "accelerators.memory", DataSize),
        _of("ports", "network.ports"),
        _of("line-rate", "network.line_rate", DataRate),
        _of("power", "power.input", Power, full=True, both=True),
        _of("power-least", "power.input", Power, most=False, full=True, both=True),
        _of("dc-load", "power.load", Power, full=True),
        _of("mass", "mechanics.mass", Mass, full=True, both=True),
        _of("mass-least", "mechanics.mass", Mass, most=False, both=True),
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
            total = per_part(kind, one)
            found[key] = Objective(key, total, fact, kind.named_many(), kind=kind)
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
