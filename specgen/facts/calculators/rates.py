"""Ceilings of volumes for small operations at random, and the stage that sets them."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Final, Literal

from specgen.assembly import Assembly
from specgen.facts.calculators.members import OfMembers, Setting, drives_of
from specgen.facts.calculators.sequential import DRIVES, LEAST_STAGE, PathSegment, segments_of
from specgen.facts.calculators.storage import LEVELS, data_members
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.fact import Rests, Trail
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Assumption, Inspected, fields_of, leaf
from specgen.facts.registry import Calculators
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.messages import Message, Words, say
from specgen.model import Drive
from specgen.model.labels import label_of_field
from specgen.quantity import DataSize, Ratio

fact = Calculators()

LOAD_SOURCE = (
    "Information Storage and Management, 2nd edition, 3.5: load of the members = reads + "
    "penalty x writes"
)
QUIET = say(
    "all members whole, an even load without gaps, no cache; a controller that declares no limit "
    "holds nothing back"
)
BLOCK = DataSize.of(4, "KiB")
BLOCK_SOURCE = "common practice, no source: random rates of drives are declared for blocks of 4 KiB"

fact.stated("storage.read_share", say("Share of reads in a mixed load"), Assumption("read_share"))


@fact(
    "storage.{volume}.write_penalty",
    say("Write penalty"),
    formula=say(
        "operations on members for one small write: 1 at RAID 0, 2 for a pair, one a copy "
        "for more, 4 with one parity, 6 with two"
    ),
    source=LOAD_SOURCE,
    over=VOLUMES,
    members="storage.{volume}.members",
    level=Setting("level"),
    groups=Setting("groups"),
)
def penalty_of(level: int, members: int, groups: int) -> int | None:
    """Operations on members that one small write becomes; None where a level cannot be formed."""
    if data_members(level, members, groups) is None:
        return None
    return LEVELS[level].penalty or members


fact.least(
    "storage.{volume}.member_reads",
    say("Random read IOPS of the slowest member"),
    OfMembers("random_reads"),
    formula=say("min. over members"),
    over=VOLUMES,
)
fact.least(
    "storage.{volume}.member_writes",
    say("Random write IOPS of the slowest member"),
    OfMembers("random_writes"),
    formula=say("min. over members"),
    over=VOLUMES,
)


def host_operations(
    share: Decimal,
    penalty: int,
    rereads: int,
    reads: Decimal | int,
    writes: Decimal | int,
) -> Decimal:
    """Operations a second of the host that members doing `reads` or `writes` in all can carry.

    `share` is that of reads, 0 to 1. Each write of the host becomes `rereads` reads and the rest
    of `penalty` writes. Where members read as fast as they write this is the textbook's
    raw / (r + p x w); where they do not, each kind takes its own time.
    """
    rest = 1 - share
    return 1 / ((share + rest * rereads) / reads + rest * (penalty - rereads) / writes)


@frozen
class Busy:
    """Blocks that one operation of the host moves: from members, to members, the host's own way."""

    read: Decimal
    written: Decimal
    host: Decimal


def busy(share: Decimal, penalty: int, rereads: int) -> Busy:
    """What an operation of a load with so many reads moves in each direction."""
    rest = 1 - share
    return Busy(share + rest * rereads, rest * (penalty - rereads), max(share, rest))


@frozen
class RandomCeiling:
    """What a volume can do at random at most, and the stage that sets it."""

    rate: Decimal
    stage: Message


def at_random(
    by_drives: Decimal,
    moves: Busy,
    segments: tuple[PathSegment, ...],
    members: int,
    block: DataSize,
    own: tuple[int, ...],
) -> RandomCeiling:
    """The least of drives, of each stretch on the way, and of what the controller itself can.

    Before the controller a stretch carries what its members read and write, copies and parity too,
    each direction by itself; Serial ATA carries both in turn. Behind it, the host's bytes alone.
    """
    best = RandomCeiling(by_drives, DRIVES)
    for segment in segments:
        if segment.host:
            blocks = moves.host
        else:
            both = max(moves.read, moves.written) if segment.duplex else moves.read + moves.written
            blocks = both * segment.crossing / members
        rate = segment.rate.in_unit("B/s") / block.in_unit("B") / blocks
        if rate < best.rate:
            best = RandomCeiling(rate, segment.name)
    if own and own[0] < best.rate:
        best = RandomCeiling(Decimal(own[0]), say("controller"))
    return best


