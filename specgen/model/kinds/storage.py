"""Drives and what serves, holds and wires them."""

from typing import ClassVar, Literal

from specgen.model.fields import (
    Count,
    Lanes,
    Many,
    Number,
    Positive,
    Text,
    record,
)
from specgen.model.part import Card, Part
from specgen.model.position import Interface, Swap
from specgen.quantity import (
    DataRate,
    DataSize,
    Duration,
)


@record
class Drive(Part):
    kind: ClassVar[str] = "drive"
    title: ClassVar[str] = "Drive"
    plural: ClassVar[str] = "Drives"
    subsystem: ClassVar[str] = "storage"

    medium: Literal["flash", "disk"]
    form: Text
    interface: Interface
    capacity: DataSize
    swap: Swap
    lanes: Lanes = 1
    generation: Positive
    read: DataRate | None = None
    write: DataRate | None = None
    random_reads: Positive | None = None
    random_writes: Positive | None = None
    writes_per_day: Number | None = None
    warranty: Duration | None = None
    mean_time_between_failures: Duration | None = None


@record
class StorageController(Card):
    kind: ClassVar[str] = "storage-controller"
    title: ClassVar[str] = "Storage controller"
    plural: ClassVar[str] = "Storage controllers"
    subsystem: ClassVar[str] = "storage"

    raid: Many[Count] = ()
    """RAID levels it can form; none for a plain adapter."""
    cache: DataSize | None = None
    keeps_cache: Literal["energy-pack", "flash"] | None = None
    """What saves the cache when the power goes; `energy-pack` needs one fitted."""
    drives: Positive | None = None


@record
class BootModule(Card):
    kind: ClassVar[str] = "boot-module"
    title: ClassVar[str] = "Boot module"
    plural: ClassVar[str] = "Boot modules"
    subsystem: ClassVar[str] = "storage"

    raid: Many[Count] = ()


@record
class Backplane(Part):
    kind: ClassVar[str] = "backplane"
    title: ClassVar[str] = "Backplane"
    plural: ClassVar[str] = "Backplanes"
    subsystem: ClassVar[str] = "storage"


@record
class EnergyPack(Part):
    kind: ClassVar[str] = "energy-pack"
    title: ClassVar[str] = "Energy pack"
    plural: ClassVar[str] = "Energy packs"
    subsystem: ClassVar[str] = "storage"

    chemistry: Text | None = None
