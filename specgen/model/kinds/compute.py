"""Processors, memory and what computes beside them."""

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated, ClassVar, Final

from specgen.messages import say
from specgen.model.fields import (
    Positive,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import FORM, Called
from specgen.model.traits import Card, DrawsPower
from specgen.quantity import (
    DataRate,
    DataSize,
    Frequency,
    Power,
    TransferRate,
)

NO_BOOST: Final = say("no boost")
"""What stands for the maximum clock of a processor whose cores keep to the base clock."""


@record
class Processor(DrawsPower):
    kind: ClassVar[str] = "processor"
    title: ClassVar[str] = "Processor"
    plural: ClassVar[str] = "Processors"
    subsystem: ClassVar[str] = "processors"
    choose_by: ClassVar[tuple[str, ...]] = (
        *("cores", "threads", "base_clock", "max_clock", "tdp", "memory_channels"),
    )
    boxed: ClassVar[bool] = True

    socket: Text
    cores: Annotated[Positive, Called(noun="number of cores")]
    threads: Annotated[Positive, Called(noun="number of threads")]
    base_clock: Frequency
    """Of all cores; peak rates are worked out from it where no `vector_clock` is declared."""
    max_clock: Annotated[Frequency | None, Called("Max. clock", absent=str(NO_BOOST))] = None
    """Of one core; without it no core runs above the base clock."""
    tdp: Annotated[Power, Called("Thermal design power")]
    cache: DataSize | None = None
    """Last-level cache of the whole processor."""
    memory_technology: Text
    memory_channels: Annotated[Positive, Called(noun="number of memory channels")]
    """Of one processor: of 64 data bits for DDR4 and DDR5, of 16 for LPDDR."""
    memory_speed: Mapping[Positive, TransferRate]
    """Highest rate by modules on a channel."""
    memory_speed_by_ranks: Mapping[Positive, TransferRate] = field(default_factory=dict)
    """Highest rate by ranks on a channel, where it depends on them as well."""
    memory_limit: DataSize | None = None
    """The most memory that one processor addresses."""
    vector_clock: Frequency | None = None
    """What all cores sustain while their vector units are busy."""
    vector_units: Positive | None = None
    """Vector units of a core that multiply and add in one step."""
    vector_width: Positive | None = None
    """Bits of a vector register."""
    operations_per_cycle: Positive | None = None
    """Double-precision operations of a core in a cycle, where the units are not declared."""
    together: Annotated[Positive, Called("Max. in one server", "largest number in one server")] = 1
    """How many of it can work in one system."""


@record
class MemoryModule(DrawsPower):
    kind: ClassVar[str] = "memory-module"
    title: ClassVar[str] = "Memory module"
    plural: ClassVar[str] = "Memory modules"
    subsystem: ClassVar[str] = "memory"
    choose_by: ClassVar[tuple[str, ...]] = ("capacity", "speed", "ranks", "form")
    boxed: ClassVar[bool] = True

    technology: Text
    form: Annotated[Text, FORM]
    capacity: DataSize
    """Of one module, check bits apart: `64 GiB`."""
    speed: TransferRate
    """The greatest rate that it is made for."""
    ranks: Annotated[Positive, Called(noun="number of ranks")]
    """Package ranks: a 3DS package of several dies counts once."""
    device_width: Annotated[Positive, Called("DRAM device width")]
    """Data bits of one device: 4, 8 or 16."""
    error_correction: YesNo = True


@record
class Accelerator(Card, DrawsPower):
    kind: ClassVar[str] = "accelerator"
    title: ClassVar[str] = "Accelerator"
    plural: ClassVar[str] = "Accelerators"
    subsystem: ClassVar[str] = "accelerators"
    choose_by: ClassVar[tuple[str, ...]] = (
        *("memory", "memory_bandwidth", "lanes", "generation", "power.maximum"),
    )
    boxed: ClassVar[bool] = True

    memory: DataSize | None = None
    """Of one accelerator, its own."""
    memory_bandwidth: DataRate | None = None
    """To its own memory; bytes, not bits: `1.6 TB/s`."""
