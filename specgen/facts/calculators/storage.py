"""Capacity: raw and usable, of each volume and in all; failures survived; spares."""

from specgen.assembly import Assembly
from specgen.facts.calculators.members import (
    OfMembers,
    Setting,
    drives_of,
    setting_leaf,
    standing_by,
)
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.fact import Declared, Rests
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Inspected, each, fields_of
from specgen.facts.registry import Calculators
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Stores
from specgen.quantity import DataSize

fact = Calculators()

RAID_SOURCE = "SNIA Common RAID Disk Data Format; members count with the smallest one's capacity"
BINARY_SOURCE = "IEC 80000-13: 1 TiB is 1024^4 bytes, 1 TB is 1000^4"

fact.total(
    "storage.raw",
    say("Raw capacity"),
    each(Stores, "capacity"),
    DataSize,
    "TB",
    formula=say("sum over what stores"),
)
fact.printed(
    "storage.raw_binary",
    say("Raw capacity in binary units"),
    "storage.raw",
    "TiB",
    formula=say("raw capacity / 1024^4 bytes"),
    source=BINARY_SOURCE,
)
fact.total(
    "storage.usable",
    say("Usable capacity in volumes"),
    FactsOfAll("storage.{volume}.usable"),
    DataSize,
    "TB",
    needs_some=True,
    formula=say("sum over volumes"),
)
fact.printed(
    "storage.usable_binary",
    say("Usable capacity in volumes in binary units"),
    "storage.usable",
    "TiB",
    formula=say("usable capacity / 1024^4 bytes"),
    source=BINARY_SOURCE,
)
fact.total(
    "storage.unused",
    say("Capacity left unused in volumes"),
    FactsOfAll("storage.{volume}.unused"),
    DataSize,
    "TB",
    needs_some=True,
    formula=say("sum over volumes of what larger members hold beyond the smallest"),
    source=RAID_SOURCE,
)


def _outside(assembly: Assembly, _: str) -> tuple[tuple[DataSize, ...], Rests]:
    named: set[str] = set()
    trail: list[Declared] = []
    for name in VOLUMES.listed(assembly):
        for field in ("drives", "spares"):
            named |= {place.name for place, _ in drives_of(assembly, name, field)}
            trail.append(setting_leaf(assembly, name, field))
    rest = (each for each in assembly.fitted(Stores) if each[0].name not in named)
    sizes, leaves = fields_of(rest, "capacity")
    return sizes, lambda: (*trail, *leaves())


fact.total(
    "storage.outside",
    say("Unassigned capacity"),
    Inspected(_outside),
    DataSize,
    "TB",
    formula=say("sum over what stores and is neither member nor spare of a volume"),
)


def _all_spares(assembly: Assembly, _: str) -> tuple[tuple[str, ...], Rests]:
    found = {
        place.name: (place, drive)
        for name in VOLUMES.listed(assembly)
        for place, drive in standing_by(assembly, name)
    }
    leaves = fields_of(found.values(), "capacity")[1]
    return tuple(found), lambda: (
        *(
            setting_leaf(assembly, name, field)
            for name in VOLUMES.listed(assembly)
            for field in ("drives", "spares")
        ),
        *leaves(),
    )


fact.count(
    "storage.spares",
    say("Hot spares, total"),
    Inspected(_all_spares),
    formula=say("drives that stand by for a volume; one that several share counts once"),
)


@frozen
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


@fact(
    "storage.{volume}.level",
    say("Level"),
    formula=say("as declared"),
    over=VOLUMES,
    level=Setting("level"),
)
def level(level: int) -> str:
    return LEVELS[level].name if level in LEVELS else f"RAID {level}"


fact.count(
    "storage.{volume}.members",
    say("Members"),
    OfMembers("capacity"),
    formula=say("drives that form it, spares apart"),
    over=VOLUMES,
)


