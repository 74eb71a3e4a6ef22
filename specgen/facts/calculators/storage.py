"""Storage: bays, drives, capacity raw and usable, failures survived."""

from dataclasses import dataclass

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.fact import Declared
from specgen.facts.inputs import (
    Along,
    FactOf,
    Fitted,
    Seen,
    Trail,
    each,
    fit_leaf,
    leaf,
    position_leaf,
)
from specgen.facts.registry import Calculator, figure
from specgen.model import Card, Drive, Volume, expand
from specgen.quantity import DataSize

RAID_SOURCE = "SNIA Common RAID Disk Data Format; members count with the smallest one's capacity"


@dataclass(frozen=True, slots=True)
class Level:
    """A RAID level for n members: how many carry data, how many may fail whichever they are.

    `data` and `survives` are functions of members and groups; `least` the fewest members of one
    group. Source: DMTF Volume RAIDType definitions, after SNIA DDF; reference checks in tests.
    """

    name: str
    least: int
    grouped: bool
    mirrored: bool
    parity: int


LEVELS = {
    0: Level("RAID 0", 1, False, False, 0),
    1: Level("RAID 1", 2, False, True, 0),
    5: Level("RAID 5", 3, False, False, 1),
    6: Level("RAID 6", 4, False, False, 2),
    10: Level("RAID 10", 4, False, True, 0),
    50: Level("RAID 50", 3, True, False, 1),
    60: Level("RAID 60", 4, True, False, 2),
}


def data_members(level: int, members: int, groups: int) -> int | None:
    """How many members' capacity a volume offers; None where the level cannot be formed so."""
    kind = LEVELS.get(level)
    if kind is None or members < kind.least:
        return None
    if level == 1:
        return 1
    if kind.mirrored:
        return members // 2 if members % 2 == 0 else None
    if kind.grouped:
        if groups < 2 or members % groups or members // groups < kind.least:
            return None
        return members - groups * kind.parity
    return members - kind.parity


def survived(level: int, members: int, groups: int) -> int | None:
    """Failures a volume survives whichever members fail; None where it cannot be formed."""
    if data_members(level, members, groups) is None:
        return None
    if level == 1:
        return members - 1
    return 1 if LEVELS[level].mirrored else LEVELS[level].parity


def volume_named(assembly: Assembly, name: str) -> tuple[int, Volume]:
    """A volume of the build and where in its list it stands."""
    assert assembly.build is not None
    return next(
        (index, volume)
        for index, volume in enumerate(assembly.build.volumes)
        if volume.name == name
    )


def _setting(field: str) -> Seen:
    def look(assembly: Assembly, name: str) -> tuple[int, Trail]:
        index, volume = volume_named(assembly, name)
        build = assembly.build
        assert build is not None
        value = getattr(volume, field)
        at = Declared(f"{name}: {field}", value, lambda: build.origin.at("volumes", index, field))
        return value, (at,)

    return Seen(look)


def _drives(field: str) -> Seen:
    def look(assembly: Assembly, name: str) -> tuple[tuple[DataSize, ...], Trail]:
        _, volume = volume_named(assembly, name)
        sizes, trail = [], []
        for text in getattr(volume, field):
            for member in expand(text):
                place = assembly.places.get(member)
                if place is not None and place.filled and isinstance(place.part, Drive):
                    sizes.append(place.part.capacity)
                    trail.append(leaf(place, place.part, ("capacity",), place.part.capacity))
        return tuple(sizes), tuple(trail)

    return Seen(look)


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
    return places, tuple(position_leaf(place, str(place.state)) for place in places)


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


@figure("storage.drives", "Drives", formula="number of drives fitted", places=Fitted(Drive))
def drives(places: tuple[Place, ...]) -> int:
    return len(places)


@figure(
    "storage.bays_filled",
    "Bays with a drive",
    formula="drives in bays, those on cards left out",
    places=Seen(_bay_drives),
)
def bays_filled(places: tuple[Place, ...]) -> int:
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


@figure("storage.raw", "Raw capacity", formula="sum over drives", sizes=each(Drive, "capacity"))
def raw(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, DataSize.of(0)).to("TB")


@figure(
    "storage.{volume}.level", "Level", formula="as declared", over=VOLUMES, level=_setting("level")
)
def level(level: int) -> str:
    return LEVELS[level].name if level in LEVELS else f"RAID {level}"


@figure(
    "storage.{volume}.members",
    "Members",
    formula="drives that form it, spares apart",
    over=VOLUMES,
    sizes=_drives("drives"),
)
def members(sizes: tuple[DataSize, ...]) -> int:
    return len(sizes)


@figure(
    "storage.{volume}.spares",
    "Hot spares",
    formula="drives that stand by",
    over=VOLUMES,
    sizes=_drives("spares"),
)
def spares(sizes: tuple[DataSize, ...]) -> int:
    return len(sizes)


@figure(
    "storage.{volume}.raw",
    "Raw capacity",
    formula="sum over members",
    over=VOLUMES,
    sizes=_drives("drives"),
)
def volume_raw(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, DataSize.of(0)).to("TB")


@figure(
    "storage.{volume}.usable",
    "Usable capacity",
    formula="smallest member x members that carry data at this level",
    source=RAID_SOURCE,
    over=VOLUMES,
    sizes=_drives("drives"),
    level=_setting("level"),
    groups=_setting("groups"),
)
def usable(sizes: tuple[DataSize, ...], level: int, groups: int) -> DataSize | None:
    """Bytes a volume offers before any file system; None where it cannot be formed."""
    count = data_members(level, len(sizes), groups)
    return None if count is None else min(sizes) * count


@figure(
    "storage.{volume}.survives",
    "Failures survived",
    formula="drives that may fail, whichever they are",
    source=RAID_SOURCE,
    over=VOLUMES,
    members=FactOf("storage.{volume}.members"),
    level=_setting("level"),
    groups=_setting("groups"),
)
def survives(members: int, level: int, groups: int) -> int | None:
    return survived(level, members, groups)


@figure(
    "storage.usable",
    "Usable capacity in volumes",
    formula="sum over volumes",
    sizes=Along("storage.{volume}.usable"),
)
def all_usable(sizes: tuple[DataSize, ...]) -> DataSize | None:
    return sum(sizes, DataSize.of(0)).to("TB") if sizes else None


CALCULATORS: tuple[Calculator, ...] = (
    bays,
    bays_usable,
    bays_filled,
    drives,
    hot_swap,
    raw,
    all_usable,
    level,
    members,
    spares,
    volume_raw,
    usable,
    survives,
)
