"""Each sort of drive: how much it may be written, how often it fails, the bytes it holds."""

from decimal import ROUND_CEILING, Decimal
from typing import Any, Literal

from specgen.assembly import Assembly
from specgen.facts.calculators.reliability import chance_within
from specgen.facts.calculators.storage import BINARY_SOURCE
from specgen.facts.calculators.subjects import DRIVE_SORTS, FLASH_SORTS
from specgen.facts.fact import Declared, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Assumption, Context, Inspected, fit_leaf, leaf
from specgen.facts.registry import Calculators
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Drive
from specgen.model.pedigree import FieldPath
from specgen.quantity import DataSize, Duration, Ratio

fact = Calculators()

ENDURANCE_SOURCE = "JESD218 and JESD219: terabytes written = drive writes per day x capacity x days"
FAILURE_SOURCE = "1 - exp(-t / MTBF): exponential distribution, constant rate of failures"
SECTOR_SOURCE = "IDEMA LBA1-03 up to 8000 GB; above, whole GiB as in SFF-8447"
CONSTANT_RATE = say(
    "a constant rate of failures of a population, so no lifetime of one drive; work without a pause"
)
Sector = Literal[512, 4096]
SECTORS: dict[Sector, tuple[int, int, int]] = {
    512: (97_696_368, 1_953_504, 2**21),
    4096: (12_212_046, 244_188, 2**18),
}
"""By bytes of a sector: those of 50 GB, those of each further GB, those of a GiB."""
LEAST_RULED = 50
MOST_COUNTED = 8000

fact.stated(
    "storage.endurance_span", say("Span over which wear is compared"), Assumption("endurance_span")
)


@frozen
class Wear:
    """What a flash drive declares of its endurance."""

    capacity: DataSize
    writes_per_day: Decimal
    warranty: Duration


def _flash(assembly: Assembly, _: str) -> tuple[tuple[Wear, ...] | None, Trail]:
    """Flash drives with what they may be written; disks, of which none is declared, left out."""
    found: list[Wear] = []
    trail: list[Declared] = []
    hole = False
    for place, drive in assembly.fitted(Drive):
        if drive.medium == "ssd":
            writes, warranty = drive.writes_per_day, drive.warranty
            hole = hole or writes is None or warranty is None
            if writes is not None and warranty is not None:
                found.append(Wear(drive.capacity, writes, warranty))
            fields = ("capacity", "writes_per_day", "warranty")
            trail += [leaf(place, drive, (field,), getattr(drive, field)) for field in fields]
    return (None if hole or not found else tuple(found)), tuple(trail)


@fact(
    "storage.written_per_day",
    say("Data written per day to SSDs, max., total"),
    noun="maximum of data written to flash a day",
    formula=say("sum over SSDs of drive writes per day x capacity"),
    source=ENDURANCE_SOURCE,
    assumes=say("writes spread over the drives as their endurance is; copies and parity count"),
    drives=Inspected(_flash),
)
def all_written_per_day(drives: tuple[Wear, ...]) -> DataSize:
    each = (drive.capacity * drive.writes_per_day for drive in drives)
    return sum(each, DataSize.of(0)).to("TB")


def written(capacity: DataSize, writes_per_day: Decimal, warranty: Duration) -> DataSize:
    """What may be written within the warranty; a day has 24 h, a year of warranty 365 d."""
    return (capacity * (writes_per_day * warranty.in_unit("d"))).to("TB")


@fact(
    "storage.endurance",
    say("Data written to SSDs within the warranties, max., total"),
    noun="maximum of data written to flash within the warranties",
    formula=say("sum over SSDs of drive writes per day x capacity x days of the warranty"),
    source=ENDURANCE_SOURCE,
    assumes=say(
        "a year of 365 days; writes spread over the drives as their endurance is; copies and "
        "parity count"
    ),
    drives=Inspected(_flash),
)
def all_endurance(drives: tuple[Wear, ...]) -> DataSize:
    each = (written(drive.capacity, drive.writes_per_day, drive.warranty) for drive in drives)
    return sum(each, DataSize.of(0)).to("TB")


@fact(
    "storage.failures",
    say("Drive failures to expect in a year"),
    formula=say("sum over sorts of drive of number x annual failure rate"),
    source=FAILURE_SOURCE,
    assumes=CONSTANT_RATE,
    failures=FactsOfAll("drives.{drive}.failures", strict=True),
)
def all_failures(failures: tuple[Decimal, ...]) -> Decimal | None:
    return sum(failures, Decimal(0)) if failures else None


@fact.seen(
    "drives.{drive}.count",
    say("Number"),
    formula=say("drives of this sort fitted"),
    over=DRIVE_SORTS,
)
def count(assembly: Assembly, name: str) -> tuple[int, Trail]:
    places = tuple(place for place, drive in assembly.fitted(Drive) if drive.id == name)
    return len(places), tuple(fit_leaf(place) for place in places)


