"""Slot power: what a slot gives, what its card needs, auxiliary connectors."""

from specgen.assembly import Assembly, Place, Pool
from specgen.facts.calculators.subjects import CARDS, RESOURCES, SLOTS
from specgen.facts.constants import SLOT_POWER, SLOT_POWER_NARROW
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Inspected, fit_leaf, leaf
from specgen.facts.registry import Calculators
from specgen.fitness.part_fields import AUXILIARY
from specgen.messages import say
from specgen.model import Span
from specgen.quantity import Power

fact = Calculators()

CARD_EDGE = "card"


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
    if power is None:
        return None, ()
    span = place.origin.place(*place.path, "power")
    return power, (Declared(f"{name}: power", power, lambda: span, subject=name),)


def standard_power(lanes: int) -> Power:
    """What a card slot with a connector of so many lanes may give at most, in W.

    Source: PCI Express CEM, later text: 25 W at x1, 75 W from x4 up once configured.
    """
    return Power.of(SLOT_POWER.value if lanes >= 4 else SLOT_POWER_NARROW.value)


def _standard(assembly: Assembly, name: str) -> tuple[tuple[int, ...], Trail]:
    """The connector of a slot for cards; the card standard says nothing of other places."""
    position = assembly.places[name].position
    if position.connector is None or CARD_EDGE not in position.form:
        return (), ()
    place = assembly.places[name]
    span = place.origin.place(*place.path, "connector")
    return (position.connector,), (
        Declared(f"{name}: connector", f"x{position.connector}", lambda: span, subject=name),
    )


@fact(
    "expansion.{slot}.power_by_slot",
    say("Most that the slot itself gives"),
    short=say("Slot alone gives"),
    formula=say("what the card standard allows by the connector's width, and what is declared"),
    source=SLOT_POWER.source,
    over=SLOTS,
    connector=Inspected(_standard),
    offered="expansion.{slot}.power_offered",
)
def power_by_slot(connector: tuple[int, ...], offered: Power) -> Power:
    return min((*map(standard_power, connector), offered))


@fact.seen(
    "expansion.{card}.power_needed",
    say("Card's greatest power"),
    short=say("Card draws at most"),
    formula=say("as declared"),
    over=CARDS,
)
def power_needed(assembly: Assembly, name: str) -> tuple[Power | None, Trail]:
    place = assembly.places[name]
    part = place.part
    if part is None or not place.filled or part.power is None:
        return None, ()
    path = ("power", "maximum")
    return part.power.maximum, (leaf(place, part, path, part.power.maximum),)


@fact(
    "expansion.{card}.power_by_cable",
    say("Power by auxiliary cable"),
    short=say("By auxiliary cable"),
    formula=say("what the card needs less what the slot itself gives, at least nothing"),
    source=SLOT_POWER.source,
    over=CARDS,
    needed="expansion.{card}.power_needed",
    by_slot="expansion.{slot}.power_by_slot",
)
def power_by_cable(needed: Power, by_slot: Power) -> Power:
    return max(needed - by_slot, Power.zero())


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
        if need.resource is not None and need.resource.startswith(AUXILIARY):
            count += need.count
            trail.append(leaf(place, part, ("needs", index, "count"), need.count))
    return count, tuple(trail)


def _entry(assembly: Assembly, entry: tuple[str, int, Span], verb: str) -> Declared:
    who, amount, span = entry
    place: Place | None = assembly.places.get(who)
    name = f"{place.part.name} in {who}" if place is not None and place.part is not None else who
    return Declared(f"{name} {verb}", amount, lambda: span, subject=who)


def _pool(assembly: Assembly, name: str) -> tuple[Pool, Trail]:
    pool = assembly.pools[name]
    trail = tuple(_entry(assembly, entry, "offers") for entry in pool.offered)
    return pool, (*trail, *(_entry(assembly, entry, "takes") for entry in pool.taken))


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
