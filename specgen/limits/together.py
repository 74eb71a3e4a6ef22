"""What the built-in checks say of parts together: processors, memory, cooling, supplies."""

from collections.abc import Callable, Hashable, Iterable
from decimal import Decimal
from functools import partial
from itertools import pairwise
from typing import Any, Final

from specgen.diagnostics import Code, codes
from specgen.facts.calculators.cooling import class_limit
from specgen.facts.calculators.supplies import output_at
from specgen.facts.constants import HIGHEST_ELEVATION
from specgen.limits.machine import ONE, Machine, Seat
from specgen.limits.reason import Reason, Sort
from specgen.limits.solver import Literal, Sum
from specgen.model import (
    EnergyPack,
    HeatSink,
    MemoryModule,
    Part,
    Population,
    PowerSupply,
    Processor,
    StorageController,
    expand,
)
from specgen.quantity import Length
from specgen.rules.memory import ALIKE


def together(machine: Machine) -> None:
    """Everything that parts demand of one another; each mirrors one check."""
    for code, words, tell in CHECKS:
        with machine.puzzle.because(Sort.CHECK, partial(_reason, machine, code, words)):
            tell(machine)


def _reason(machine: Machine, code: Code, words: str) -> Reason:
    return Reason(Sort.CHECK, words, machine.bare.platform.origin.at("id"), code.id)


def _groups(
    seats: Iterable[Seat], value: Callable[[Seat], Hashable]
) -> dict[Hashable, list[Literal]]:
    found: dict[Hashable, list[Literal]] = {}
    for seat in seats:
        found.setdefault(value(seat), []).append(seat.works)
    return found


def _alike(machine: Machine, seats: Iterable[Seat], value: Callable[[Any], Hashable]) -> None:
    """All of them that work have one value."""
    puzzle, parts = machine.puzzle, machine.bare.definitions.parts
    kinds: dict[Hashable, list[Literal]] = {}
    for name, literals in _groups(seats, lambda seat: seat.part.id).items():
        kinds.setdefault(value(parts[str(name)]), []).append(puzzle.either(literals))
    puzzle.at_most_one(puzzle.either(group) for group in kinds.values())


def _processors(machine: Machine) -> None:
    """SG334."""
    seats = list(machine.working(Processor))
    _alike(machine, seats, lambda part: part.id)


def _processors_together(machine: Machine) -> None:
    """SG334."""
    seats = list(machine.working(Processor))
    for name, literals in _groups(seats, lambda seat: seat.part.id).items():
        part = machine.bare.definitions.parts[str(name)]
        if isinstance(part, Processor):
            most = Decimal(-part.together)
            machine.puzzle.at_most(Sum(tuple((ONE, each) for each in literals), most))


def _heat_sinks(machine: Machine) -> None:
    """SG332."""
    for seat in machine.working(HeatSink):
        for below in machine.at_name(seat.node.place.cools or ""):
            sink, processor = seat.part, below.part
            both = isinstance(sink, HeatSink) and isinstance(processor, Processor)
            if both and processor.tdp > sink.tdp_limit:  # type: ignore[attr-defined]
                machine.puzzle.never(seat.works, below.works)


def _memory(machine: Machine) -> None:
    """SG306, SG314 and SG321."""
    seats = list(machine.working(MemoryModule))
    for _, value in ALIKE:
        _alike(machine, seats, value)
    channels: dict[tuple[str, str], list[Seat]] = {}
    owned: dict[str, list[Seat]] = {}
    for seat in seats:
        channel, owner = seat.node.place.position.channel, seat.node.place.of or ""
        owned.setdefault(owner, []).append(seat)
        if channel is not None:
            channels.setdefault((owner, channel), []).append(seat)
    for members in channels.values():
        _alike(machine, members, lambda part: getattr(part, "ranks", None))
    for owner, members in owned.items():
        technologies = _groups(members, lambda seat: getattr(seat.part, "technology", None))
        capacity = Sum(tuple((_bytes(seat.part), seat.works) for seat in members))
        for above in machine.at_name(owner):
            if not isinstance(above.part, Processor):
                continue
            for technology, literals in technologies.items():
                if technology != above.part.memory_technology:
                    machine.puzzle.never(above.works, machine.puzzle.either(literals))
            limit = above.part.memory_limit
            if limit is not None:
                machine.puzzle.at_most(capacity.plus(Sum((), -limit.amount)), above.works)


def _bytes(part: Part) -> Decimal:
    return part.capacity.amount if isinstance(part, MemoryModule) else Decimal(0)


def _populations(machine: Machine) -> None:
    """SG322."""
    for population in machine.bare.platform.population:
        _population(machine, population)


