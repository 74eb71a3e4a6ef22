"""Processors: how many, what they are, what they add up to."""

from specgen.assembly import Assembly
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Trail
from specgen.facts.inputs import Fitted, each, every, of, position_leaf
from specgen.facts.registry import Calculators
from specgen.model import Processor
from specgen.quantity import DataSize, Power

fact = Calculators()


@fact.seen(
    "processors.sockets", "Processor sockets", formula="number of positions that take a processor"
)
def sockets(assembly: Assembly, _: str) -> tuple[int, Trail]:
    places = tuple(assembly.taking("processor"))
    return len(places), tuple(position_leaf(place) for place in places)


fact.count(
    "processors.count", "Processors", Fitted(Processor), formula="number of processors fitted"
)


@fact(
    "processors.models", "Processor", formula="names of those fitted", names=each(Processor, "name")
)
def models(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


fact.total("processors.cores", "Cores", each(Processor, "cores"), formula="sum over processors")
fact.total(
    "processors.threads", "Threads", each(Processor, "threads"), formula="sum over processors"
)
fact.least(
    "processors.base_clock",
    "Base clock",
    each(Processor, "base_clock"),
    formula="least over processors",
)
fact.least(
    "processors.boost_clock",
    "Highest clock",
    each(Processor, "boost_clock"),
    formula="least over processors of what one core can reach",
)
fact.total(
    "processors.tdp",
    "Thermal design power",
    each(Processor, "tdp"),
    Power,
    formula="sum over processors",
)
fact.total(
    "processors.cache",
    "Last-level cache",
    every(Processor, "cache"),
    DataSize,
    needs_some=True,
    formula="sum over processors",
)


@fact(
    "processors.cache_per_core",
    "Last-level cache per core",
    formula="last-level cache / cores",
    cache="processors.cache",
    cores="processors.cores",
)
def cache_per_core(cache: DataSize, cores: int) -> DataSize | None:
    return cache / cores if cores else None


fact.stated("processors.{processor}.cores", "Cores", of("cores"), over=PROCESSORS)
fact.stated("processors.{processor}.threads", "Threads", of("threads"), over=PROCESSORS)
fact.stated("processors.{processor}.base_clock", "Base clock", of("base_clock"), over=PROCESSORS)
fact.stated(
    "processors.{processor}.boost_clock", "Highest clock", of("boost_clock"), over=PROCESSORS
)
fact.stated("processors.{processor}.tdp", "Thermal design power", of("tdp"), over=PROCESSORS)
fact.stated("processors.{processor}.cache", "Last-level cache", of("cache"), over=PROCESSORS)


@fact(
    "processors.{processor}.cache_per_core",
    "Last-level cache per core",
    short="Cache per core",
    formula="last-level cache / cores",
    over=PROCESSORS,
    cache=of("cache"),
    cores=of("cores"),
)
def own_cache_per_core(cache: DataSize, cores: int) -> DataSize:
    return cache / cores
