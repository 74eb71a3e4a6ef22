"""Drives and what serves, holds and wires them."""

from typing import Annotated, ClassVar, Literal

from specgen.model.fields import (
    Count,
    Lanes,
    Many,
    Number,
    Positive,
    Text,
    record,
)
from specgen.model.labels import FORM, Called
from specgen.model.part import Part
from specgen.model.position import Swap
from specgen.model.traits import Card, Carries, DrawsPower, HasLink, Stores, Swappable
from specgen.quantity import (
    DataRate,
    DataSize,
    Duration,
)


@record
class Drive(Swappable, HasLink, Stores, DrawsPower):
    kind: ClassVar[str] = "drive"
    title: ClassVar[str] = "Drive"
    plural: ClassVar[str] = "Drives"
    subsystem: ClassVar[str] = "storage"
    choose_by: ClassVar[tuple[str, ...]] = (
        *("capacity", "interface", "form", "read", "write", "writes_per_day", "swap"),
    )
    boxed: ClassVar[bool] = True

    medium: Literal["ssd", "hdd"]
    form: Annotated[Text, FORM]
    swap: Annotated[Swap, Called("Swap type")]
    lanes: Annotated[Lanes, Called("Lanes used", "number of lanes used")] = 1
    generation: Annotated[Positive, Called("Interface generation", "interface generation")]
    """Of its own interface: 4 for SAS-4 and for NVMe over PCIe 4.0."""
    read: DataRate | None = None
    """Of long reads in sequence, `7000 MB/s`: a megabyte is 1000^2 bytes."""
    write: DataRate | None = None
    """Of long writes in sequence."""
    random_reads: Positive | None = None
    """Operations a second at random, of blocks of `random_block`."""
    random_writes: Positive | None = None
    """The same for writes alone."""
    random_block: Annotated[DataSize | None, Called("Block size of random operations")] = None
    """At which random reads and writes are declared; 4 KiB without it."""
    writes_per_day: Number | None = None
    """Drive writes per day (DWPD): how often its capacity may be written each day of the
    warranty."""
    warranty: Duration | None = None
    """Span that `writes_per_day` holds for, `5 y`: a year of it has 365 days."""
    mean_time_between_failures: Duration | None = None
    """Of a population that works without a pause, `2000000 h`; no lifetime of one drive."""


@record
class StorageController(Card, DrawsPower):
    kind: ClassVar[str] = "storage-controller"
    title: ClassVar[str] = "Storage controller"
    plural: ClassVar[str] = "Storage controllers"
    subsystem: ClassVar[str] = "storage"
    choose_by: ClassVar[tuple[str, ...]] = (
        *("raid", "cache", "keeps_cache", "drives", "lanes", "generation"),
    )
    boxed: ClassVar[bool] = True

    raid: Annotated[Many[Count], Called("RAID levels")] = ()
    """RAID levels it can form; none for a plain adapter."""
    cache: DataSize | None = None
    keeps_cache: Annotated[
        Literal["cache-protection", "flash"] | None,
        Called("Cache protection"),
    ] = None
    """What saves the cache when the power goes; `cache-protection` needs one fitted."""
    drives: Annotated[Positive | None, Called("Max. drives", "largest number of drives")] = None
    """Behind all its ports together."""
    throughput: Annotated[DataRate | None, Called("Throughput, max.", "throughput")] = None
    """The most it moves of the host's data in one direction, whatever its links carry."""
    operations: Annotated[
        Positive | None, Called("Random IOPS, max.", "random operations a second")
    ] = None
    """Of the host, whatever its drives do."""


@record
class BootModule(Card, Carries):
    kind: ClassVar[str] = "boot-module"
    title: ClassVar[str] = "Boot module"
    plural: ClassVar[str] = "Boot modules"
    subsystem: ClassVar[str] = "storage"
    choose_by: ClassVar[tuple[str, ...]] = ("raid", "lanes", "generation")
    boxed: ClassVar[bool] = True
    counted: ClassVar[bool] = True

    raid: Annotated[Many[Count], Called("RAID levels")] = ()


@record
class Backplane(Part):
    kind: ClassVar[str] = "backplane"
    title: ClassVar[str] = "Backplane"
    plural: ClassVar[str] = "Backplanes"
    subsystem: ClassVar[str] = "storage"
    boxed: ClassVar[bool] = True
    counted: ClassVar[bool] = True


@record
class CacheProtection(Part):
    kind: ClassVar[str] = "cache-protection"
    title: ClassVar[str] = "Cache protection module"
    plural: ClassVar[str] = "Cache protection modules"
    subsystem: ClassVar[str] = "storage"
    choose_by: ClassVar[tuple[str, ...]] = ("chemistry",)
    counted: ClassVar[bool] = True

    chemistry: Text | None = None
