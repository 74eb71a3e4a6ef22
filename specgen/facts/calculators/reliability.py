"""Rebuilding a volume, and the published model of how long it keeps its data."""

from decimal import Context, Decimal

from specgen.facts.calculators.members import OfMembers, Setting
from specgen.facts.calculators.storage import RAID_SOURCE, sets_of, survived
from specgen.facts.calculators.subjects import PROTECTED_VOLUMES, VOLUMES
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Assumption
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.quantity import DataRate, DataSize, Duration, Ratio

fact = Calculators()

MODEL_SOURCE = (
    "Patterson, Gibson, Katz, SIGMOD 1988; Chen, Lee, Gibson, Katz, Patterson, ACM Computing "
    "Surveys 26(2), 1994"
)
MODEL_ASSUMES = say(
    "drives fail independently at a constant rate, repairs are short against that rate; sectors "
    "that cannot be read during a rebuild, faults of controllers, power and people and failures "
    "with a common cause are left out, so it compares layouts and is no lifetime"
)
FINE = Context(prec=40)

fact.least(
    "storage.{volume}.member_capacity",
    say("Capacity each member counts with"),
    OfMembers("capacity"),
    formula=say("smallest member"),
    source=RAID_SOURCE,
    over=VOLUMES,
)


@fact(
    "storage.{volume}.rebuild_time",
    say("Time to rebuild a member"),
    short=say("Rebuild of a member"),
    formula=say(
        "capacity of a member / the lesser of the assumed rate and the slowest member's "
        "sequential write"
    ),
    over=PROTECTED_VOLUMES,
    assumes=say("the whole member is written again, whatever it holds"),
    size="storage.{volume}.member_capacity",
    write=FactOf("storage.{volume}.member_write", optional=True),
    rate=Assumption("rebuild_rate"),
    survives="storage.{volume}.tolerates",
)
def rebuild_time(
    size: DataSize, write: DataRate | None, rate: DataRate, survives: int
) -> Duration | None:
    slowest = rate if write is None else min(rate, write)
    if survives == 0 or slowest.amount <= 0:
        return None
    return Duration.of(size.amount / slowest.amount).to("h")


@fact(
    "storage.{volume}.repair_time",
    say("Time from a failure to a whole volume"),
    short=say("Time to restored redundancy"),
    formula=say("time to rebuild, after the time to a replacement where no hot spare stands by"),
    over=PROTECTED_VOLUMES,
    rebuild="storage.{volume}.rebuild_time",
    spares="storage.{volume}.spares",
    replacement=Assumption("replacement_time"),
)
def repair_time(rebuild: Duration, spares: int, replacement: Duration) -> Duration:
    return rebuild if spares else (replacement + rebuild).to("h")


fact.least(
    "storage.{volume}.member_time_between_failures",
    say("Mean time between failures of the weakest member"),
    OfMembers("mean_time_between_failures"),
    formula=say("min. over members"),
    over=VOLUMES,
)


def time_to_data_loss(
    between_failures: Decimal, repair: Decimal, members: int, tolerated: int, sets: int
) -> Decimal:
    """Mean time to data loss of `sets` alike sets, in the unit of `between_failures` and `repair`.

    M^(k+1) / (N (N-1) … (N-k) R^k) / sets, for k failures tolerated among N members of a set.
    Source: Patterson, Gibson, Katz 1988 (M^2 / ((D + C nG) (G + C - 1) R)) and Chen et al. 1994.
    """
    paths = Decimal(sets)
    for lost in range(tolerated + 1):
        paths *= members - lost
    gained: Decimal = FINE.power(between_failures, tolerated + 1)
    return FINE.divide(gained, paths * FINE.power(repair, tolerated))


def loss_of_volume(
    between: Duration, repair: Duration | None, members: int, level: int, groups: int
) -> Decimal | None:
    """Mean time to data loss of a volume in hours; None where there is none."""
    tolerated = survived(level, members, groups)
    if tolerated is None or between.amount <= 0:
        return None
    if tolerated and (repair is None or repair.amount <= 0):
        return None
    sets = sets_of(level, members, groups)
    return time_to_data_loss(
        between.in_unit("h"),
        Decimal(1) if repair is None else repair.in_unit("h"),
        members // sets,
        tolerated,
        sets,
    )


@fact(
    "storage.{volume}.time_to_data_loss",
    say("Mean time to data loss (model value, no lifetime)"),
    noun="modelled mean time to data loss",
    short=say("Mean time to data loss, model"),
    formula=say(
        "M^(k+1) / (N (N-1) ... (N-k) R^k) / sets, for sets of N members of which k may fail; M "
        "mean time between failures of the weakest member, R time from a failure to a whole "
        "volume; sets are pairs at RAID 10, groups at 50 and 60"
    ),
    source=MODEL_SOURCE,
    over=VOLUMES,
    assumes=MODEL_ASSUMES,
    between="storage.{volume}.member_time_between_failures",
    repair=FactOf("storage.{volume}.repair_time", optional=True),
    members="storage.{volume}.members",
    level=Setting("level"),
    groups=Setting("groups"),
)
def mean_time_to_data_loss(
    between: Duration, repair: Duration | None, members: int, level: int, groups: int
) -> Duration | None:
    hours = loss_of_volume(between, repair, members, level, groups)
    return None if hours is None else Duration.of(hours, "h")


def chance_within(span: Decimal, mean: Decimal) -> Decimal:
    """Probability, 0 to 1, that something with a constant rate happens within `span`.

    1 - exp(-span / mean); both in one unit.
    """
    return FINE.subtract(Decimal(1), FINE.exp(FINE.divide(-span, mean)))


@fact(
    "storage.{volume}.data_loss",
    say("Chance of data loss within a year (model value)"),
    noun="modelled chance of data loss within a year",
    short=say("Data loss within a year, model"),
    formula=say("1 - exp(-year / mean time to data loss)"),
    source=MODEL_SOURCE,
    over=VOLUMES,
    assumes=MODEL_ASSUMES,
    mean="storage.{volume}.time_to_data_loss",
    year=Assumption("year"),
)
def data_loss(mean: Duration, year: Duration) -> Ratio | None:
    if mean.amount <= 0 or year.amount < 0:
        return None
    return Ratio.of_fraction(chance_within(year.amount, mean.amount))
