"""Processors: how many, what they are, what they add up to."""

from typing import Final

from specgen.assembly import Assembly
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Basis, Trail
from specgen.facts.inputs import Fitted, Inspected, each, every, leaf, of, position_leaf
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model import Processor
from specgen.model.kinds.compute import NO_BOOST
from specgen.model.labels import label_of_field
from specgen.quantity import DataSize, Frequency, Power

fact = Calculators()

TDP: Final = label_of_field(Processor, "tdp")
MAX_CLOCK: Final = label_of_field(Processor, "max_clock")


@fact.seen(
    "processors.sockets",
    say("Processor sockets"),
    formula=say("number of positions that take a processor"),
)
def sockets(assembly: Assembly, _: str) -> tuple[int, Trail]:
    places = tuple(assembly.taking("processor"))
    return len(places), tuple(position_leaf(place) for place in places)


fact.count(
    "processors.count",
    say("Processors"),
    Fitted(Processor),
    formula=say("number of processors fitted"),
)


@fact(
    "processors.models",
    say("Processor"),
    formula=say("names of those fitted"),
    names=each(Processor, "name"),
)
def models(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


fact.total(
    "processors.cores", say("Cores"), each(Processor, "cores"), formula=say("sum over processors")
)
fact.total(
    "processors.threads",
    say("Threads"),
    each(Processor, "threads"),
    formula=say("sum over processors"),
)
fact.least(
    "processors.base_clock",
    say("Base clock"),
    each(Processor, "base_clock"),
    formula=say("min. over processors"),
)


@fact(
    "processors.max_clock",
    MAX_CLOCK,
    formula=say("min. over processors of what one core can reach"),
    clocks=each(Processor, "max_clock"),
    base=each(Processor, "base_clock"),
    holds=Frequency,
)
def max_clock(
    clocks: tuple[Frequency, ...], base: tuple[Frequency, ...]
) -> Frequency | Message | None:
    """Where some have no boost, their base clock counts: it is what all cores can reach."""
    if not clocks:
        return NO_BOOST if base else None
    return min(clocks) if len(clocks) == len(base) else min((*clocks, *base))


fact.total(
    "processors.tdp",
    TDP,
    each(Processor, "tdp"),
    Power,
    "W",
    formula=say("sum over processors"),
)
fact.total(
    "processors.cache",
    say("Last-level cache"),
    every(Processor, "cache"),
    DataSize,
    needs_some=True,
    formula=say("sum over processors"),
)


@fact(
    "processors.cache_per_core",
    say("Last-level cache per core"),
    formula=say("last-level cache / cores"),
    cache="processors.cache",
    cores="processors.cores",
)
def cache_per_core(cache: DataSize, cores: int) -> DataSize | None:
    return cache / cores if cores else None


fact.stated("processors.{processor}.cores", say("Cores"), of("cores"), over=PROCESSORS)
fact.stated("processors.{processor}.threads", say("Threads"), of("threads"), over=PROCESSORS)
fact.stated(
    "processors.{processor}.base_clock", say("Base clock"), of("base_clock"), over=PROCESSORS
)


def _max_clock(assembly: Assembly, name: str) -> tuple[Frequency | Message | None, Trail]:
    place = assembly.places[name]
    if not isinstance(place.part, Processor):
        return None, ()
    clock = place.part.max_clock or NO_BOOST
    return clock, (leaf(place, place.part, ("max_clock",), clock),)


@fact(
    "processors.{processor}.max_clock",
    MAX_CLOCK,
    formula=say("as declared; without one no core runs above the base clock"),
    source=say("the definition"),
    over=PROCESSORS,
    basis=Basis.DECLARED,
    clock=Inspected(_max_clock),
    holds=Frequency,
)
def own_max_clock(clock: Frequency | Message) -> Frequency | Message:
    return clock


fact.stated("processors.{processor}.tdp", TDP, of("tdp"), over=PROCESSORS)
fact.stated("processors.{processor}.cache", say("Last-level cache"), of("cache"), over=PROCESSORS)


@fact(
    "processors.{processor}.cache_per_core",
    say("Last-level cache per core"),
    short=say("Cache per core"),
    formula=say("last-level cache / cores"),
    over=PROCESSORS,
    cache=of("cache"),
    cores=of("cores"),
)
def own_cache_per_core(cache: DataSize, cores: int) -> DataSize:
    return cache / cores
