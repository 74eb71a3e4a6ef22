"""Uplinks: what hangs on a switch, an expander, a hub or a controller, against what feeds it."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from specgen.assembly import Assembly, Link
from specgen.facts.calculators.lanes import passed_through
from specgen.facts.calculators.links import LINK_SOURCE, full_trail, link_rate, link_trail
from specgen.facts.calculators.subjects import UPLINKS, uplink_of
from specgen.facts.fact import Rests, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Context
from specgen.facts.registry import Calculators
from specgen.frozen import frozen
from specgen.messages import Message, say, say_many
from specgen.quantity import DataRate

fact = Calculators()

SOURCE = "common practice, no source: oversubscription is demand over uplink, one way"
ENOUGH: Final = say("not oversubscribed")

fact.most(
    "expansion.oversubscription",
    say("Max. oversubscription"),
    FactsOfAll("expansion.{uplink}.oversubscription"),
    formula=say("max. over switches, expanders, hubs and controllers"),
    source=SOURCE,
)


@fact.seen(
    "expansion.{uplink}.uplink",
    say("Uplink, one way"),
    noun="one-way bandwidth of the uplink",
    short=say("Uplink"),
    formula=say("rate of a lane x lanes of the link that feeds it"),
    source=LINK_SOURCE,
    over=UPLINKS,
)
def uplink(assembly: Assembly, name: str) -> tuple[DataRate | None, Trail]:
    """The rate of what feeds it, limited by the card where it is a card's own link."""
    link = assembly.links.get(name)
    if link is not None:
        place = assembly.places[name]
        return link_rate(link), full_trail(link, place)
    link = assembly.uplinks[name]
    return link_rate(link), link_trail(link)


def _way_to_host(assembly: Assembly, name: str | None) -> Iterator[tuple[Link, Trail]]:
    """The link of a position, then every uplink from there to the processor, with their lines."""
    seen = set[str]()
    while name is not None and name not in seen:
        seen.add(name)
        if (link := assembly.links.get(name)) is not None:
            yield link, full_trail(link, assembly.places[name])
        elif (link := assembly.uplinks.get(name)) is not None:
            yield link, link_trail(link)
        name = uplink_of(assembly, link.owner) if link is not None and link.owner else None


def to_host(assembly: Assembly, name: str) -> tuple[DataRate | None, Rests]:
    """What a card and the processor move one way: the least of its link and the uplinks above."""
    way = tuple(_way_to_host(assembly, name))
    rates = [link_rate(link) for link, _ in way]
    least = None if None in rates else min(filter(None, rates), default=None)
    return least, lambda: tuple(leaf for _, trail in way for leaf in trail)


def _behind(assembly: Assembly, name: str) -> Iterator[str]:
    """The keys of the rates that come together in an uplink; a switch below counts as its own."""
    passed = passed_through(assembly)
    for end, link in assembly.links.items():
        if end not in passed and link.owner is not None and uplink_of(assembly, link.owner) == name:
            yield f"expansion.{end}.running_bandwidth"
    for inner, link in assembly.uplinks.items():
        if not link.broken and link.owner is not None and uplink_of(assembly, link.owner) == name:
            yield f"expansion.{inner}.uplink"


@frozen
class Behind:
    """The rates of the links behind the uplink in hand, as a tuple."""

    def read(self, context: Context) -> tuple[tuple[DataRate, ...], Trail]:
        keys = (key for key in _behind(context.assembly, context.subject) if key in context.facts)
        facts = tuple(fact for key in keys if (fact := context.facts[key]).value is not None)
        return tuple(fact.value for fact in facts if isinstance(fact.value, DataRate)), facts


fact.count(
    "expansion.{uplink}.attached",
    say("Links behind it"),
    Behind(),
    formula=say("number of links to what is fitted behind it"),
    over=UPLINKS,
)
fact.total(
    "expansion.{uplink}.demand",
    say("Links behind it, total, one way"),
    Behind(),
    DataRate,
    "GB/s",
    noun="one-way bandwidth of all links behind it",
    short=say("Total of those"),
    formula=say("sum of the rates of the links behind it"),
    source=LINK_SOURCE,
    assumes=say("every link busy at once"),
    over=UPLINKS,
)


@fact(
    "expansion.{uplink}.oversubscription",
    say("Oversubscription"),
    formula=say("rates of the links behind it / rate of the uplink"),
    source=SOURCE,
    assumes=say("every link busy at once"),
    over=UPLINKS,
    demand="expansion.{uplink}.demand",
    uplink="expansion.{uplink}.uplink",
)
def oversubscription(demand: DataRate, uplink: DataRate) -> Decimal:
    """Above 1 where not all that hangs on it can run at its full rate at once."""
    return demand / uplink


@fact(
    "expansion.{uplink}.shared",
    say("How far the uplink carries"),
    short=say("In words"),
    formula=say("the uplink against the links behind it, in words"),
    source=SOURCE,
    over=UPLINKS,
    attached="expansion.{uplink}.attached",
    demand="expansion.{uplink}.demand",
    uplink="expansion.{uplink}.uplink",
)
def shared(attached: int, demand: DataRate, uplink: DataRate) -> Message:
    if not attached:
        return say("nothing is connected to it")
    if demand <= uplink:
        return ENOUGH
    return say_many(
        attached,
        "{number} link, {demand} total, shares {uplink}",
        "{number} links, {demand} total, share {uplink}",
        demand=demand,
        uplink=uplink,
    )
