"""Uplinks: what hangs on a switch, an expander, a hub or a controller, against what feeds it."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from specgen.assembly import Assembly
from specgen.facts.calculators.lanes import passed_through
from specgen.facts.calculators.links import LINK_SOURCE, full_trail, link_rate, link_trail
from specgen.facts.calculators.subjects import UPLINKS, uplink_of
from specgen.facts.fact import Trail
from specgen.facts.inputs import Along, FactOf, Scene, Seen
from specgen.facts.registry import Calculator, figure
from specgen.quantity import DataRate, split

SOURCE = "common practice, no source: oversubscription is demand over uplink, one way"
ENOUGH = "carries all that hangs on it"


def _uplink(assembly: Assembly, name: str) -> tuple[DataRate | None, Trail]:
    """The rate of what feeds it, limited by the card where it is a card's own link."""
    link = assembly.links.get(name)
    if link is not None:
        place = assembly.places[name]
        return link_rate(link, place.part), full_trail(link, place)
    link = assembly.uplinks[name]
    return link_rate(link, None), link_trail(link)


@figure(
    "expansion.{uplink}.uplink",
    "Uplink, one way",
    formula="rate of a lane x lanes of the link that feeds it",
    source=LINK_SOURCE,
    over=UPLINKS,
    rate=Seen(_uplink),
)
def uplink(rate: DataRate) -> DataRate:
    return rate


def _behind(assembly: Assembly, name: str) -> Iterator[str]:
    """The keys of the rates that come together in an uplink; a switch below counts as its own."""
    passed = passed_through(assembly)
    for end, link in assembly.links.items():
        if end not in passed and link.owner is not None and uplink_of(assembly, link.owner) == name:
            yield f"expansion.{end}.running_bandwidth"
    for inner, link in assembly.uplinks.items():
        if not link.broken and link.owner is not None and uplink_of(assembly, link.owner) == name:
            yield f"expansion.{inner}.uplink"


@dataclass(frozen=True, slots=True)
class Behind:
    """The rates of the links behind the uplink in hand, as a tuple."""

    def read(self, scene: Scene) -> tuple[tuple[DataRate, ...], Trail]:
        keys = (key for key in _behind(scene.assembly, scene.subject) if key in scene.facts)
        facts = tuple(fact for key in keys if (fact := scene.facts[key]).value is not None)
        return tuple(fact.value for fact in facts if isinstance(fact.value, DataRate)), facts


@figure(
    "expansion.{uplink}.hanging",
    "Links behind it",
    formula="number of links to what is fitted behind it",
    over=UPLINKS,
    rates=Behind(),
)
def hanging(rates: tuple[DataRate, ...]) -> int:
    return len(rates)


@figure(
    "expansion.{uplink}.demand",
    "Links behind it in all, one way",
    formula="sum of the rates of the links behind it",
    source=LINK_SOURCE,
    assumes="every link busy at once",
    over=UPLINKS,
    rates=Behind(),
)
def demand(rates: tuple[DataRate, ...]) -> DataRate:
    return sum(rates, DataRate.of(0, "GB/s"))


@figure(
    "expansion.{uplink}.oversubscription",
    "Oversubscription",
    formula="rates of the links behind it / rate of the uplink",
    source=SOURCE,
    assumes="every link busy at once",
    over=UPLINKS,
    demand=FactOf("expansion.{uplink}.demand"),
    uplink=FactOf("expansion.{uplink}.uplink"),
)
def oversubscription(demand: DataRate, uplink: DataRate) -> Decimal:
    """Above 1 where not all that hangs on it can run at its full rate at once."""
    return round(demand / uplink, 4)


@figure(
    "expansion.{uplink}.shared",
    "How far the uplink carries",
    formula="the uplink against the links behind it, in words",
    source=SOURCE,
    over=UPLINKS,
    hanging=FactOf("expansion.{uplink}.hanging"),
    demand=FactOf("expansion.{uplink}.demand"),
    uplink=FactOf("expansion.{uplink}.uplink"),
)
def shared(hanging: int, demand: DataRate, uplink: DataRate) -> str:
    if not hanging:
        return "nothing hangs on it"
    if demand <= uplink:
        return ENOUGH
    many = "1 link" if hanging == 1 else f"{hanging} links"
    (has, unit), (wants, other) = split(uplink), split(demand)
    return f"{many}, {wants} {other} in all, share {has} {unit}"


@figure(
    "expansion.oversubscription",
    "Greatest oversubscription",
    formula="greatest over switches, expanders, hubs and controllers",
    source=SOURCE,
    ratios=Along("expansion.{uplink}.oversubscription"),
)
def greatest(ratios: tuple[Decimal, ...]) -> Decimal | None:
    return max(ratios, default=None)


CALCULATORS: tuple[Calculator, ...] = (
    greatest,
    uplink,
    hanging,
    demand,
    oversubscription,
    shared,
)