def _controller(assembly: Assembly, volume: str) -> tuple[tuple[int, ...], Trail]:
    """Random operations a second that the controller of a volume declares for itself."""
    for place, _ in drives_of(assembly, volume, "drives"):
        port = assembly.controller(place.name)
        own = None if port is None else field_of(port.part, "operations")
        if port is not None and own is not None:
            return (own,), (leaf(port.place, port.part, ("operations",), own),)
    return (), ()


def _blocks(assembly: Assembly, volume: str) -> tuple[DataSize, Rests]:
    found = tuple(drives_of(assembly, volume, "drives"))
    sizes, trail = fields_of(found, "random_block")
    silent = [BLOCK] if len(sizes) < len(found) or not sizes else []
    return max((*sizes, *silent)), trail


fact.seen(
    "storage.{volume}.block",
    label_of_field(Drive, "random_block"),
    short=say("Block size"),
    formula=say("as the members declare, max. of several; 4 KiB where one is silent"),
    source=BLOCK_SOURCE,
    over=VOLUMES,
)(_blocks)


NOUNS: Final[Mapping[str, str]] = {
    "reads": "maximum of random reads a second",
    "writes": "maximum of random writes a second",
    "mixed": "maximum of random operations a second at the assumed share of reads",
}


def _random(
    key: str, label: Words, short: Words, formula: Words, shown: Literal["rate", "stage"]
) -> None:
    """A value read off the ceiling of a load: what it comes to, or the stage that sets it."""
    mixed = key.startswith("mixed")

    def take(
        segments: tuple[PathSegment, ...],
        block: DataSize,
        own: tuple[int, ...],
        penalty: int,
        level: int,
        members: int,
        reads: int,
        writes: int | None,
        share: Ratio | None,
    ) -> Decimal | Message | None:
        of_reads = Decimal(1) if key.startswith("reads") else Decimal(0)
        if mixed:
            if share is None or not 0 <= share.fraction <= 1:
                return None
            of_reads = share.fraction
        if writes is None:
            if of_reads != 1:
                return None
            writes = reads  # reads alone ask nothing of writes
        rereads = LEVELS[level].rereads
        by_drives = host_operations(of_reads, penalty, rereads, members * reads, members * writes)
        moves = busy(of_reads, penalty, rereads)
        found = at_random(by_drives, moves, segments, members, block, own)
        return found.rate if shown == "rate" else found.stage

    fact(
        f"storage.{{volume}}.random_{key}",
        label,
        noun=NOUNS.get(key, ""),
        short=short,
        formula=formula,
        source=LOAD_SOURCE,
        over=VOLUMES,
        assumes=QUIET,
        holds=Decimal if shown == "rate" else Message,
        segments=Inspected(segments_of),
        block="storage.{volume}.block",
        own=Inspected(_controller),
        penalty="storage.{volume}.write_penalty",
        level=Setting("level"),
        members="storage.{volume}.members",
        reads="storage.{volume}.member_reads",
        writes=FactOf("storage.{volume}.member_writes", optional=True),
        share=FactOf("storage.read_share", optional=True),
    )(take)


_random(
    "reads",
    say("Random read IOPS, max."),
    say("Read IOPS"),
    say(
        "members x reads of the slowest; capped by what each link on the way and the controller "
        "carry in blocks"
    ),
    "rate",
)
_random("reads_limit", say("Random reads limited by"), say("Set by"), LEAST_STAGE, "stage")
_random(
    "writes",
    say("Random write IOPS, max."),
    say("Write IOPS"),
    say(
        "members / (old data and parity read / reads of the slowest + copies and parity written / "
        "writes of the slowest); capped by what each link on the way and the controller carry in "
        "blocks"
    ),
    "rate",
)
_random("writes_limit", say("Random writes limited by"), say("Set by"), LEAST_STAGE, "stage")
_random(
    "mixed",
    say("Random IOPS at the assumed share of reads, max."),
    say("Mixed IOPS"),
    say(
        "members / (reads for each operation / reads of the slowest + writes for each operation / "
        "writes of the slowest), which is raw / (r + p x w) where both are equal; capped by what "
        "each link on the way and the controller carry in blocks"
    ),
    "rate",
)
_random("mixed_limit", say("Mixed operations limited by"), say("Set by"), LEAST_STAGE, "stage")
