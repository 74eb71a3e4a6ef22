"""Bays and the drives in them, counted; drives on cards and in M.2 slots apart."""

from functools import partial

from specgen.assembly import Assembly, Place, swap_of
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Inspected, fields_of, fit_leaf, leaf, position_leaf
from specgen.facts.registry import Calculators
from specgen.facts.slots_and_bays import in_bay
from specgen.facts.terms import STATE
from specgen.messages import say
from specgen.model import Drive
from specgen.quantity import DataSize

fact = Calculators()


def _bays(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    """Bays for drives, M.2 slots and places on a card left out."""
    places = tuple(place for place in assembly.taking(Drive.kind) if in_bay(assembly, place))
    trail: tuple[Declared, ...] = tuple(position_leaf(p, STATE[p.state]) for p in places)
    return places, trail


fact.count(
    "storage.bays",
    say("Drive bays"),
    Inspected(_bays),
    formula=say("bays that this choice of parts brings; M.2 slots and places on cards are none"),
)


@fact(
    "storage.bays_usable",
    say("Usable drive bays"),
    formula=say("bays whose link reaches a root port"),
    places=Inspected(_bays),
)
def bays_usable(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) in ("filled", "empty", "unknown") for place in places)


def _bay_drives(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    places = tuple(p for p, _ in assembly.fitted(Drive) if in_bay(assembly, p))
    return places, tuple(fit_leaf(place) for place in places)


def _other_drives(assembly: Assembly, _: str) -> tuple[tuple[DataSize, ...], Rests]:
    """Drives on cards, boot modules among them, and in M.2 slots."""
    return fields_of(
        (each for each in assembly.fitted(Drive) if not in_bay(assembly, each[0])), "capacity"
    )


fact.count(
    "storage.bays_filled",
    say("Bays with a drive"),
    Inspected(_bay_drives),
    formula=say("bays in which a drive is fitted"),
)
fact.count(
    "storage.drives",
    say("Drives"),
    Inspected(_bay_drives),
    formula=say("drives in bays; those on cards and in M.2 slots are counted apart"),
)
fact.count(
    "storage.boot_drives",
    say("Drives on cards and in M.2 slots"),
    Inspected(_other_drives),
    formula=say("drives that are in no bay: on boot modules and other cards, in M.2 slots"),
)
fact.total(
    "storage.boot_raw",
    say("Raw capacity on cards and in M.2 slots"),
    Inspected(_other_drives),
    DataSize,
    "TB",
    formula=say("sum over the drives that are in no bay"),
)


@fact.seen(
    "storage.hot_swap",
    say("Hot-swap drives"),
    formula=say("drives that are hot-swap, in bays and on ports that are"),
)
def hot_swap(assembly: Assembly, _: str) -> tuple[int, Trail]:
    """Drives that can be replaced while the system runs, with the lines that say so."""
    hot, trail = 0, []
    for place, drive in assembly.fitted(Drive):
        hot += swap_of(assembly, place) == "hot"
        trail.append(leaf(place, drive, ("swap",), drive.swap))
        at = partial(place.origin.place, *place.path, "swap")
        trail.append(
            Declared(say("hot-swap type of the bay"), place.position.swap, at, subject=place.name)
        )
    return hot, tuple(trail)
