"""Processors: how many, what they are, what they add up to."""

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Trail
from specgen.facts.inputs import FactOf, Fitted, Seen, each, every, of, position_leaf
from specgen.facts.registry import Calculator, figure, stated
from specgen.model import Processor
from specgen.quantity import DataSize, Frequency, Power


@figure(
    "processors.count",
    "Processors",
    formula="number of processors fitted",
    places=Fitted(Processor),
)
def count(places: tuple[Place, ...]) -> int:
    return len(places)


def _sockets(assembly: Assembly, _: str) -> tuple[int, Trail]:
    places = tuple(assembly.taking("processor"))
    return len(places), tuple(position_leaf(place) for place in places)


@figure(
    "processors.sockets",
    "Processor sockets",
    formula="number of positions that take a processor",
    sockets=Seen(_sockets),
)
def sockets(sockets: int) -> int:
    return sockets


@figure(
    "processors.models", "Processor", formula="names of those fitted", names=each(Processor, "name")
)
def models(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


@figure("processors.cores", "Cores", formula="sum over processors", cores=each(Processor, "cores"))
def cores(cores: tuple[int, ...]) -> int:
    return sum(cores)


@figure(
    "processors.threads",
    "Threads",
    formula="sum over processors",
    threads=each(Processor, "threads"),
)
def threads(threads: tuple[int, ...]) -> int:
    return sum(threads)


@figure(
    "processors.base_clock",
    "Base clock",
    formula="least over processors",
    clocks=each(Processor, "base_clock"),
)
def base_clock(clocks: tuple[Frequency, ...]) -> Frequency | None:
    return min(clocks, default=None)


@figure(
    "processors.boost_clock",
    "Highest clock",
    formula="least over processors of what one core can reach",
    clocks=each(Processor, "boost_clock"),
)
def boost_clock(clocks: tuple[Frequency, ...]) -> Frequency | None:
    return min(clocks, default=None)


@figure(
    "processors.tdp",
    "Thermal design power",
    formula="sum over processors",
    powers=each(Processor, "tdp"),
)
def tdp(powers: tuple[Power, ...]) -> Power:
    return sum(powers, Power.zero())


@figure(
    "processors.cache",
    "Last-level cache",
    formula="sum over processors",
    caches=every(Processor, "cache"),
)
def cache(caches: tuple[DataSize, ...]) -> DataSize | None:
    return sum(caches, DataSize.zero()) if caches else None


@figure(
    "processors.cache_per_core",
    "Last-level cache per core",
    formula="last-level cache / cores",
    cache=FactOf("processors.cache"),
    cores=FactOf("processors.cores"),
)
def cache_per_core(cache: DataSize, cores: int) -> DataSize | None:
    return cache / cores if cores else None


@figure(
    "processors.{processor}.cache_per_core",
    "Last-level cache per core",
    formula="last-level cache / cores",
    over=PROCESSORS,
    cache=of("cache"),
    cores=of("cores"),
)
def own_cache_per_core(cache: DataSize, cores: int) -> DataSize:
    return cache / cores


CALCULATORS: tuple[Calculator, ...] = (
    sockets,
    count,
    models,
    cores,
    threads,
    base_clock,
    boost_clock,
    tdp,
    cache,
    cache_per_core,
    stated("processors.{processor}.cores", "Cores", of("cores"), over=PROCESSORS),
    stated("processors.{processor}.threads", "Threads", of("threads"), over=PROCESSORS),
    stated("processors.{processor}.base_clock", "Base clock", of("base_clock"), over=PROCESSORS),
    stated(
        "processors.{processor}.boost_clock", "Highest clock", of("boost_clock"), over=PROCESSORS
    ),
    stated("processors.{processor}.tdp", "Thermal design power", of("tdp"), over=PROCESSORS),
    stated("processors.{processor}.cache", "Last-level cache", of("cache"), over=PROCESSORS),
    own_cache_per_core,
)
