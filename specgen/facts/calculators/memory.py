"""Memory: slots, modules, capacity, the speed that remains, bandwidth."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.constants import BYTES_PER_TRANSFER
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import (
    FactsOfAll,
    Fitted,
    Inspected,
    each,
    fields_of,
    fit_leaf,
    leaf,
    of,
    platform,
    position_leaf,
    position_leaves,
)
from specgen.facts.registry import Calculators
from specgen.facts.tabled import tabled
from specgen.grouped import grouped
from specgen.messages import Message, say, say_many
from specgen.model import MemoryModule, Part, Processor
from specgen.quantity import DataRate, DataSize, TransferRate

fact = Calculators()

MODULES = say("the modules")
Rates = Mapping[int, TransferRate]
RankTables = tuple[int, Rates, Rates]
"""Ranks on the fullest channel, the processor's rates by them, the board's."""


def _slots(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Rests]:
    places = tuple(assembly.taking("memory-module"))
    return places, partial(position_leaves, places)


fact.count(
    "memory.slots",
    say("Memory slots"),
    Inspected(_slots),
    formula=say("number of positions that take a memory module"),
)


@fact(
    "memory.slots_usable",
    say("Usable memory slots"),
    formula=say("memory slots less those whose processor is absent"),
    places=Inspected(_slots),
)
def slots_usable(places: tuple[Place, ...]) -> int:
    return sum(place.state.value in ("filled", "empty", "unknown") for place in places)


fact.count(
    "memory.modules",
    say("Memory modules"),
    Fitted(MemoryModule),
    formula=say("number of modules fitted"),
)


@fact(
    "memory.kinds",
    say("Memory type"),
    formula=say("names of those fitted"),
    names=each(MemoryModule, "name"),
)
def kinds(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


fact.total(
    "memory.capacity",
    say("Memory capacity"),
    each(MemoryModule, "capacity"),
    DataSize,
    "GiB",
    formula=say("sum over modules"),
)
fact.least(
    "memory.speed",
    say("Memory speed"),
    FactsOfAll("memory.{processor}.speed"),
    formula=say("least over processors"),
)


@fact(
    "memory.speed_set_by",
    say("Memory speed is set by"),
    formula=say("the stages that allow least, over processors with the lowest speed"),
    speeds=FactsOfAll("memory.{processor}.speed"),
    stages=FactsOfAll("memory.{processor}.speed_set_by"),
)
def least_speed_set_by(
    speeds: tuple[TransferRate, ...], stages: tuple[tuple[Message, ...], ...]
) -> tuple[Message, ...] | None:
    pairs = zip(speeds, stages, strict=True)
    named = [stage for speed, own in pairs if speed == min(speeds) for stage in own]
    return tuple(dict.fromkeys(named)) or None


fact.total(
    "memory.channels",
    say("Memory channels"),
    FactsOfAll("memory.{processor}.channels"),
    formula=say("sum over processors fitted"),
)
fact.total(
    "memory.channels_used",
    say("Memory channels in use"),
    FactsOfAll("memory.{processor}.channels_used"),
    formula=say("sum over processors"),
)
fact.total(
    "memory.bandwidth",
    say("Peak memory bandwidth"),
    FactsOfAll("memory.{processor}.bandwidth"),
    DataRate,
    "GB/s",
    formula=say("sum over processors"),
)


def on_channels(assembly: Assembly, processor: str) -> dict[str, list[tuple[Place, MemoryModule]]]:
    """The modules of a processor by channel, in the order of positions."""
    return grouped(
        (place.position.channel or place.name, (place, module))
        for place, module in assembly.fitted(MemoryModule)
        if place.of == processor
    )


@fact.seen(
    "memory.{processor}.modules_per_channel",
    say("Modules on the fullest channel"),
    formula=say("greatest number of modules on one channel"),
    over=PROCESSORS,
)
def modules_per_channel(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Modules on the fullest channel of a processor."""
    fullest = max(on_channels(assembly, processor).values(), key=len, default=[])
    return len(fullest), tuple(fit_leaf(place) for place, _ in fullest)