def _standing_by(assembly: Assembly, name: str) -> tuple[tuple[DataSize, ...], Rests]:
    sizes, leaves = fields_of(standing_by(assembly, name), "capacity")
    return sizes, lambda: (setting_leaf(assembly, name, "spares"), *leaves())


fact.count(
    "storage.{volume}.spares",
    say("Hot spares"),
    Inspected(_standing_by),
    formula=say("drives that stand by and could take a member's place"),
    over=VOLUMES,
)
fact.total(
    "storage.{volume}.raw",
    say("Raw capacity"),
    OfMembers("capacity"),
    DataSize,
    "TB",
    short=say("Raw"),
    formula=say("sum over members"),
    over=VOLUMES,
)
fact.printed(
    "storage.{volume}.raw_binary",
    say("Raw capacity in binary units"),
    "storage.{volume}.raw",
    "TiB",
    formula=say("raw capacity / 1024^4 bytes"),
    source=BINARY_SOURCE,
    over=VOLUMES,
)


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


@fact(
    "storage.{volume}.usable",
    say("Usable capacity"),
    short=say("Usable"),
    formula=say("smallest member x members that carry data at this level"),
    source=RAID_SOURCE,
    over=VOLUMES,
    sizes=OfMembers("capacity"),
    level=Setting("level"),
    groups=Setting("groups"),
)
def usable(sizes: tuple[DataSize, ...], level: int, groups: int) -> DataSize | None:
    """Bytes a volume offers before any file system; None where it cannot be formed."""
    count = data_members(level, len(sizes), groups)
    return None if count is None else (min(sizes) * count).to("TB")


fact.printed(
    "storage.{volume}.usable_binary",
    say("Usable capacity in binary units"),
    "storage.{volume}.usable",
    "TiB",
    short=say("Usable, binary"),
    formula=say("usable capacity / 1024^4 bytes"),
    source=BINARY_SOURCE,
    over=VOLUMES,
)


@fact(
    "storage.{volume}.unused",
    say("Capacity left unused"),
    short=say("Left unused"),
    formula=say("raw capacity - members x smallest member"),
    source=RAID_SOURCE,
    over=VOLUMES,
    sizes=OfMembers("capacity"),
)
def unused(sizes: tuple[DataSize, ...]) -> DataSize | None:
    """What larger members hold beyond the smallest one's capacity, which no volume reaches."""
    if not sizes:
        return None
    return (sum(sizes, DataSize.of(0)) - min(sizes) * len(sizes)).to("TB")


@fact(
    "storage.{volume}.tolerates",
    say("Drive failures tolerated, any"),
    formula=say("drives that may fail, whichever they are"),
    source=RAID_SOURCE,
    over=VOLUMES,
    members="storage.{volume}.members",
    level=Setting("level"),
    groups=Setting("groups"),
)
def survived(level: int, members: int, groups: int) -> int | None:
    """Failures a volume survives whichever members fail; None where it cannot be formed."""
    if data_members(level, members, groups) is None:
        return None
    if level == 1:
        return members - 1
    return 1 if LEVELS[level].mirrored else LEVELS[level].parity


def sets_of(level: int, members: int, groups: int) -> int:
    """Sets that must each stay whole: pairs of RAID 10, groups of 50 and 60, else one."""
    if level == 10:
        return members // 2
    return groups if LEVELS[level].grouped else 1


@fact(
    "storage.{volume}.tolerates_best",
    say("Drive failures tolerated, best case"),
    short=say("Best case"),
    formula=say(
        "failures that a set tolerates x sets; sets are pairs at RAID 10, groups at 50 and 60"
    ),
    source=RAID_SOURCE,
    over=VOLUMES,
    assumes=say("failures spread over the sets so that none loses more than it can spare"),
    members="storage.{volume}.members",
    level=Setting("level"),
    groups=Setting("groups"),
)
def survived_at_best(level: int, members: int, groups: int) -> int | None:
    """Failures a volume survives where each set loses no more than it can spare."""
    least = survived(level, members, groups)
    return None if least is None else least * sets_of(level, members, groups)
