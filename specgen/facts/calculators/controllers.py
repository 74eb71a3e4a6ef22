"""Storage controllers: what the drives behind one move against its link to the host."""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Literal

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.lanes import passed_through
from specgen.facts.calculators.links import LINK_SOURCE, link_rate
from specgen.facts.calculators.subjects import CONTROLLERS, uplink_of
from specgen.facts.calculators.uplinks import to_host
from specgen.facts.fact import Declared, Rests
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import fit_leaf, leaf, of
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Part, StorageController
from specgen.model.labels import label_of_field
from specgen.quantity import DataRate

fact = Calculators()

Direction = Literal["read", "write"]
SHARE_SOURCE = "common practice, no source: one direction at a time, links are full duplex"

fact.most(
    "storage.host_load",
    say("Max. rate of drives over host bandwidth"),
    FactsOfAll("storage.{controller}.host_load"),
    formula=say("max. over storage controllers"),
)


def _moves(part: Part | None, link: DataRate, direction: Direction) -> DataRate:
    """What a drive moves one way: what it declares, at most what its link carries."""
    own = getattr(part, direction, None)
    return min(own, link) if isinstance(own, DataRate) else link


def _behind(
    assembly: Assembly, name: str, direction: Direction, places: dict[str, Place]
) -> DataRate:
    """What arrives at a controller or an expander, which passes on what its uplink carries."""
    passed = passed_through(assembly)
    total = DataRate.of(0, "GB/s")
    for end, link in assembly.links.items():
        place = assembly.places[end]
        if end in passed or link.owner is None or not place.filled:
            continue
        rate = link_rate(link)
        if rate is not None and uplink_of(assembly, link.owner) == name:
            total += _moves(place.part, rate, direction)
            places[end] = place
    for inner, link in assembly.uplinks.items():
        rate = link_rate(link)
        if rate is None or link.owner is None or inner == name:
            continue
        if uplink_of(assembly, link.owner) == name:
            total += min(rate, _behind(assembly, inner, direction, places))
    return total


@fact.seen(
    "storage.{controller}.drive_rate",
    say("Rate of the drives behind it, one way"),
    noun="one-way rate of the drives behind it",
    short=say("Drives behind it"),
    formula=say(
        "greater of reads and writes: sum of the min. of each drive's declared rate and its link, "
        "behind an expander capped by its uplink"
    ),
    source=SHARE_SOURCE,
    assumes=say("every drive busy at once, in one direction"),
    over=CONTROLLERS,
)
def drive_rate(assembly: Assembly, name: str) -> tuple[DataRate | None, Rests]:
    places: dict[str, Place] = {}
    rates = [_behind(assembly, name, way, places) for way in ("read", "write")]
    return (max(rates).to("GB/s") if places else None), lambda: tuple(_rates_of(places.values()))


def _rates_of(places: Iterable[Place]) -> Iterator[Declared]:
    """What sits in each of several positions, and the rates that it declares."""
    for place in places:
        yield fit_leaf(place)
        for field in ("read", "write"):
            value = getattr(place.part, field, None)
            if place.part is not None and value is not None:
                yield leaf(place, place.part, (field,), value)


@fact.seen(
    "storage.{controller}.host_bandwidth",
    say("Bandwidth of its host link, one way"),
    noun="one-way bandwidth of its host link",
    short=say("Host link"),
    formula=say(
        "rate of a lane x lanes, by what slot and controller both can, and each uplink on the way"
    ),
    source=LINK_SOURCE,
    over=CONTROLLERS,
)
def host_bandwidth(assembly: Assembly, name: str) -> tuple[DataRate | None, Rests]:
    return to_host(assembly, name)


fact.stated(
    "storage.{controller}.throughput",
    label_of_field(StorageController, "throughput"),
    of("throughput"),
    noun="throughput",
    over=CONTROLLERS,
    holds=DataRate,
)


@fact(
    "storage.{controller}.host_load",
    say("Rate of the drives over host bandwidth"),
    short=say("Drives over host link"),
    formula=say("rate of the drives / bandwidth of the host link, both one way"),
    source=SHARE_SOURCE,
    over=CONTROLLERS,
    host="storage.{controller}.host_bandwidth",
    drives="storage.{controller}.drive_rate",
)
def host_load(host: DataRate, drives: DataRate) -> Decimal:
    """Above 1 where the drives together are faster than the link to the processor."""
    return drives / host
