"""Ceilings of volumes for small operations at random."""

from decimal import Decimal

from specgen.facts.calculators.members import OfMembers, Setting
from specgen.facts.calculators.storage import LEVELS, data_members
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.inputs import Assumption
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.quantity import Ratio

fact = Calculators()

LOAD_SOURCE = (
    "Information Storage and Management, 2nd edition, 3.5: load of the members = reads + "
    "penalty x writes"
)
QUIET = say(
    "all members whole, an even load without gaps, no cache; neither the controller nor a link "
    "holds small operations back"
)

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
    say("Random reads a second of the slowest member"),
    OfMembers("random_reads"),
    formula=say("least over members"),
    over=VOLUMES,
)
fact.least(
    "storage.{volume}.member_writes",
    say("Random writes a second of the slowest member"),
    OfMembers("random_writes"),
    formula=say("least over members"),
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


@fact(
    "storage.{volume}.random_reads",
    say("Random reads a second, at most"),
    short=say("Reads a second"),
    formula=say("members x reads of the slowest"),
    source=LOAD_SOURCE,
    over=VOLUMES,
    assumes=QUIET,
    penalty="storage.{volume}.write_penalty",
    members="storage.{volume}.members",
    reads="storage.{volume}.member_reads",
)
def random_reads(penalty: int, members: int, reads: int) -> Decimal:
    whole = Decimal(members * reads)
    return host_operations(Decimal(1), penalty, 0, whole, whole)


def _at_random(
    share: Decimal, penalty: int, level: int, members: int, reads: int, writes: int
) -> Decimal:
    return host_operations(share, penalty, LEVELS[level].rereads, members * reads, members * writes)


@fact(
    "storage.{volume}.random_writes",
    say("Random writes a second, at most"),
    short=say("Writes a second"),
    formula=say(
        "members / (old data and parity read / reads of the slowest + copies and parity "
        "written / writes of the slowest)"
    ),
    source=LOAD_SOURCE,
    over=VOLUMES,
    assumes=QUIET,
    penalty="storage.{volume}.write_penalty",
    level=Setting("level"),
    members="storage.{volume}.members",
    reads="storage.{volume}.member_reads",
    writes="storage.{volume}.member_writes",
)
def random_writes(penalty: int, level: int, members: int, reads: int, writes: int) -> Decimal:
    return _at_random(Decimal(0), penalty, level, members, reads, writes)


@fact(
    "storage.{volume}.random_mixed",
    say("Random operations a second at the assumed share of reads, at most"),
    short=say("Mixed a second"),
    formula=say(
        "members / (reads for each operation / reads of the slowest + writes for each "
        "operation / writes of the slowest); raw / (r + p x w) where both are equal"
    ),
    source=LOAD_SOURCE,
    over=VOLUMES,
    assumes=QUIET,
    share="storage.read_share",
    penalty="storage.{volume}.write_penalty",
    level=Setting("level"),
    members="storage.{volume}.members",
    reads="storage.{volume}.member_reads",
    writes="storage.{volume}.member_writes",
)
def random_mixed(
    share: Ratio, penalty: int, level: int, members: int, reads: int, writes: int
) -> Decimal | None:
    if not 0 <= share.fraction <= 1:
        return None
    return _at_random(share.fraction, penalty, level, members, reads, writes)
