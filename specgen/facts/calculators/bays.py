"""Bays and the drives in them, counted."""

from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Fitted, Inspected, fit_leaf, leaf, position_leaf
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Card, Drive

fact = Calculators()


def on_card(assembly: Assembly, place: Place) -> bool:
    """Whether a position came with a card rather than with a backplane or the board."""
    host = assembly.places.get(place.host or "")
    return host is not None and isinstance(host.part, Card)


def _bays(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    """Positions for drives, those on a card (a boot module's sticks) left out."""
    places = tuple(place for place in assembly.taking("drive") if not on_card(assembly, place))
    trail: tuple[Declared, ...] = tuple(position_leaf(p, str(p.state)) for p in places)
    return places, trail


fact.count(
    "storage.bays",
    say("Drive bays"),
    Inspected(_bays),
    formula=say("positions for drives that this choice of parts brings"),
)


@fact(
    "storage.bays_usable",
    say("Usable drive bays"),
    formula=say("bays whose link reaches an owner"),
    places=Inspected(_bays),
)
def bays_usable(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) in ("filled", "empty", "unknown") for place in places)


def _bay_drives(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    places = tuple(p for p, _ in assembly.fitted(Drive) if not on_card(assembly, p))
    return places, tuple(fit_leaf(place) for place in places)


fact.count(
    "storage.bays_filled",
    say("Bays with a drive"),
    Inspected(_bay_drives),
    formula=say("drives in bays, those on cards left out"),
)
fact.count("storage.drives", say("Drives"), Fitted(Drive), formula=say("number of drives fitted"))


@fact.seen(
    "storage.hot_swap",
    say("Hot-swap drives"),
    formula=say("drives of hot-swap class in hot-swap bays"),
)
def hot_swap(assembly: Assembly, _: str) -> tuple[int, Trail]:
    """Drives of hot-swap class in hot-swap bays, with the lines of both classes."""
    hot, trail = 0, []
    for place, drive in assembly.fitted(Drive):
        hot += place.position.swap == "hot" and drive.swap == "hot"
        trail.append(leaf(place, drive, ("swap",), drive.swap))
        at = partial(place.origin.place, *place.path, "swap")
        trail.append(Declared("bay: swap", place.position.swap, at, subject=place.name))
    return hot, tuple(trail)
