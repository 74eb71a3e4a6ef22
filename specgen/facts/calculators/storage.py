"""Capacity: raw and usable, of each volume and in all; failures survived; spares."""

from dataclasses import dataclass

from specgen.assembly import Assembly
from specgen.facts.calculators.members import OfMembers, Setting, drives_of, setting_leaf
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Along, FactOf, Seen, each, leaf
from specgen.facts.registry import Calculator, figure
from specgen.model import Drive, Stores
from specgen.quantity import DataSize

RAID_SOURCE = "SNIA Common RAID Disk Data Format; members count with the smallest one's capacity"
BINARY_SOURCE = "IEC 80000-13: 1 TiB is 1024^4 bytes, 1 TB is 1000^4"


@dataclass(frozen=True, slots=True)
class Level:
    """A RAID level: fewest members of one group, and what it keeps twice or as parity.

    `penalty` is the number of operations on members that one small write of the host becomes,
    `rereads` how many of those read old data and parity; 0: one write to each copy.
    Source: DMTF Volume RAIDType definitions, after SNIA DDF; reference checks in tests.
    """

    name: str
    least: int
    grouped: bool
    mirrored: bool
    parity: int
    penalty: int
    rereads: int


# One drive alone as RAID 0 is offered by some controllers; the standard asks for two.
LEVELS = {
    0: Level("RAID 0", 1, False, False, 0, 1, 0),
    1: Level("RAID 1", 2, False, True, 0, 0, 0),
    5: Level("RAID 5", 3, False, False, 1, 4, 2),
    6: Level("RAID 6", 4, False, False, 2, 6, 3),
    10: Level("RAID 10", 4, False, True, 0, 2, 0),
    50: Level("RAID 50", 3, True, False, 1, 4, 2),
    60: Level("RAID 60", 4, True, False, 2, 6, 3),
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


def sets_of(level: int, members: int, groups: int) -> int:
    """Sets that must each stay whole: pairs of RAID 10, groups of 50 and 60, else one."""
    if level == 10:
        return members // 2
    return groups if LEVELS[level].grouped else 1


def survived(level: int, members: int, groups: int) -> int | None:
    """Failures a volume survives whichever members fail; None where it cannot be formed."""
    if data_members(level, members, groups) is None:
        return None
    if level == 1:
        return members - 1
    return 1 if LEVELS[level].mirrored else LEVELS[level].parity


def survived_at_best(level: int, members: int, groups: int) -> int | None:
    """Failures a volume survives where each set loses no more than it can spare."""
    least = survived(level, members, groups)
    return None if least is None else least * sets_of(level, members, groups)


@figure(
    "storage.raw", "Raw capacity", formula="sum over what stores", sizes=each(Stores, "capacity")
)
def raw(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, DataSize.of(0)).to("TB")


def _binary(size: DataSize) -> DataSize:
    return size.to("TiB")


@figure(
    "storage.raw_binary",
    "Raw capacity in binary units",
    formula="raw capacity / 1024^4 bytes",
    source=BINARY_SOURCE,
    size=FactOf("storage.raw"),
)
def raw_binary(size: DataSize) -> DataSize:
    return _binary(size)


@figure(
    "storage.{volume}.level", "Level", formula="as declared", over=VOLUMES, level=Setting("level")
)
def level(level: int) -> str:
    return LEVELS[level].name if level in LEVELS else f"RAID {level}"


@figure(
    "storage.{volume}.members",
    "Members",
    formula="drives that form it, spares apart",
    over=VOLUMES,
    sizes=OfMembers("capacity"),
)
def members(sizes: tuple[DataSize, ...]) -> int:
    return len(sizes)


@figure(
    "storage.{volume}.spares",
    "Hot spares",
    formula="drives that stand by",
    over=VOLUMES,
    sizes=OfMembers("capacity", "spares"),
)
def spares(sizes: tuple[DataSize, ...]) -> int:
    return len(sizes)


@figure(
    "storage.{volume}.raw",
    "Raw capacity",
    formula="sum over members",
    over=VOLUMES,
    sizes=OfMembers("capacity"),
)
def volume_raw(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, DataSize.of(0)).to("TB")


@figure(
    "storage.{volume}.raw_binary",
    "Raw capacity in binary units",
    formula="raw capacity / 1024^4 bytes",
    source=BINARY_SOURCE,
    over=VOLUMES,
    size=FactOf("storage.{volume}.raw"),
)
def volume_raw_binary(size: DataSize) -> DataSize:
    return _binary(size)


@figure(
    "storage.{volume}.usable",
    "Usable capacity",
    formula="smallest member x members that carry data at this level",
    source=RAID_SOURCE,
    over=VOLUMES,
    sizes=OfMembers("capacity"),
    level=Setting("level"),
    groups=Setting("groups"),
)
def usable(sizes: tuple[DataSize, ...], level: int, groups: int) -> DataSize | None:
    """Bytes a volume offers before any file system; None where it cannot be formed."""
    count = data_members(level, len(sizes), groups)
    return None if count is None else min(sizes) * count


@figure(
    "storage.{volume}.usable_binary",
    "Usable capacity in binary units",
    formula="usable capacity / 1024^4 bytes",
    source=BINARY_SOURCE,
    over=VOLUMES,
    size=FactOf("storage.{volume}.usable"),
)
def usable_binary(size: DataSize) -> DataSize:
    return _binary(size)


@figure(
    "storage.{volume}.unused",
    "Capacity left unused",
    formula="raw capacity - members x smallest member",
    source=RAID_SOURCE,
    over=VOLUMES,
    sizes=OfMembers("capacity"),
)
def unused(sizes: tuple[DataSize, ...]) -> DataSize | None:
    """What larger members hold beyond the smallest one's capacity, which no volume reaches."""
    if not sizes:
        return None
    return (sum(sizes, DataSize.of(0)) - min(sizes) * len(sizes)).to("TB")


@figure(
    "storage.{volume}.survives",
    "Failures survived",
    formula="drives that may fail, whichever they are",
    source=RAID_SOURCE,
    over=VOLUMES,
    members=FactOf("storage.{volume}.members"),
    level=Setting("level"),
    groups=Setting("groups"),
)
def survives(members: int, level: int, groups: int) -> int | None:
    return survived(level, members, groups)


@figure(
    "storage.{volume}.survives_best",
    "Failures survived at best",
    formula="failures a set survives x sets; sets are pairs at RAID 10, groups at 50 and 60",
    source=RAID_SOURCE,
    over=VOLUMES,
    assumes="failures spread over the sets so that none loses more than it can spare",
    members=FactOf("storage.{volume}.members"),
    level=Setting("level"),
    groups=Setting("groups"),
)
def survives_best(members: int, level: int, groups: int) -> int | None:
    return survived_at_best(level, members, groups)


@figure(
    "storage.usable",
    "Usable capacity in volumes",
    formula="sum over volumes",
    sizes=Along("storage.{volume}.usable"),
)
def all_usable(sizes: tuple[DataSize, ...]) -> DataSize | None:
    return sum(sizes, DataSize.of(0)).to("TB") if sizes else None


@figure(
    "storage.usable_binary",
    "Usable capacity in volumes in binary units",
    formula="usable capacity / 1024^4 bytes",
    source=BINARY_SOURCE,
    size=FactOf("storage.usable"),
)
def all_usable_binary(size: DataSize) -> DataSize:
    return _binary(size)


@figure(
    "storage.unused",
    "Capacity left unused in volumes",
    formula="sum over volumes of what larger members hold beyond the smallest",
    source=RAID_SOURCE,
    sizes=Along("storage.{volume}.unused"),
)
def all_unused(sizes: tuple[DataSize, ...]) -> DataSize | None:
    return sum(sizes, DataSize.of(0)).to("TB") if sizes else None


@figure(
    "storage.spares",
    "Hot spares in all",
    formula="sum over volumes",
    counts=Along("storage.{volume}.spares"),
)
def all_spares(counts: tuple[int, ...]) -> int:
    return sum(counts)


def _outside(assembly: Assembly, _: str) -> tuple[tuple[DataSize, ...], Trail]:
    named: set[str] = set()
    trail: list[Declared] = []
    for name in VOLUMES.listed(assembly):
        for field in ("drives", "spares"):
            named |= {place.name for place, _ in drives_of(assembly, name, field)}
            trail.append(setting_leaf(assembly, name, field))
    rest = [(p, drive) for p, drive in assembly.fitted(Drive) if p.name not in named]
    trail += [leaf(place, drive, ("capacity",), drive.capacity) for place, drive in rest]
    return tuple(drive.capacity for _, drive in rest), tuple(trail)


@figure(
    "storage.outside",
    "Capacity outside volumes",
    formula="sum over the drives that are neither member nor spare of a volume",
    sizes=Seen(_outside),
)
def outside(sizes: tuple[DataSize, ...]) -> DataSize:
    return sum(sizes, DataSize.of(0)).to("TB")


CALCULATORS: tuple[Calculator, ...] = (
    raw,
    raw_binary,
    all_usable,
    all_usable_binary,
    all_unused,
    outside,
    all_spares,
    level,
    members,
    spares,
    volume_raw,
    volume_raw_binary,
    usable,
    usable_binary,
    unused,
    survives,
    survives_best,
)
