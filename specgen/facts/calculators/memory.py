"""Memory: slots, modules, capacity, the speed that remains, bandwidth."""

from collections.abc import Mapping
from decimal import Decimal

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.constants import BYTES_PER_TRANSFER
from specgen.facts.inputs import (
    Along,
    FactOf,
    Fitted,
    Seen,
    Trail,
    each,
    fit_leaf,
    of,
    platform,
    position_leaf,
)
from specgen.facts.registry import Calculator, figure
from specgen.model import MemoryModule, Part
from specgen.quantity import DataRate, DataSize, TransferRate


def _slots(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    places = tuple(assembly.taking("memory-module"))
    return places, tuple(position_leaf(place, str(place.state)) for place in places)


def _under(place: Place, _: Part, processor: str) -> bool:
    return place.of == processor


@figure(
    "memory.slots",
    "Memory slots",
    formula="number of positions that take a memory module",
    places=Seen(_slots),
)
def slots(places: tuple[Place, ...]) -> int:
    return len(places)


@figure(
    "memory.slots_usable",
    "Usable memory slots",
    formula="memory slots less those whose processor is absent",
    places=Seen(_slots),
)
def slots_usable(places: tuple[Place, ...]) -> int:
    return sum(place.state.value in ("filled", "empty", "unknown") for place in places)


@figure(
    "memory.modules",
    "Memory modules",
    formula="number of modules fitted",
    places=Fitted(MemoryModule),
)
def modules(places: tuple[Place, ...]) -> int:
    return len(places)


@figure(
    "memory.kinds", "Memory type", formula="names of those fitted", names=each(MemoryModule, "name")
)
def kinds(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


@figure(
    "memory.capacity",
    "Memory capacity",
    formula="sum over modules",
    capacities=each(MemoryModule, "capacity"),
)
def capacity(capacities: tuple[DataSize, ...]) -> DataSize:
    return sum(capacities, DataSize.of(0, "GiB"))


def _loading(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Modules on the fullest channel of a processor."""
    by_channel: dict[str, list[Place]] = {}
    for place, _ in assembly.fitted(MemoryModule):
        if place.of == processor:
            by_channel.setdefault(place.position.channel or place.name, []).append(place)
    fullest = max(by_channel.values(), key=len, default=[])
    return len(fullest), tuple(fit_leaf(place) for place in fullest)


@figure(
    "memory.{processor}.modules_per_channel",
    "Modules on the fullest channel",
    formula="greatest number of modules on one channel",
    over=PROCESSORS,
    loading=Seen(_loading),
)
def modules_per_channel(loading: int) -> int:
    return loading


def allowed(table: Mapping[int, TransferRate], loading: int) -> TransferRate | None:
    """The rate a table allows at so many modules on a channel; the last row holds beyond it."""
    rows = [count for count in sorted(table) if count <= loading]
    return table[rows[-1]] if rows else None


@figure(
    "memory.{processor}.speed",
    "Memory speed",
    formula="least of the modules' rates and of what processor and platform allow "
    "at this number of modules on a channel",
    over=PROCESSORS,
    loading=FactOf("memory.{processor}.modules_per_channel"),
    rates=each(MemoryModule, "speed", when=_under),
    processor=of("memory_speed"),
    board=platform("memory_speed"),
)
def speed(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Mapping[int, TransferRate],
    board: Mapping[int, TransferRate],
) -> TransferRate | None:
    """Rate in T/s at which a processor's memory runs; None without modules.

    Mixed modules run at the rate of the slowest (common practice, no source).
    """
    if not rates:
        return None
    limits = [*rates, allowed(processor, loading), allowed(board, loading)]
    return min(limit for limit in limits if limit is not None)


@figure(
    "memory.speed",
    "Memory speed",
    formula="least over processors",
    speeds=Along("memory.{processor}.speed"),
)
def least_speed(speeds: tuple[TransferRate, ...]) -> TransferRate | None:
    return min(speeds, default=None)


def _channels(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    first: dict[str, Place] = {}
    for place, _ in assembly.fitted(MemoryModule):
        if place.of == processor:
            first.setdefault(place.position.channel or place.name, place)
    return len(first), tuple(fit_leaf(place) for place in first.values())


@figure(
    "memory.{processor}.channels_used",
    "Memory channels in use",
    formula="number of channels with a module",
    over=PROCESSORS,
    used=Seen(_channels),
)
def channels_used(used: int) -> int:
    return used


@figure(
    "memory.channels_used",
    "Memory channels in use",
    formula="sum over processors",
    used=Along("memory.{processor}.channels_used"),
)
def all_channels_used(used: tuple[int, ...]) -> int:
    return sum(used)


@figure(
    "memory.channels",
    "Memory channels",
    formula="sum over processors fitted",
    channels=Along("memory.{processor}.channels"),
)
def all_channels(channels: tuple[int, ...]) -> int:
    return sum(channels)


def _wired_channels(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    first: dict[str, Place] = {}
    for place in assembly.taking("memory-module"):
        if place.of == processor:
            first.setdefault(place.position.channel or place.name, place)
    return len(first), tuple(position_leaf(place) for place in first.values())


@figure(
    "memory.{processor}.channels",
    "Memory channels",
    formula="least of the processor's channels and those the board wires",
    over=PROCESSORS,
    owned=of("memory_channels"),
    wired=Seen(_wired_channels),
)
def channels(owned: int, wired: int) -> int:
    return min(owned, wired)


@figure(
    "memory.{processor}.bandwidth",
    "Peak memory bandwidth",
    formula="rate x 8 bytes x channels in use",
    source=BYTES_PER_TRANSFER.source,
    over=PROCESSORS,
    rate=FactOf("memory.{processor}.speed"),
    used=FactOf("memory.{processor}.channels_used"),
)
def bandwidth(rate: TransferRate, used: int) -> DataRate:
    """Peak rate in B/s of user data; check bits not counted, no allowance for refresh."""
    amount: Decimal = rate.amount * BYTES_PER_TRANSFER.value * used
    return DataRate.of(amount).to("GB/s")


@figure(
    "memory.bandwidth",
    "Peak memory bandwidth",
    formula="sum over processors",
    rates=Along("memory.{processor}.bandwidth"),
)
def all_bandwidth(rates: tuple[DataRate, ...]) -> DataRate:
    return sum(rates, DataRate.of(0, "GB/s"))


CALCULATORS: tuple[Calculator, ...] = (
    slots,
    slots_usable,
    modules,
    kinds,
    capacity,
    least_speed,
    all_channels,
    all_channels_used,
    all_bandwidth,
    modules_per_channel,
    speed,
    channels,
    channels_used,
    bandwidth,
)
