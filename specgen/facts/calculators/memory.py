"""Memory: slots, modules, capacity, the speed that remains, bandwidth."""

from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.memory_channels import (
    channel_width,
    on_channels,
    ranks_on_fullest,
    wired_channels,
)
from specgen.facts.calculators.memory_speed import (
    MODULES,
    OwnRates,
    RankTables,
    Rated,
    Rates,
    rank_tables,
    speed_limits,
    speeds_apart,
)
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.constants import CHANNEL_SOURCE
from specgen.facts.fact import Rests, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Fitted, Inspected, each, fit_leaves, of, platform, position_leaves
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model import MemoryModule, Part
from specgen.quantity import DataRate, DataSize, TransferRate

fact = Calculators()


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
    formula=say("min. over processors"),
)


@fact(
    "memory.speed_set_by",
    say("Memory speed is set by"),
    formula=say("the stages with the lowest limit, over processors with the lowest speed"),
    rates=OwnRates(),
    stages=FactsOfAll("memory.{processor}.own_speed_set_by"),
)
def least_speed_set_by(
    rates: tuple[Rated, ...], stages: tuple[tuple[Message, ...], ...]
) -> tuple[Message, ...] | None:
    least = min((rate for _, rate in rates), default=None)
    pairs = zip(rates, stages, strict=True)
    named = [stage for (_, rate), own in pairs if rate == least for stage in own]
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


@fact(
    "memory.bandwidth",
    say("Peak memory bandwidth"),
    formula=say("sum over processors"),
    rates=FactsOfAll("memory.{processor}.bandwidth"),
    used=FactsOfAll("memory.{processor}.channels_used"),
)
def all_bandwidth(rates: tuple[DataRate, ...], used: tuple[int, ...]) -> DataRate | None:
    """None where that of a processor with modules is not declared."""
    if len(rates) < sum(map(bool, used)):
        return None
    return DataRate.zero().with_all(rates).to("GB/s")


@fact.seen(
    "memory.{processor}.modules_per_channel",
    say("Modules on the fullest channel"),
    formula=say("max. number of modules on one channel"),
    over=PROCESSORS,
)
def modules_per_channel(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Modules on the fullest channel of a processor."""
    fullest = max(on_channels(assembly, processor).values(), key=len, default=[])
    return len(fullest), fit_leaves(place for place, _ in fullest)


@fact(
    "memory.{processor}.ranks_per_channel",
    say("Ranks on the fullest channel"),
    formula=say("max. sum of the modules' ranks on one channel; a stacked package counts once"),
    over=PROCESSORS,
    ranks=Inspected(ranks_on_fullest),
)
def ranks_per_channel(ranks: int) -> int:
    return ranks


def _under(place: Place, _: Part) -> str | None:
    return place.of


@fact(
    "memory.{processor}.own_speed",
    say("Memory speed by its own modules"),
    short=say("Own modules allow"),
    formula=say(
        "min. of the modules' rates and of what processor and board allow "
        "at this number of modules, and of ranks, on a channel"
    ),
    over=PROCESSORS,
    loading="memory.{processor}.modules_per_channel",
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
    by_ranks=Inspected(rank_tables),
)
def own_speed(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> TransferRate | None:
    """Rate in T/s that a processor's memory could run at; None without modules.

    Mixed modules run at the rate of the slowest (common practice, no source).
    """
    limits = speed_limits(loading, rates, processor, board, by_ranks)
    return None if limits is None else min((limit for _, limit in limits), default=None)


@fact(
    "memory.{processor}.own_speed_set_by",
    say("Memory speed by its own modules is set by"),
    short=say("Own speed set by"),
    formula=say(
        "the modules where they run at their own rate, else the stages with the lowest limit"
    ),
    over=PROCESSORS,
    loading="memory.{processor}.modules_per_channel",
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
    by_ranks=Inspected(rank_tables),
)
def own_speed_set_by(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> tuple[Message, ...] | None:
    limits = speed_limits(loading, rates, processor, board, by_ranks)
    if limits is None:
        return None
    least = min((limit for _, limit in limits), default=None)
    named = tuple(stage for stage, limit in limits if limit == least)
    return named[:1] if named[:1] == (MODULES,) else named or None


@fact(
    "memory.{processor}.speed",
    say("Memory speed"),
    short=say("Speed as configured"),
    formula=say(
        "min. over all processors with modules; where the platform says that its processors run "
        "their memory apart, that of its own modules"
    ),
    source="common practice, no source: one memory clock for all processors of a system",
    over=PROCESSORS,
    own="memory.{processor}.own_speed",
    rates=OwnRates(),
    apart=Inspected(speeds_apart),
)
def speed(own: TransferRate, rates: tuple[Rated, ...], apart: bool) -> TransferRate:
    """Rate in T/s at which a processor's memory runs."""
    return own if apart else min(rate for _, rate in rates)


@fact(
    "memory.{processor}.speed_set_by",
    say("Memory speed is set by"),
    short=say("Speed set by"),
    formula=say(
        "the stages with the lowest limit, of its own modules or of the slowest processor's"
    ),
    over=PROCESSORS,
    own="memory.{processor}.own_speed",
    stages="memory.{processor}.own_speed_set_by",
    speed="memory.{processor}.speed",
    rates=OwnRates(),
)
def speed_set_by(
    own: TransferRate,
    stages: tuple[Message, ...],
    speed: TransferRate,
    rates: tuple[Rated, ...],
) -> tuple[Message, ...]:
    if own == speed:
        return stages
    return tuple(say("the memory of {place}", place=name) for name, rate in rates if rate == speed)


@fact(
    "memory.{processor}.channels",
    say("Memory channels"),
    formula=say("min. of the processor's channels and those the board wires"),
    over=PROCESSORS,
    owned=of("memory_channels"),
    wired=Inspected(wired_channels),
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
def channels_used(assembly: Assembly, processor: str) -> tuple[int, Rests]:
    first = [modules[0][0] for modules in on_channels(assembly, processor).values()]
    return len(first), partial(fit_leaves, first)


@fact(
    "memory.{processor}.bandwidth",
    say("Peak memory bandwidth"),
    short=say("Peak bandwidth"),
    formula=say("rate x data bits of a channel / 8 x channels in use"),
    source=CHANNEL_SOURCE,
    over=PROCESSORS,
    rate="memory.{processor}.speed",
    used="memory.{processor}.channels_used",
    bits=Inspected(channel_width),
)
def bandwidth(rate: TransferRate, used: int, bits: int = 64) -> DataRate:
    """Peak rate in B/s of user data; check bits not counted, no allowance for refresh."""
    amount: Decimal = rate.amount * bits / 8 * used
    return DataRate.of(amount).to("GB/s")
