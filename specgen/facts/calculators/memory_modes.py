"""Memory that the system sees: of all that is fitted, what the memory mode leaves."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from itertools import chain

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.memory_channels import on_channels
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Inspected, leaf
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model import MemoryMode, MemoryModule, Processor
from specgen.quantity import DataSize

fact = Calculators()

SOURCE = (
    "common practice, no source: a mirror keeps the contents of a channel on its twin; "
    "a spare rank stands by on each channel"
)
Channel = tuple[str, tuple[tuple[DataSize, int], ...]]
"""The name of a channel, and capacity and ranks of each of its modules."""
ZERO = DataSize.of(0, "GiB")
MODE_NAMES: Mapping[MemoryMode, Message] = {
    "independent": say("independent"),
    "mirrored": say("mirrored"),
    "spare-rank": say("spare-rank"),
}


def _mode(assembly: Assembly, _: str) -> tuple[MemoryMode, Trail]:
    build = assembly.build
    mode: MemoryMode = (build.memory_mode if build is not None else None) or "independent"
    origin = build.origin if build is not None else assembly.platform.origin
    return mode, (
        Declared(
            say("memory mode"),
            MODE_NAMES[mode],
            partial(origin.place, "memory_mode"),
            name="memory_mode",
        ),
    )


@fact(
    "memory.mode",
    say("Memory mode"),
    formula=say("as the build declares it, else independent"),
    mode=Inspected(_mode),
)
def mode(mode: MemoryMode) -> Message:
    return MODE_NAMES[mode]


@fact(
    "memory.visible",
    say("Usable memory"),
    formula=say("sum over processors"),
    sizes=FactsOfAll("memory.{processor}.visible"),
)
def all_visible(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, ZERO)


@fact(
    "memory.held_back",
    say("Memory held back"),
    formula=say("memory fitted less usable memory"),
    fitted="memory.capacity",
    seen="memory.visible",
)
def held_back(fitted: DataSize, seen: DataSize) -> DataSize:
    return fitted - seen


@fact(
    "memory.capacity_per_core",
    say("Memory per core"),
    formula=say("usable memory / cores"),
    seen="memory.visible",
    cores="processors.cores",
)
def capacity_per_core(seen: DataSize, cores: int) -> DataSize | None:
    return seen / cores if cores else None


def total(channel: Channel) -> DataSize:
    """What all modules of a channel hold."""
    return sum((size for size, _ in channel[1]), ZERO)


def _independent(channels: tuple[Channel, ...]) -> tuple[DataSize, tuple[str, ...]]:
    return sum((total(channel) for channel in channels), ZERO), ()


def _channels(assembly: Assembly, processor: str) -> tuple[tuple[Channel, ...], Rests]:
    on = on_channels(assembly, processor)
    channels = tuple(
        (name, tuple((module.capacity, module.ranks) for _, module in modules))
        for name, modules in on.items()
    )
    ranked = _mode(assembly, processor)[0] == "spare-rank"
    return channels, lambda: tuple(_sizes(chain(*on.values()), ranked))


def _sizes(modules: Iterable[tuple[Place, MemoryModule]], ranked: bool) -> Iterator[Declared]:
    for place, module in modules:
        yield leaf(place, module, ("capacity",), module.capacity)
        if ranked:
            yield leaf(place, module, ("ranks",), module.ranks)


@fact(
    "memory.{processor}.capacity",
    say("Memory fitted"),
    short=say("Fitted"),
    formula=say("sum over the processor's modules"),
    over=PROCESSORS,
    channels=Inspected(_channels),
)
def own_capacity(channels: tuple[Channel, ...]) -> DataSize:
    return _independent(channels)[0]


def _mirrored(channels: tuple[Channel, ...]) -> tuple[DataSize, tuple[str, ...]]:
    """Half of what two channels alike hold; a channel without a twin holds nothing."""
    sizes = [total(channel) for channel in channels]
    seen = sum((size * (count // 2) for size, count in Counter(sizes).items()), ZERO)
    odd = {size for size, count in Counter(sizes).items() if count % 2}
    last = {size: name for (name, _), size in zip(channels, sizes, strict=True) if size in odd}
    return seen, tuple(last.values())


def _spare_rank(channels: tuple[Channel, ...]) -> tuple[DataSize, tuple[str, ...]]:
    """All but the largest rank of each channel; a channel with one rank has none to spare."""
    seen, bare = ZERO, []
    for channel in channels:
        name, modules = channel
        if sum(ranks for _, ranks in modules) < 2:
            bare.append(name)
        else:
            seen += total(channel) - max(size / ranks for size, ranks in modules)
    return seen, tuple(bare)


MODES: Mapping[MemoryMode, Callable[[tuple[Channel, ...]], tuple[DataSize, tuple[str, ...]]]] = {
    "independent": _independent,
    "mirrored": _mirrored,
    "spare-rank": _spare_rank,
}
"""What each mode leaves of a processor's channels, and the channels that it cannot protect."""


def _limit(assembly: Assembly, processor: str) -> tuple[tuple[DataSize, ...], Trail]:
    """What the processor can address at most, where it says so."""
    place = assembly.places[processor]
    part = place.part
    if not isinstance(part, Processor) or part.memory_limit is None:
        return (), ()
    limit = part.memory_limit
    return (limit,), (leaf(place, part, ("memory_limit",), limit),)


@fact(
    "memory.{processor}.visible",
    say("Usable memory"),
    short=say("Usable"),
    formula=say(
        "independent: all of it; mirrored: one of each two channels alike; spare-rank: all but "
        "the largest rank of each channel; no more than the processor addresses"
    ),
    source=SOURCE,
    assumes=say("a channel that the mode cannot protect stays unused"),
    over=PROCESSORS,
    mode=Inspected(_mode),
    channels=Inspected(_channels),
    limit=Inspected(_limit),
)
def visible(
    mode: MemoryMode, channels: tuple[Channel, ...], limit: tuple[DataSize, ...] = ()
) -> DataSize:
    """Capacity in B left by the mode."""
    return min((MODES[mode](channels)[0], *limit))


@fact(
    "memory.{processor}.unprotected",
    say("Channels the mode cannot protect"),
    formula=say(
        "mirrored: channels without a twin that holds the same; spare-rank: channels with one rank"
    ),
    source=SOURCE,
    over=PROCESSORS,
    mode=Inspected(_mode),
    channels=Inspected(_channels),
)
def unprotected(mode: MemoryMode, channels: tuple[Channel, ...]) -> tuple[str, ...]:
    return MODES[mode](channels)[1]
