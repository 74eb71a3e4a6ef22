"""Bays and the drives in them, counted."""

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Fitted, Seen, fit_leaf, position_leaf
from specgen.facts.registry import Calculator, figure
from specgen.model import Card, Drive


def on_card(assembly: Assembly, place: Place) -> bool:
    """Whether a position came with a card rather than with a backplane or the board."""
    host = assembly.places.get(place.host or "")
    return host is not None and isinstance(host.part, Card)


def _bay_drives(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    places = tuple(p for p, _ in assembly.fitted(Drive) if not on_card(assembly, p))
    return places, tuple(fit_leaf(place) for place in places)


def _bays(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    """Positions for drives, those on a card (a boot module's sticks) left out."""
    places = tuple(place for place in assembly.taking("drive") if not on_card(assembly, place))
    trail: tuple[Declared, ...] = tuple(position_leaf(p, str(p.state)) for p in places)
    return places, trail


@figure(
    "storage.bays",
    "Drive bays",
    formula="positions for drives that this choice of parts brings",
    places=Seen(_bays),
)
def bays(places: tuple[Place, ...]) -> int:
    return len(places)


@figure(
    "storage.bays_usable",
    "Usable drive bays",
    formula="bays whose link reaches an owner",
    places=Seen(_bays),
)
def bays_usable(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) in ("filled", "empty", "unknown") for place in places)


@figure(
    "storage.bays_filled",
    "Bays with a drive",
    formula="drives in bays, those on cards left out",
    places=Seen(_bay_drives),
)
def bays_filled(places: tuple[Place, ...]) -> int:
    return len(places)


@figure("storage.drives", "Drives", formula="number of drives fitted", places=Fitted(Drive))
def drives(places: tuple[Place, ...]) -> int:
    return len(places)


@figure(
    "storage.hot_swap",
    "Hot-swap drives",
    formula="drives of hot-swap class in hot-swap bays",
    places=Fitted(Drive),
)
def hot_swap(places: tuple[Place, ...]) -> int:
    return sum(
        place.position.swap == "hot" and isinstance(place.part, Drive) and place.part.swap == "hot"
        for place in places
    )


CALCULATORS: tuple[Calculator, ...] = (bays, bays_usable, bays_filled, drives, hot_swap)
