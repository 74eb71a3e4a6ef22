"""Memory: what may stand beside what, in which order slots are filled, at which speed it runs."""

from collections import Counter
from collections.abc import Callable, Iterator
from typing import Final

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.model import MemoryModule, Population, Processor, expand
from specgen.quantity import DataSize, TransferRate, plain
from specgen.rules.places import by_line, counted, names, settled, unsettled_kinds

Module = tuple[Place, MemoryModule]

# What all modules of a machine share; the technology is the processors' and has a check of its own.
# common practice, no source
ALIKE: Final[tuple[tuple[str, Callable[[MemoryModule], object]], ...]] = (
    ("form", lambda module: module.form),
    ("error_correction", lambda module: module.error_correction),
    ("device_width", lambda module: module.device_width),
)


def mixed(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG321: types that must not mix in a machine, ranks that must not mix on a channel."""
    modules = list(settled(assembly, MemoryModule))
    for field, value in ALIKE:
        found = _odd(modules, field, value, "the machine")
        if found is not None:
            yield found
            return
    for channel, members in _channels(modules).items():
        found = _odd(members, "ranks", lambda module: module.ranks, f"channel {channel[1]}")
        if found is not None:
            yield found
            return


def _odd(
    modules: list[Module], field: str, value: Callable[[MemoryModule], object], where: str
) -> Finding | None:
    """The module that differs from the most, with one of the others beside it."""
    counts = Counter(value(module) for _, module in modules)
    if len(counts) < 2:
        return None
    usual = counts.most_common(1)[0][0]
    place, module = next(entry for entry in modules if value(entry[1]) != usual)
    other, like = next(entry for entry in modules if value(entry[1]) == usual)
    word = field.replace("_", " ")
    return Finding(
        codes.MIXED_MEMORY,
        f"modules of different {word} in {where}: `{module.id}` in {place.name} "
        f"and `{like.id}` in {other.name}",
        Label(place.at, f"{word} {plain(value(module))}"),
        labels=(Label(other.at, f"{word} {plain(usual)}"),),
    )


def _channels(modules: list[Module]) -> dict[tuple[str, str], list[Module]]:
    channels: dict[tuple[str, str], list[Module]] = {}
    for place, module in modules:
        if place.position.channel is not None:
            key = (place.of or "", place.position.channel)
            channels.setdefault(key, []).append((place, module))
    return channels


def technology(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG306: modules of another technology than their processor's memory controller."""
    wrong: list[tuple[Place, MemoryModule, Processor]] = []
    for place, module in settled(assembly, MemoryModule):
        owner = assembly.places.get(place.of or "")
        processor = owner.part if owner is not None and owner.filled else None
        if isinstance(processor, Processor) and processor.memory_technology != module.technology:
            wrong.append((place, module, processor))
    for line in by_line(place for place, _, _ in wrong):
        _, module, processor = next(entry for entry in wrong if entry[0] is line[0])
        yield Finding(
            codes.WRONG_INTERFACE,
            f"`{module.id}` in {names(line)} is {module.technology}, "
            f"and `{processor.id}` drives {processor.memory_technology}",
            Label(line[0].at, module.technology),
            labels=(Label(processor.origin.at("memory_technology"), "the processor"),),
        )


def _order(assembly: Assembly, population: Population) -> list[Place]:
    named = (name for text in population.order for name in expand(text))
    places = (assembly.places.get(name) for name in named)
    usable = (State.FILLED, State.EMPTY, State.UNKNOWN)
    return [place for place in places if place is not None and place.state in usable]


def _is_filled(place: Place) -> bool:
    return place.state in (State.FILLED, State.UNKNOWN)


def population(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG322 and SG323: slots filled out of order; channels or processors filled unevenly."""
    if assembly.build is None or MemoryModule.kind in unsettled_kinds(assembly):
        return
    told = False
    counts: list[tuple[Population, int, list[Place]]] = []
    for index, entry in enumerate(assembly.platform.population):
        order = _order(assembly, entry)
        filled = [place for place in order if _is_filled(place)]
        if order:
            counts.append((entry, len(filled), filled))
        early = [place for place in order[len(filled) :] if _is_filled(place)]
        if early:
            told = True
            yield _out_of_order(assembly, index, early, order[: len(filled)])
        elif filled and entry.balanced and len(filled) not in entry.balanced:
            told = True
            yield _uneven(assembly, index, filled, entry)
        elif (sizes := _unequal_channels(filled)) is not None:
            told = True
            yield sizes
    if not told:
        yield from _lopsided(assembly, counts)


def _out_of_order(assembly: Assembly, index: int, early: list[Place], due: list[Place]) -> Finding:
    skipped = names(place for place in due if not _is_filled(place))
    return Finding(
        codes.POPULATION_ORDER,
        f"{names(early)} is filled before {skipped}",
        Label(early[0].at, f"{skipped} comes first"),
        labels=(_rule_at(assembly, index, "order"),),
        help=f"use {skipped} instead of {names(early)}",
    )


def _rule_at(assembly: Assembly, index: int, field: str) -> Label:
    words = "the order" if field == "order" else "the even numbers"
    return Label(assembly.platform.origin.at("population", index, field), words)


def _uneven(assembly: Assembly, index: int, filled: list[Place], entry: Population) -> Finding:
    even = ", ".join(str(count) for count in entry.balanced)
    return Finding(
        codes.UNBALANCED_MEMORY,
        f"{counted(len(filled), 'module')} cannot spread evenly over the channels",
        Label(by_line(filled)[-1][0].at, f"{len(filled)} modules in all: {names(filled)}"),
        labels=(_rule_at(assembly, index, "balanced"),),
        notes=("channels with fewer modules serve some addresses more slowly",),
        help=f"use one of {even} modules",
    )


def _unequal_channels(filled: list[Place]) -> Finding | None:
    sums: dict[str, DataSize] = {}
    first: dict[str, Place] = {}
    for place in filled:
        channel, module = place.position.channel, place.part
        if channel is not None and isinstance(module, MemoryModule):
            sums[channel] = sums.get(channel, DataSize.zero()) + module.capacity
            first.setdefault(channel, place)
    usual = Counter(sums.values()).most_common(1)
    if len(set(sums.values())) < 2:
        return None
    size = usual[0][0]
    odd = next(channel for channel, total in sums.items() if total != size)
    return Finding(
        codes.UNBALANCED_MEMORY,
        f"channel {odd} carries {plain(sums[odd])}, and others {plain(size)}",
        Label(first[odd].at, f"{plain(sums[odd])} on channel {odd}"),
        notes=("what goes beyond the smallest channel is served by fewer channels",),
    )


def _lopsided(
    assembly: Assembly, counts: list[tuple[Population, int, list[Place]]]
) -> Iterator[Finding]:
    """Processors with different numbers of modules."""
    build = assembly.build
    numbers = {count for _, count, _ in counts}
    if build is None or len(numbers) < 2:
        return
    least = min(counts, key=lambda entry: entry[1])
    most = max(counts, key=lambda entry: entry[1])
    places = least[2] or most[2]
    yield Finding(
        codes.UNBALANCED_MEMORY,
        f"{_whose(least[0])} has {counted(least[1], 'memory module')}, "
        f"and {_whose(most[0])} has {most[1]}",
        Label(places[0].at, names(places)),
        notes=("a processor with fewer modules reaches more of its data through the other one",),
    )


def _whose(population: Population) -> str:
    """Whose modules they are: the processor named, else the positions themselves."""
    return population.of or ", ".join(population.order)


def derated(assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """SG324: memory that runs slower than its modules, whatever slows it down."""
    speed = facts.value("memory.speed")
    if not isinstance(speed, TransferRate):
        return
    slowed = [place for place, module in settled(assembly, MemoryModule) if module.speed > speed]
    if not slowed:
        return
    fullest = [fact.value for fact in facts.along("memory.{processor}.modules_per_channel")]
    limits = [
        Label(place.at, f"module of {plain(module.speed)}")
        for place, module in assembly.fitted(MemoryModule)
        if module.speed == speed
    ][:1]
    tables = [
        (processor.origin, processor.memory_speed, "the processor")
        for _, processor in assembly.fitted(Processor)
    ][:1]
    tables.append((assembly.platform.origin, assembly.platform.memory_speed, "the board"))
    for origin, table, what in tables:
        if speed in table.values():
            limits.append(Label(origin.key("memory_speed"), what))
    yield Finding(
        codes.MEMORY_DERATED,
        f"memory runs at {plain(speed)}, below what its modules can do",
        Label(slowed[0].at, names(slowed)),
        labels=tuple(limits),
        notes=tuple(
            f"{counted(number, 'module')} on the fullest channel"
            for number in fullest[:1]
            if isinstance(number, int)
        ),
    )