def _population(machine: Machine, population: Population) -> None:
    """Of the places that are usable, the later ones are filled after the earlier ones.

    Told only of neighbours in the order whose owner is the same, which are usable together.
    """
    names = [name for text in population.order for name in expand(text)]
    puzzle = machine.puzzle
    for first, second in pairwise(names):
        one, two = machine.named.get(first, []), machine.named.get(second, [])
        if len(one) != 1 or len(two) != 1:
            continue
        alike = one[0].host is two[0].host and one[0].place.of == two[0].place.of
        bound = any(node.place.lead is not None for node in (*one, *two))
        if alike and not bound and not _may_be_blocked(machine, first):
            puzzle.implies(machine.works(two[0]), machine.works(one[0]))


def _may_be_blocked(machine: Machine, name: str) -> bool:
    index = machine.named[name][0].index
    return index in machine.blocked()


def draw(machine: Machine) -> Sum:
    """The maximum power of the machine."""
    terms = tuple(
        (seat.part.power.maximum.amount, seat.works)
        for seat in machine.working(Part)
        if seat.part.power is not None and not isinstance(seat.part, PowerSupply)
    )
    board = machine.bare.platform.power
    return Sum(terms, Decimal(0) if board is None else board.maximum.amount)


def _supplies(machine: Machine) -> None:
    """SG353."""
    puzzle, redundancy = machine.puzzle, machine.bare.conditions.redundancy
    seats = list(machine.working(PowerSupply))
    text = "none" if redundancy is None else redundancy.text
    wanted = 1 if text == "none" else sum(int(piece) for piece in text.split("+"))
    places = [node for node in machine.nodes if PowerSupply.kind in node.place.position.takes]
    count = machine.count(seats)
    short = Sum(tuple((-a, literal) for a, literal in count.terms), Decimal(wanted))
    if places:
        puzzle.at_most(short, puzzle.either(machine.exists(node) for node in places))


def _supplies_alike(machine: Machine) -> None:
    """SG352."""
    _alike(machine, machine.working(PowerSupply), lambda part: part.id)


def _load(machine: Machine) -> None:
    """SG351 and SG354."""
    puzzle, conditions = machine.puzzle, machine.bare.conditions
    seats = list(machine.working(PowerSupply))
    redundancy = conditions.redundancy
    load = draw(machine)
    spare = Decimal(redundancy.spare if redundancy is not None else 0)
    for name, literals in _groups(seats, lambda seat: seat.part.id).items():
        supply = machine.bare.definitions.parts[str(name)]
        output = (
            output_at(supply.outputs, conditions.line) if isinstance(supply, PowerSupply) else None
        )
        if output is not None:
            given = Sum(tuple((output.amount, each) for each in literals), -output.amount * spare)
            puzzle.at_most(load.plus(given, -1), puzzle.either(literals))


def _energy_packs(machine: Machine) -> None:
    """SG341."""
    keeping = [
        (ONE, seat.works)
        for seat in machine.working(StorageController)
        if isinstance(seat.part, StorageController)
        and seat.part.cache is not None
        and seat.part.keeps_cache == EnergyPack.kind
    ]
    packs = [
        (-ONE, seat.sits) for seat in machine.seats.values() if isinstance(seat.part, EnergyPack)
    ]
    machine.puzzle.at_most(Sum((*keeping, *packs)))


def _inlet(machine: Machine) -> None:
    """SG335."""
    conditions, platform = machine.bare.conditions, machine.bare.platform
    if conditions.inlet is None:
        return
    altitude = conditions.altitude or Length.of(0)
    too_high = altitude.in_unit("m") > HIGHEST_ELEVATION.value
    if too_high or conditions.inlet > class_limit(platform.operating_class, altitude):
        machine.puzzle.never()
        return
    for seat in machine.working(Part):
        limit = seat.part.inlet_limit
        if limit is not None and conditions.inlet > limit:
            machine.puzzle.never(seat.works)


CHECKS: Final[tuple[tuple[Code, str, Callable[[Machine], None]], ...]] = (
    (codes.MIXED_PROCESSORS, "processors are alike", _processors),
    (codes.MIXED_PROCESSORS, "a processor works with so many of its kind", _processors_together),
    (codes.HEATSINK_TDP, "a heat sink suits the processor below it", _heat_sinks),
    (codes.MIXED_MEMORY, "memory goes together, and its processor can address it", _memory),
    (codes.POPULATION_ORDER, "memory is filled in order", _populations),
    (codes.SUPPLY_MIXED, "supplies are alike", _supplies_alike),
    (codes.SUPPLY_MISSING, "there are supplies enough for the redundancy wanted", _supplies),
    (codes.REDUNDANCY_LOST, "supplies carry the load, also when those to spare have failed", _load),
    (codes.INLET_TOO_WARM, "class and parts allow the inlet air at this altitude", _inlet),
    (codes.CACHE_WITHOUT_ENERGY, "each cache to be kept has an energy pack", _energy_packs),
)
"""What parts demand of one another: each mirrors a built-in check."""