def sectors_of(gigabytes: Decimal | int, sector: Sector = 512) -> int | None:
    """Sectors of a drive sold as so many decimal GB; None for sizes the rule does not name.

    Source: IDEMA LBA1-02 and LBA1-03 (50 to 8000 GB), SFF-8447 (above: up to a whole GiB).
    """
    if gigabytes < LEAST_RULED or gigabytes != int(gigabytes):
        return None
    first, further, binary = SECTORS[sector]
    if gigabytes <= MOST_COUNTED:
        return first + further * (int(gigabytes) - LEAST_RULED)
    whole = (Decimal(gigabytes) * 10**9 / 2**30).to_integral_value(ROUND_CEILING)
    return int(whole) * binary


@frozen
class OfSort:
    """A field of the sort of drive in hand."""

    field: str

    @property
    def model(self) -> type[Drive]:
        return Drive

    @property
    def path(self) -> FieldPath:
        return (self.field,)

    def read(self, context: Context) -> tuple[Any, Trail]:
        for place, drive in context.parts(Drive):
            if drive.id == context.subject and isinstance(drive, Drive):
                value = getattr(drive, self.field)
                return value, (leaf(place, drive, (self.field,), value),)
        return None, ()


@fact(
    "drives.{drive}.sectors",
    say("Sectors of 512 bytes"),
    formula=say("97 696 368 + 1 953 504 x (GB - 50) up to 8000 GB; above, HDDs: up to a whole GiB"),
    source=SECTOR_SOURCE,
    over=DRIVE_SORTS,
    assumes=say(
        "the common count for the size it is sold as; formats of 520 or 528 bytes and flash "
        "above 8 TB follow rules of their own"
    ),
    capacity=OfSort("capacity"),
    medium=OfSort("medium"),
)
def sectors(capacity: DataSize, medium: str) -> int | None:
    if medium == "ssd" and capacity.in_unit("GB") > MOST_COUNTED:
        return None
    return sectors_of(capacity.in_unit("GB"))


fact.printed(
    "drives.{drive}.capacity_binary",
    say("Capacity in binary units"),
    OfSort("capacity"),  # as it is sold, as in sums and volumes: one size on every page
    "TiB",
    short=say("Each, binary"),
    formula=say("raw capacity / 1024^4 bytes"),
    source=BINARY_SOURCE,
    over=DRIVE_SORTS,
    holds=DataSize,
)


@fact(
    "drives.{drive}.written_per_day",
    say("Data written per day, max., each"),
    noun="maximum of data written a day to each",
    short=say("Written a day"),
    formula=say("drive writes per day x capacity"),
    source=ENDURANCE_SOURCE,
    over=FLASH_SORTS,
    assumes=say("every day of the warranty, which its terms may tie to a workload"),
    capacity=OfSort("capacity"),
    writes=OfSort("writes_per_day"),
)
def written_per_day(capacity: DataSize, writes: Decimal) -> DataSize:
    return (capacity * writes).to("TB")


@fact(
    "drives.{drive}.endurance",
    say("Data written within the warranty, max., each"),
    noun="maximum of data written to each within the warranty",
    short=say("Written within warranty"),
    formula=say("drive writes per day x capacity x days of the warranty; decimal terabytes"),
    source=ENDURANCE_SOURCE,
    over=FLASH_SORTS,
    assumes=say("a year of 365 days"),
    capacity=OfSort("capacity"),
    writes=OfSort("writes_per_day"),
    warranty=OfSort("warranty"),
)
def endurance(capacity: DataSize, writes: Decimal, warranty: Duration) -> DataSize:
    return written(capacity, writes, warranty)


@fact(
    "drives.{drive}.comparable_writes",
    say("DWPD over the span of comparison"),
    short=say("DWPD, compared"),
    formula=say("data written within the warranty / (capacity x days of the span)"),
    source=ENDURANCE_SOURCE,
    over=FLASH_SORTS,
    endurance="drives.{drive}.endurance",
    capacity=OfSort("capacity"),
    span="storage.endurance_span",
)
def comparable_writes(endurance: DataSize, capacity: DataSize, span: Duration) -> Decimal | None:
    if capacity.amount <= 0 or span.amount <= 0:
        return None
    return endurance / capacity / span.in_unit("d")


@fact(
    "drives.{drive}.annual_failure_rate",
    say("Annual failure rate"),
    formula=say("1 - exp(-hours of a year / mean time between failures)"),
    source=FAILURE_SOURCE,
    over=DRIVE_SORTS,
    assumes=CONSTANT_RATE,
    between=OfSort("mean_time_between_failures"),
    year=Assumption("year"),
)
def annual_failure_rate(between: Duration, year: Duration) -> Ratio | None:
    if between.amount <= 0 or year.amount < 0:
        return None
    return Ratio.of_fraction(chance_within(year.amount, between.amount))


@fact(
    "drives.{drive}.failures",
    say("Failures to expect in a year"),
    short=say("Failures per year"),
    formula=say("number x annual failure rate"),
    source=FAILURE_SOURCE,
    over=DRIVE_SORTS,
    assumes=CONSTANT_RATE,
    count="drives.{drive}.count",
    rate="drives.{drive}.annual_failure_rate",
)
def failures(count: int, rate: Ratio) -> Decimal:
    return count * rate.fraction