def _ranks(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Ranks on the channel that has most of them."""

    def total(modules: list[tuple[Place, MemoryModule]]) -> int:
        return sum(module.ranks for _, module in modules)

    fullest = max(on_channels(assembly, processor).values(), key=total, default=[])
    return total(fullest), fields_of(fullest, "ranks")[1]


@fact(
    "memory.{processor}.ranks_per_channel",
    say("Ranks on the fullest channel"),
    formula=say("greatest sum of the modules' ranks on one channel; a stacked package counts once"),
    over=PROCESSORS,
    ranks=Inspected(_ranks),
)
def ranks_per_channel(ranks: int) -> int:
    return ranks


def _under(place: Place, _: Part, processor: str) -> bool:
    return place.of == processor


def _rank_tables(assembly: Assembly, processor: str) -> tuple[RankTables, Trail]:
    """Ranks on a channel, and the rates that processor and board allow by them, where declared."""
    part, platform = assembly.places[processor].part, assembly.platform
    own = part.memory_speed_by_ranks if isinstance(part, Processor) else {}
    board = platform.memory_speed_by_ranks
    if not own and not board:
        return (0, {}, {}), ()
    ranks, trail = _ranks(assembly, processor)
    field = "memory_speed_by_ranks"
    if isinstance(part, Processor) and own:
        trail = (*trail, leaf(assembly.places[processor], part, (field,), own))
    if board:
        words, at = (
            f"{platform.name}: memory speed by ranks",
            partial(platform.origin.place, field),
        )
        trail = (*trail, Declared(words, tabled(board), at, platform.source))
    return (ranks, own, board), trail


def allowed(table: Rates, loading: int) -> TransferRate | None:
    """The rate a table allows at so many modules on a channel; the last row holds beyond it."""
    rows = [count for count in sorted(table) if count <= loading]
    return table[rows[-1]] if rows else None


def speed_limits(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> tuple[tuple[Message, TransferRate], ...]:
    """What each stage allows, in words and in T/s; nothing without modules."""
    if not rates:
        return ()
    ranks, of_processor, of_board = by_ranks
    limits = (
        (MODULES, min(rates)),
        (
            say_many(
                loading,
                "the processor at {number} module on a channel",
                "the processor at {number} modules on a channel",
            ),
            allowed(processor, loading),
        ),
        (
            say_many(
                loading,
                "the board at {number} module on a channel",
                "the board at {number} modules on a channel",
            ),
            allowed(board, loading),
        ),
        (
            say_many(
                ranks,
                "the processor at {number} rank on a channel",
                "the processor at {number} ranks on a channel",
            ),
            allowed(of_processor, ranks),
        ),
        (
            say_many(
                ranks,
                "the board at {number} rank on a channel",
                "the board at {number} ranks on a channel",
            ),
            allowed(of_board, ranks),
        ),
    )
    return tuple((stage, limit) for stage, limit in limits if limit is not None)


@fact(
    "memory.{processor}.speed",
    say("Memory speed"),
    short=say("Runs at"),
    formula=say(
        "least of the modules' rates and of what processor and board allow "
        "at this number of modules, and of ranks, on a channel"
    ),
    over=PROCESSORS,
    loading="memory.{processor}.modules_per_channel",
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
    by_ranks=Inspected(_rank_tables),
)
def speed(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> TransferRate | None:
    """Rate in T/s at which a processor's memory runs; None without modules.

    Mixed modules run at the rate of the slowest (common practice, no source).
    """
    limits = speed_limits(loading, rates, processor, board, by_ranks)
    return min((limit for _, limit in limits), default=None)


@fact(
    "memory.{processor}.speed_set_by",
    say("Memory speed is set by"),
    short=say("Speed set by"),
    formula=say("the modules where they run at their own rate, else the stages that allow least"),
    over=PROCESSORS,
    loading="memory.{processor}.modules_per_channel",
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
    by_ranks=Inspected(_rank_tables),
)
def speed_set_by(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> tuple[Message, ...] | None:
    limits = speed_limits(loading, rates, processor, board, by_ranks)
    least = min((limit for _, limit in limits), default=None)
    named = tuple(stage for stage, limit in limits if limit == least)
    return named[:1] if named[:1] == (MODULES,) else named or None


def _wired_channels(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    first: dict[str, Place] = {}
    for place in assembly.taking("memory-module"):
        if place.of == processor:
            first.setdefault(place.position.channel or place.name, place)
    return len(first), tuple(position_leaf(place) for place in first.values())


@fact(
    "memory.{processor}.channels",
    say("Memory channels"),
    formula=say("least of the processor's channels and those the board wires"),
    over=PROCESSORS,
    owned=of("memory_channels"),
    wired=Inspected(_wired_channels),
)
def channels(owned: int, wired: int) -> int:
    return min(owned, wired)


@fact.seen(
    "memory.{processor}.channels_used",
    say("Memory channels in use"),
    short=say("Channels used"),
    formula=say("number of channels with a module"),
    over=PROCESSORS,
)
def channels_used(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    first = [modules[0][0] for modules in on_channels(assembly, processor).values()]
    return len(first), tuple(fit_leaf(place) for place in first)


@fact(
    "memory.{processor}.bandwidth",
    say("Peak memory bandwidth"),
    short=say("Peak bandwidth"),
    formula=say("rate x 8 bytes x channels in use"),
    source=BYTES_PER_TRANSFER.source,
    over=PROCESSORS,
    rate="memory.{processor}.speed",
    used="memory.{processor}.channels_used",
)
def bandwidth(rate: TransferRate, used: int) -> DataRate:
    """Peak rate in B/s of user data; check bits not counted, no allowance for refresh."""
    amount: Decimal = rate.amount * BYTES_PER_TRANSFER.value * used
    return DataRate.of(amount).to("GB/s")
