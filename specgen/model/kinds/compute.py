"""Processors, memory and what computes beside them."""

from collections.abc import Mapping
from dataclasses import field
from typing import ClassVar

from specgen.model.fields import (
    Positive,
    Text,
    YesNo,
    record,
)
from specgen.model.part import Card, Part
from specgen.quantity import (
    DataRate,
    DataSize,
    Frequency,
    Power,
    TransferRate,
)


@record
class Processor(Part):
    kind: ClassVar[str] = "processor"
    title: ClassVar[str] = "Processor"
    plural: ClassVar[str] = "Processors"
    subsystem: ClassVar[str] = "processors"

    socket: Text
    cores: Positive
    threads: Positive
    base_clock: Frequency
    boost_clock: Frequency
    tdp: Power
    cache: DataSize | None = None
    memory_technology: Text
    memory_channels: Positive
    memory_speed: Mapping[Positive, TransferRate]
    """Highest rate by modules on a channel."""
    memory_speed_by_ranks: Mapping[Positive, TransferRate] = field(default_factory=dict)
    """Highest rate by ranks on a channel, where it depends on them as well."""
    memory_limit: DataSize | None = None
    vector_clock: Frequency | None = None
    """What all cores sustain while their vector units are busy."""
    vector_units: Positive | None = None
    """Vector units of a core that multiply and add in one step."""
    vector_width: Positive | None = None
    """Bits of a vector register."""
    operations_per_cycle: Positive | None = None
    """Double-precision operations of a core in a cycle, where the units are not declared."""
    together: Positive = 1
    """How many of it can work in one machine."""


@record
class MemoryModule(Part):
    kind: ClassVar[str] = "memory-module"
    title: ClassVar[str] = "Memory module"
    plural: ClassVar[str] = "Memory modules"
    subsystem: ClassVar[str] = "memory"

    technology: Text
    form: Text
    capacity: DataSize
    speed: TransferRate
    ranks: Positive
    device_width: Positive
    error_correction: YesNo = True


@record
class Accelerator(Card):
    kind: ClassVar[str] = "accelerator"
    title: ClassVar[str] = "Accelerator"
    plural: ClassVar[str] = "Accelerators"
    subsystem: ClassVar[str] = "accelerators"

    memory: DataSize | None = None
    memory_bandwidth: DataRate | None = None
