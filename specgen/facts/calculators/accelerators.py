"""Accelerators: how many, their memory, what they draw, their links to the host."""

from specgen.assembly import Assembly
from specgen.facts.calculators.links import LINK_SOURCE, full_trail, link_rate
from specgen.facts.calculators.subjects import ACCELERATORS
from specgen.facts.fact import Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Fitted, each, every, of
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Accelerator
from specgen.quantity import DataRate, DataSize, Power

fact = Calculators()

fact.count(
    "accelerators.count",
    say("Accelerators"),
    Fitted(Accelerator),
    formula=say("number of accelerators fitted"),
)


@fact(
    "accelerators.models",
    say("Accelerator"),
    formula=say("names of those fitted"),
    names=each(Accelerator, "name"),
)
def models(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


fact.total(
    "accelerators.memory",
    say("Accelerator memory"),
    every(Accelerator, "memory"),
    DataSize,
    "GiB",
    needs_some=True,
    formula=say("sum over accelerators"),
)
fact.total(
    "accelerators.memory_bandwidth",
    say("Accelerator memory bandwidth"),
    every(Accelerator, "memory_bandwidth"),
    DataRate,
    "GB/s",
    needs_some=True,
    formula=say("sum over accelerators, each to its own memory"),
)
fact.total(
    "accelerators.power",
    say("Accelerator power, max."),
    every(Accelerator, "power", "maximum"),
    Power,
    "W",
    needs_some=True,
    noun="maximum power of all accelerators",
    formula=say("sum of the maximum power of accelerators"),
)
fact.total(
    "accelerators.host_bandwidth",
    say("Accelerator host links, one way"),
    FactsOfAll("accelerators.{accelerator}.host_bandwidth", strict=True),
    DataRate,
    "GB/s",
    needs_some=True,
    noun="one-way bandwidth of the accelerators' host links",
    formula=say("sum over accelerators"),
    source=LINK_SOURCE,
)

for _field, _label, _short, _noun in (
    (("memory",), say("Accelerator memory"), say("Memory"), ""),
    (("memory_bandwidth",), say("Accelerator memory bandwidth"), say("Memory bandwidth"), ""),
    (
        ("power", "maximum"),
        say("Accelerator power, max."),
        say("Power, max."),
        "maximum accelerator power",
    ),
):
    fact.stated(
        f"accelerators.{{accelerator}}.{_field[0]}",
        _label,
        of(*_field),
        noun=_noun,
        short=_short,
        over=ACCELERATORS,
    )


@fact.seen(
    "accelerators.{accelerator}.link",
    say("Accelerator host link"),
    short=say("Host link"),
    formula=say("min. of slot and accelerator, width and generation"),
    over=ACCELERATORS,
)
def link(assembly: Assembly, name: str) -> tuple[str | None, Trail]:
    found = assembly.links.get(name)
    if found is None or found.broken:
        return None, ()
    return f"x{found.lanes} Gen {found.generation}", full_trail(found, assembly.places[name])


@fact.seen(
    "accelerators.{accelerator}.host_bandwidth",
    say("Accelerator host link, one way"),
    noun="one-way bandwidth of the host link",
    short=say("Host link, one way"),
    formula=say("rate of a lane x lanes, by what slot and accelerator both can"),
    source=LINK_SOURCE,
    over=ACCELERATORS,
)
def host_bandwidth(assembly: Assembly, name: str) -> tuple[DataRate | None, Trail]:
    found, place = assembly.links.get(name), assembly.places[name]
    if found is None:
        return None, ()
    return link_rate(found), full_trail(found, place)
