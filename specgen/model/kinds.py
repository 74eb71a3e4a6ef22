"""The kinds of part, a class each. A new kind is a class here and a line in `KINDS`."""

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from specgen.model.fields import (
    Count,
    Fraction,
    Lanes,
    Many,
    Names,
    Number,
    Positive,
    Text,
    YesNo,
    record,
)
from specgen.model.part import Card, Part
from specgen.model.position import Interface, Protocol, Swap
from specgen.quantity import (
    Airflow,
    Current,
    DataRate,
    DataSize,
    Duration,
    Frequency,
    Length,
    Power,
    TransferRate,
    Voltage,
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
class EthernetPort:
    """Ports of an adapter: `PORT 1..2`, their speed and what plugs in."""

    name: Names
    speed: DataRate
    connector: Literal["rj45", "sfp+", "sfp28", "sfp56", "qsfp28", "qsfp56", "qsfp-dd", "osfp"]
    medium: Literal["copper", "fibre", "cage"]
    management: YesNo = False
    shared: YesNo = False
    """Whether the management controller can be reached through it as well."""


@record
class NetworkAdapter(Card):
    kind: ClassVar[str] = "network-adapter"
    title: ClassVar[str] = "Network adapter"
    plural: ClassVar[str] = "Network adapters"
    subsystem: ClassVar[str] = "network"

    ethernet: tuple[EthernetPort, ...]


@record
class Accelerator(Card):
    kind: ClassVar[str] = "accelerator"
    title: ClassVar[str] = "Accelerator"
    plural: ClassVar[str] = "Accelerators"
    subsystem: ClassVar[str] = "accelerators"

    memory: DataSize | None = None
    memory_bandwidth: DataRate | None = None


@record
class BootModule(Card):
    kind: ClassVar[str] = "boot-module"
    title: ClassVar[str] = "Boot module"
    plural: ClassVar[str] = "Boot modules"
    subsystem: ClassVar[str] = "storage"

    raid: Many[Count] = ()


@record
class Riser(Part):
    kind: ClassVar[str] = "riser"
    title: ClassVar[str] = "Riser"
    plural: ClassVar[str] = "Risers"
    subsystem: ClassVar[str] = "board"


@record
class Backplane(Part):
    kind: ClassVar[str] = "backplane"
    title: ClassVar[str] = "Backplane"
    plural: ClassVar[str] = "Backplanes"
    subsystem: ClassVar[str] = "storage"


@record
class Cable(Part):
    """A cable in a connector's position; its far end is named by the build (`to`)."""

    kind: ClassVar[str] = "cable"
    title: ClassVar[str] = "Cable"
    plural: ClassVar[str] = "Cables"

    form: Text
    far_form: Text
    lanes: Lanes
    carries: Mapping[Protocol, Positive]
    length: Length | None = None


@record
class EfficiencyPoint:
    """Efficiency and power factor of a supply at a share of its rated load."""

    load: Fraction
    efficiency: Annotated[Fraction, Field(gt=0)]
    power_factor: Annotated[Fraction, Field(gt=0)] | None = None


@record
class SupplyOutput:
    """Output of a supply over a range of line voltage.

    `curve` is measured in this range, with loads as shares of this output; where it is empty the
    supply's own curve stands for it.
    """

    from_: Annotated[Voltage, Field(alias="from")]
    to: Voltage
    output: Power
    curve: tuple[EfficiencyPoint, ...] = ()


@record
class PowerSupply(Part):
    kind: ClassVar[str] = "power-supply"
    title: ClassVar[str] = "Power supply"
    plural: ClassVar[str] = "Power supplies"

    form: Text
    outputs: tuple[SupplyOutput, ...]
    curve: tuple[EfficiencyPoint, ...] = ()
    """Loads are shares of the greatest of `outputs`."""
    several_outputs: YesNo = False
    """Whether it gives several voltages that carry load, standby apart."""
    inlet: Text
    input_current: Current | None = None
    swap: Swap = "hot"


@record
class Fan(Part):
    kind: ClassVar[str] = "fan"
    title: ClassVar[str] = "Fan"
    plural: ClassVar[str] = "Fans"
    subsystem: ClassVar[str] = "cooling"

    form: Text
    airflow: Airflow | None = None
    swap: Swap = "cold"


@record
class HeatSink(Part):
    kind: ClassVar[str] = "heat-sink"
    title: ClassVar[str] = "Heat sink"
    plural: ClassVar[str] = "Heat sinks"

    socket: Text
    height: Literal["low", "full"] | None = None
    tdp_limit: Power


@record
class AirDuct(Part):
    kind: ClassVar[str] = "air-duct"
    title: ClassVar[str] = "Air duct"
    plural: ClassVar[str] = "Air ducts"
    closes: ClassVar[bool] = True


@record
class EnergyPack(Part):
    kind: ClassVar[str] = "energy-pack"
    title: ClassVar[str] = "Energy pack"
    plural: ClassVar[str] = "Energy packs"
    subsystem: ClassVar[str] = "storage"

    chemistry: Text | None = None


@record
class Transceiver(Part):
    kind: ClassVar[str] = "transceiver"
    title: ClassVar[str] = "Transceiver"
    plural: ClassVar[str] = "Transceivers"
    subsystem: ClassVar[str] = "network"

    form: Text
    speed: DataRate
    medium: Literal["copper", "fibre"]
    reach: Length | None = None
    laser_class: Text | None = None


@record
class Bezel(Part):
    kind: ClassVar[str] = "bezel"
    title: ClassVar[str] = "Bezel"
    plural: ClassVar[str] = "Bezels"

    lockable: YesNo = False


@record
class RailKit(Part):
    kind: ClassVar[str] = "rail-kit"
    title: ClassVar[str] = "Rail kit"
    plural: ClassVar[str] = "Rail kits"

    rack_depth_least: Length | None = None
    rack_depth_most: Length | None = None
    """Least and greatest distance between front and rear rails that it spans."""


@record
class CableArm(Part):
    kind: ClassVar[str] = "cable-arm"
    title: ClassVar[str] = "Cable arm"
    plural: ClassVar[str] = "Cable arms"

    adds_depth: Length | None = None


@record
class Filler(Part):
    """Closes a position that is left empty, so that air goes where it should."""

    kind: ClassVar[str] = "filler"
    title: ClassVar[str] = "Filler"
    plural: ClassVar[str] = "Fillers"
    closes: ClassVar[bool] = True

    form: Text


@record
class SecurityModule(Part):
    kind: ClassVar[str] = "security-module"
    title: ClassVar[str] = "Security module"
    plural: ClassVar[str] = "Security modules"
    subsystem: ClassVar[str] = "board"

    form: Text
    specification: Text | None = None


@record
class ManagementController(Part):
    """The baseboard management controller, with its own network port where it has one."""

    kind: ClassVar[str] = "management-controller"
    title: ClassVar[str] = "Management controller"
    plural: ClassVar[str] = "Management controllers"
    subsystem: ClassVar[str] = "board"

    form: Text = "board"
    ethernet: tuple[EthernetPort, ...] = ()
    video: Text | None = None
    interfaces: tuple[Text, ...] = ()


@record
class PowerCord(Part):
    kind: ClassVar[str] = "power-cord"
    title: ClassVar[str] = "Power cord"
    plural: ClassVar[str] = "Power cords"

    form: Text
    plug: Text
    current: Current
    length: Length | None = None


KINDS: Mapping[str, type[Part]] = {
    kind.kind: kind
    for kind in (
        Processor,
        MemoryModule,
        Drive,
        StorageController,
        NetworkAdapter,
        Accelerator,
        BootModule,
        Riser,
        Backplane,
        Cable,
        PowerSupply,
        Fan,
        HeatSink,
        AirDuct,
        EnergyPack,
        Transceiver,
        Bezel,
        RailKit,
        CableArm,
        Filler,
        SecurityModule,
        ManagementController,
        PowerCord,
    )
}
