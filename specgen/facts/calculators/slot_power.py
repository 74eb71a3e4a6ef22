"""Slot power: what a slot gives, what its card needs, auxiliary connectors."""

from functools import partial

from specgen.assembly import Assembly, Place, Pool
from specgen.facts.calculators.subjects import CARDS, RESOURCES, SLOTS
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Inspected, fit_leaf, leaf, of_thing
from specgen.facts.registry import Calculators
from specgen.fitness.card_power import AUXILIARY_CONNECTORS, SLOT_SOURCE, slot_gives
from specgen.messages import Message, Words, say
from specgen.model import Definitions, Position, Span
from specgen.model.labels import field_words
from specgen.quantity import Power

fact = Calculators()


@fact.seen(
    "expansion.{slot}.power_offered",
    say("Power for the slot's card"),
    short=say("Place is rated for"),
    formula=say("as declared; with the auxiliary connector where the platform counts it in"),
    over=SLOTS,
)
def power_offered(assembly: Assembly, name: str) -> tuple[Power | None, Trail]:
    place = assembly.places[name]
    power = place.position.power
    span = place.origin.place(*place.path, "power")
    return power, (
        Declared(
            of_thing(name, field_words(Position, ("power",))), power, lambda: span, subject=name
        ),
    )


def _by_slot(assembly: Assembly, name: str) -> tuple[Power | None, Trail]:
    """What the slot itself gives, with the lines of its power and of its connector."""
    place = assembly.places[name]
    position = place.position
    gives = slot_gives(position)
    trail = [
        Declared(
            of_thing(name, field_words(Position, (field,))),
            value,
            partial(place.origin.place, *place.path, field),
            subject=name,
        )
        for field, value in (("power", position.power), ("connector", position.connector))
        if value is not None or gives is None
    ]
    return gives, tuple(trail)


@fact(
    "expansion.{slot}.power_by_slot",
    say("Max. power from the slot itself"),
    short=say("Slot alone gives"),
    formula=say("what the card standard allows by the connector's width, and what is declared"),
    source=SLOT_SOURCE,
    over=SLOTS,
    given=Inspected(_by_slot),
)
def power_by_slot(given: Power) -> Power:
    return given


@fact.seen(
    "expansion.{card}.power_needed",
    say("Card's max. power"),
    short=say("Max. power of a card"),
    formula=say("as declared"),
    over=CARDS,
)
def power_needed(assembly: Assembly, name: str) -> tuple[Power | None, Trail]:
    place = assembly.places[name]
    part = place.part
    if part is None or not place.filled:
        return None, ()
    path = ("power", "maximum")
    if part.power is None:
        return None, (leaf(place, part, path, None),)
    return part.power.maximum, (leaf(place, part, path, part.power.maximum),)


@fact(
    "expansion.{card}.power_by_cable",
    say("Power by auxiliary cable"),
    short=say("By auxiliary cable"),
    formula=say("what the card needs less what the slot itself gives, never below zero"),
    source=SLOT_SOURCE,
    over=CARDS,
    needed="expansion.{card}.power_needed",
    by_slot="expansion.{slot}.power_by_slot",
)
def power_by_cable(needed: Power, by_slot: Power) -> Power:
    return max(needed - by_slot, Power.zero()).to("W")


@fact.seen(
    "expansion.{card}.auxiliary",
    say("Auxiliary connectors taken"),
    short=say("Auxiliary connectors"),
    formula=say("as the card declares its needs"),
    over=CARDS,
)
def auxiliary(assembly: Assembly, name: str) -> tuple[int | None, Trail]:
    place = assembly.places[name]
    part = place.part
    if part is None or not place.filled:
        return None, ()
    count, trail = 0, [fit_leaf(place)]
    for index, need in enumerate(part.needs):
        if need.resource in AUXILIARY_CONNECTORS:
            count += need.count
            trail.append(leaf(place, part, ("needs", index, "count"), need.count))
    return count, tuple(trail)


@fact.seen(
    "expansion.{card}.feeds",
    say("Auxiliary power connectors by kind"),
    short=say("By kind"),
    formula=say("as the card declares its needs"),
    over=CARDS,
    holds=tuple[Words, ...],
)
def feeds(assembly: Assembly, name: str) -> tuple[tuple[Words, ...] | None, Trail]:
    place = assembly.places[name]
    part = place.part
    if part is None or not place.filled:
        return None, ()
    found: list[Words] = []
    trail = [fit_leaf(place)]
    for index, need in enumerate(part.needs):
        if need.resource is not None and need.resource in AUXILIARY_CONNECTORS:
            what = feed_name(assembly.definitions, need.resource)
            found.append(say("{count} × {what}", count=need.count, what=what))
            trail.append(leaf(place, part, ("needs", index, "resource"), need.resource))
    return tuple(found), tuple(trail)


def feed_name(definitions: Definitions, resource: str) -> Words:
    """A resource as the project calls it, else a connector as the standard does."""
    term = definitions.term(resource)
    return (
        AUXILIARY_CONNECTORS[resource].name
        if term == resource and resource in AUXILIARY_CONNECTORS
        else term
    )


def _entry(assembly: Assembly, entry: tuple[str, int, Span], verb: Message) -> Declared:
    who, amount, span = entry
    place: Place | None = assembly.places.get(who)
    name: Words = who
    if place is not None and place.part is not None:
        name = say("{part} in {place}", part=place.part.name, place=who)
    return Declared(say("{who} {verb}", who=name, verb=verb), amount, lambda: span, subject=who)


def _pool(assembly: Assembly, name: str) -> tuple[Pool, Trail]:
    pool = assembly.pools[name]
    trail = tuple(_entry(assembly, entry, say("offers")) for entry in pool.offered)
    return pool, (*trail, *(_entry(assembly, entry, say("takes")) for entry in pool.taken))


@fact(
    "resources.{resource}.offered",
    say("Offered"),
    formula=say("sum over platform and parts"),
    over=RESOURCES,
    pool=Inspected(_pool),
)
def offered(pool: Pool) -> int:
    return sum(amount for _, amount, _ in pool.offered)


@fact(
    "resources.{resource}.taken",
    say("Taken"),
    formula=say("sum over parts that need it"),
    over=RESOURCES,
    pool=Inspected(_pool),
)
def taken(pool: Pool) -> int:
    return sum(amount for _, amount, _ in pool.taken)
