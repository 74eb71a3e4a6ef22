"""Values of a system as sums over what may be fitted."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from specgen.facts.calculators.rack import on_rails
from specgen.facts.slots_and_bays import is_bay, is_slot
from specgen.limits.sums import ONE, Sum
from specgen.model import (
    Accelerator,
    Drive,
    HasEthernet,
    MemoryModule,
    Part,
    PowerSupply,
    Processor,
    Stores,
    expand,
)
from specgen.model.position import CardHeight

if TYPE_CHECKING:  # which limits there are is asked by more than who builds a model
    from specgen.limits.build_model import BuildModel

Total = Callable[["BuildModel"], Sum]


def per_part(kind: type[Part], amount: Callable[[Part], Decimal]) -> Total:
    """An amount for each working part of a kind."""

    def total(builds: "BuildModel") -> Sum:
        return Sum(tuple((amount(seat.part), seat.works) for seat in builds.working(kind)))

    return total


def slots(height: CardHeight | None = None) -> Total:
    """Usable positions for cards, of one height or of any."""

    def total(builds: "BuildModel") -> Sum:
        return Sum(
            tuple(
                (ONE, builds.usable[node.index])
                for node in builds.nodes
                if is_slot(builds.bare.definitions, node.place, height)
            )
        )

    return total


def bays(builds: "BuildModel") -> Sum:
    """Usable drive bays."""
    return Sum(
        tuple(
            (ONE, builds.usable[node.index])
            for node in builds.nodes
            if is_bay(node.place, node.bringer)
        )
    )


def drives(builds: "BuildModel") -> Sum:
    """Drives that work in bays."""
    return Sum(
        tuple(
            (ONE, seat.works)
            for seat in builds.working(Drive)
            if is_bay(seat.node.place, seat.node.bringer)
        )
    )


def draw(builds: "BuildModel") -> Sum:
    """The maximum power of the system, W."""
    terms = tuple(
        (seat.part.power.maximum.amount, seat.works)
        for seat in builds.working(Part)
        if seat.part.power is not None and not isinstance(seat.part, PowerSupply)
    )
    board = builds.bare.platform.power
    return Sum(terms, Decimal(0) if board is None else board.maximum.amount)


def load(builds: "BuildModel") -> Sum:
    """The most that the supplies carry, W: what is lost on the way to the parts with it."""
    lost = builds.bare.definitions.project.assumptions.board_loss
    return draw(builds) if lost is None else draw(builds).times(1 + lost.value.fraction)


def mass(builds: "BuildModel", counts: Callable[[Part], bool] = lambda _: True) -> Sum:
    """Everything in the system, soldered parts that rest and blanks included; in kg."""
    terms = [
        (seat.part.mass.amount, seat.sits)
        for seat in builds.seats.values()
        if seat.part.mass is not None and counts(seat.part)
    ]
    parts, blocked = builds.bare.definitions.parts, builds.blocked()
    for node in builds.nodes:
        blank = parts.get(node.place.position.blank or "")
        own = not (node.fixed or node.spare_of)
        if blank is not None and blank.mass is not None and counts(blank) and own:
            left = builds.closed_by_blank(node)
            taken = blocked.get(node.index)
            here = left if taken is None else builds.logic.both([left, taken.negated()])
            terms.append((blank.mass.amount, here))
    return Sum(tuple(terms), builds.bare.platform.mass.amount)


def _ports(rate: bool) -> Callable[[Part], Decimal]:
    def amount(part: Part) -> Decimal:
        ports = part.ethernet if isinstance(part, HasEthernet) else ()
        return sum(
            (
                len(expand(port.name)) * (port.speed.amount if rate else ONE)
                for port in ports
                if not port.management
            ),
            Decimal(0),
        )

    return amount


def _cores(part: Part) -> Decimal:
    return Decimal(part.cores) if isinstance(part, Processor) else Decimal(0)


def _capacity(part: Part) -> Decimal:
    return part.capacity.amount if isinstance(part, MemoryModule | Stores) else Decimal(0)


def _accelerator_memory(part: Part) -> Decimal:
    known = isinstance(part, Accelerator) and part.memory is not None
    return part.memory.amount if known else Decimal(0)  # type: ignore[attr-defined]


def one(_: Part) -> Decimal:
    """Each part counts one."""
    return ONE


TOTALS: Final[Mapping[str, Total]] = {
    "processors.cores": per_part(Processor, _cores),
    "memory.capacity": per_part(MemoryModule, _capacity),
    "accelerators.count": per_part(Accelerator, one),
    "accelerators.memory": per_part(Accelerator, _accelerator_memory),
    "storage.bays_usable": bays,
    "storage.drives": drives,
    "storage.raw": per_part(Stores, _capacity),
    "network.ports": per_part(Part, _ports(rate=False)),
    "network.line_rate": per_part(Part, _ports(rate=True)),
    "power.maximum": draw,
    "power.load": load,
    "power.input": load,  # what it grows with
    "mechanics.mass": mass,
    "mechanics.rails_load": lambda builds: mass(builds, on_rails),
}
"""Facts of a build that are sums over its parts, by key: in the units that quantities keep."""
