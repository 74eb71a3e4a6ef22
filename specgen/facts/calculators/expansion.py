"""Slots: what each is mechanically and electrically, who owns it, what is left."""

from functools import partial

from specgen.assembly import Assembly, Link, Place
from specgen.facts.calculators.links import LANE_SOURCE, full_trail, lane_rate, link_trail
from specgen.facts.calculators.subjects import SLOTS
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Inspected, of_thing, position_leaf, position_leaves
from specgen.facts.registry import Calculators
from specgen.facts.slots_and_bays import is_slot
from specgen.facts.terms import HEIGHT, LENGTH, STATE
from specgen.messages import Words, listed, say
from specgen.model import Position
from specgen.model.labels import field_words, label_of_field
from specgen.quantity import DataRate

fact = Calculators()


def _slots(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Rests]:
    """Slots for cards with a bracket; the own places of controllers and mezzanines are none."""
    named = (assembly.places[name] for name in SLOTS.listed(assembly))
    places = tuple(place for place in named if is_slot(assembly.definitions, place))
    return places, partial(position_leaves, places)


fact.count(
    "expansion.slots",
    say("Card slots"),
    Inspected(_slots),
    formula=say(
        "slots for cards that this choice of parts brings; the own places of controllers, boot "
        "modules and mezzanines are none"
    ),
)


@fact(
    "expansion.slots_used",
    say("Slots in use"),
    formula=say("slots with a card"),
    places=Inspected(_slots),
)
def slots_used(places: tuple[Place, ...]) -> int:
    return sum(place.filled for place in places)


@fact(
    "expansion.slots_free",
    say("Free slots"),
    formula=say("slots that are empty and usable"),
    places=Inspected(_slots),
)
def slots_free(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) == "empty" for place in places)


@fact(
    "expansion.slots_unusable",
    say("Unusable slots"),
    formula=say("slots that are unusable or blocked"),
    places=Inspected(_slots),
)
def slots_unusable(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) in ("unusable", "blocked") for place in places)


def _place(assembly: Assembly, name: str) -> tuple[Place, Trail]:
    place = assembly.places[name]
    return place, (position_leaf(place),)


@fact(
    "expansion.{slot}.fitted",
    say("Fitted"),
    formula=say("what sits in it, or its state"),
    over=SLOTS,
    place=Inspected(_place),
)
def fitted(place: Place) -> Words:
    if place.part is not None and place.filled:
        return place.part.name
    if place.reason:
        return say("{state}: {reason}", state=STATE[place.state], reason=place.reason)
    return STATE[place.state]


@fact.seen(
    "expansion.{slot}.takes",
    say("Size of the card it takes"),
    short=label_of_field(Position, "takes"),
    formula=say("as declared: height and length, else the forms of its cards"),
    over=SLOTS,
)
def takes(assembly: Assembly, name: str) -> tuple[Words | None, Trail]:
    place, trail = _place(assembly, name)
    position = place.position
    shape: list[Words] = [HEIGHT[position.height]] if position.height else []
    shape += [LENGTH[position.length]] if position.length else []
    shape = shape or [assembly.definitions.term(form) for form in position.form]
    return listed(shape) if shape else None, trail


def _connector(assembly: Assembly, name: str) -> tuple[int | None, Trail]:
    place, trail = _place(assembly, name)
    lanes = place.position.connector
    if lanes is not None or not is_slot(assembly.definitions, place):
        return lanes, trail  # the place of a mezzanine has the width of its form
    label = of_thing(name, field_words(Position, ("connector",)))
    at = partial(place.origin.place, *place.path, "connector")
    return None, (Declared(label, None, at, subject=name),)


@fact(
    "expansion.{slot}.mechanical",
    say("Mechanical width"),
    short=say("Mechanical"),
    formula=say("as declared"),
    over=SLOTS,
    lanes=Inspected(_connector),
)
def mechanical(lanes: int) -> str:
    return f"x{lanes}"


def _link(assembly: Assembly, name: str) -> tuple[Link | None, Rests]:
    """The link as the slot offers it, whatever sits in it."""
    link = assembly.links.get(name)
    return (None, ()) if link is None else (link, partial(link_trail, link))


@fact(
    "expansion.{slot}.electrical",
    say("Electrical width"),
    short=say("Electrical"),
    formula=say("min. number of lanes along the link"),
    over=SLOTS,
    link=Inspected(_link),
)
def electrical(link: Link) -> str:
    return f"x{link.wired}"


def slot_generation(link: Link) -> int | None:
    """The least PCIe generation of a slot's owner and of its way to it; None: none is known."""
    limits = [stage.limits["pcie"] for stage in link.stages if "pcie" in stage.limits]
    if link.owner is not None and "pcie" in link.owner.port.carries:
        limits.append(link.owner.port.carries["pcie"])
    return min(limits, default=None)


@fact(
    "expansion.{slot}.generation",
    say("PCIe generation"),
    formula=say("min. along the link, the wiring and the root port"),
    over=SLOTS,
    link=Inspected(_link),
)
def generation(link: Link) -> int | None:
    """Generation the slot offers; the fitted card's own limit is not part of it."""
    return slot_generation(link)


@fact(
    "expansion.{slot}.owner",
    say("Root port"),
    formula=say("where the lanes come from"),
    over=SLOTS,
    link=Inspected(_link),
)
def owner(link: Link) -> Words | None:
    """A switch's port is no root port: the one behind it is, and both are told."""
    if link.owner is None or link.root is None or link.root == link.owner:
        return None if link.owner is None else link.owner.name
    return say("{port}, through {switch}", port=link.root.name, switch=link.owner.name)


@fact(
    "expansion.{slot}.bandwidth",
    say("Bandwidth one way"),
    noun="one-way bandwidth",
    formula=say("rate of a lane x lanes, by the slot's generation and electrical width"),
    source=LANE_SOURCE,
    over=SLOTS,
    link=Inspected(_link),
    generation="expansion.{slot}.generation",
)
def bandwidth(link: Link, generation: int) -> DataRate | None:
    return lane_rate("pcie", generation, link.wired)


def _link_with_card(assembly: Assembly, name: str) -> tuple[Link | None, Rests]:
    link, place = assembly.links.get(name), assembly.places[name]
    return (None, ()) if link is None else (link, partial(full_trail, link, place))


@fact(
    "expansion.{slot}.running",
    say("Link in use"),
    short=say("Speed as configured"),
    formula=say("min. of the slot and the card, width and generation"),
    over=SLOTS,
    place=Inspected(_place),
    link=Inspected(_link_with_card),
)
def running(place: Place, link: Link) -> str | None:
    if not place.filled:
        return None
    return f"x{link.lanes} Gen {link.generation}"
