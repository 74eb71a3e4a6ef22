"""Memory: slots, modules, capacity, the speed that remains, bandwidth."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.constants import CHANNEL_BITS, CHANNEL_SOURCE
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import (
    Context,
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
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.messages import Message, say, say_many
from specgen.model import MemoryModule, Part, Processor
from specgen.quantity import DataRate, DataSize, TransferRate

fact = Calculators()

MODULES = say("the modules")
Rates = Mapping[int, TransferRate]
RankTables = tuple[int, Rates, Rates]
"""Ranks on the fullest channel, the processor's rates by them, the board's."""


Rated = tuple[str, TransferRate]
"""A processor and what its own memory could run at."""


@frozen
class OwnRates:
    """What the memory of each processor with modules could run at.

    None where one of them is not declared: nobody knows then at what rate all of them run.
    """

    needs: frozenset[str] = frozenset(
        {"memory.{processor}.own_speed", "memory.{processor}.modules_per_channel"}
    )

    def read(self, context: Context) -> tuple[tuple[Rated, ...] | None, Rests]:
        known = context.facts
        filled = {
            fact.subject
            for fact in known.of_all("memory.{processor}.modules_per_channel")
            if fact.value
        }
        own = [
            fact for fact in known.of_all("memory.{processor}.own_speed") if fact.subject in filled
        ]
        found = [(fact.subject, fact.value) for fact in own if isinstance(fact.value, TransferRate)]
        return (tuple(found) if len(found) == len(own) else None), tuple(own)


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
    return sum(rates, DataRate.zero()).to("GB/s")


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


Limits = tuple[tuple[Message, TransferRate], ...]
"""What each stage allows, in words and in T/s."""


def speed_limits(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> Limits | None:
    """What each stage allows; nothing without modules.

    None where a table has no row for this number: a rate is never taken from another.
    """
    if not rates:
        return ()
    ranks, of_processor, of_board = by_ranks
    tables = ((processor, loading), (board, loading), (of_processor, ranks), (of_board, ranks))
    if any(table and count not in table for table, count in tables):
        return None
    limits = (
        (MODULES, min(rates)),
        (
            say_many(
                loading,
                "the processor at {number} module on a channel",
                "the processor at {number} modules on a channel",
            ),
            processor.get(loading),
        ),
        (
            say_many(
                loading,
                "the board at {number} module on a channel",
                "the board at {number} modules on a channel",
            ),
            board.get(loading),
        ),
        (
            say_many(
                ranks,
                "the processor at {number} rank on a channel",
                "the processor at {number} ranks on a channel",
            ),
            of_processor.get(ranks),
        ),
        (
            say_many(
                ranks,
                "the board at {number} rank on a channel",
                "the board at {number} ranks on a channel",
            ),
            of_board.get(ranks),
        ),
    )
    return tuple((stage, limit) for stage, limit in limits if limit is not None)


@fact(
    "memory.{processor}.own_speed",
    say("Memory speed by its own modules"),
    short=say("Own modules allow"),
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
    formula=say("the modules where they run at their own rate, else the stages that allow least"),
    over=PROCESSORS,
    loading="memory.{processor}.modules_per_channel",
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
    by_ranks=Inspected(_rank_tables),
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


def _apart(assembly: Assembly, _: str) -> tuple[bool, Trail]:
    """Whether the platform says that its processors run their memory apart."""
    board = assembly.platform
    at = partial(board.origin.at, "memory_apart")
    words = "yes" if board.memory_apart else "no"
    if not board.memory_apart:  # nothing is written: one rate is how systems work
        return False, ()
    return True, (Declared(f"{board.name}: memory apart", words, at, board.source),)


@fact(
    "memory.{processor}.speed",
    say("Memory speed"),
    short=say("Runs at"),
    formula=say(
        "least over all processors with modules; where the platform says that its processors run "
        "their memory apart, that of its own modules"
    ),
    source="common practice, no source: one memory clock for all processors of a system",
    over=PROCESSORS,
    own="memory.{processor}.own_speed",
    rates=OwnRates(),
    apart=Inspected(_apart),
)
def speed(own: TransferRate, rates: tuple[Rated, ...], apart: bool) -> TransferRate:
    """Rate in T/s at which a processor's memory runs."""
    return own if apart else min(rate for _, rate in rates)


@fact(
    "memory.{processor}.speed_set_by",
    say("Memory speed is set by"),
    short=say("Speed set by"),
    formula=say("the stages that allow least, of its own modules or of the slowest processor's"),
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


def _channel_width(assembly: Assembly, processor: str) -> tuple[int | None, Trail]:
    """Data bits of a channel by the technology of the modules; None for one nobody describes."""
    place, module = next(
        (member for members in on_channels(assembly, processor).values() for member in members),
        (None, None),
    )
    if place is None or module is None:
        return None, ()
    project = assembly.definitions.project
    trail: Trail = (leaf(place, module, ("technology",), module.technology),)
    own = project.memory_technologies.get(module.technology)
    if own is not None:
        at = partial(project.origin.at, "memory_technologies", module.technology)
        label = f"{module.technology}: width of a channel"
        trail = (*trail, Declared(label, f"{own} bit", at))
    return own or CHANNEL_BITS.get(module.technology), trail


@fact(
    "memory.{processor}.bandwidth",
    say("Peak memory bandwidth"),
    short=say("Peak bandwidth"),
    formula=say("rate x data bits of a channel / 8 x channels in use"),
    source=CHANNEL_SOURCE,
    over=PROCESSORS,
    rate="memory.{processor}.speed",
    used="memory.{processor}.channels_used",
    bits=Inspected(_channel_width),
)
def bandwidth(rate: TransferRate, used: int, bits: int = 64) -> DataRate:
    """Peak rate in B/s of user data; check bits not counted, no allowance for refresh."""
    amount: Decimal = rate.amount * bits / 8 * used
    return DataRate.of(amount).to("GB/s")
