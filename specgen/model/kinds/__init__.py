"""The kinds of part, a class each. A new kind is a class in a room here and a line in `KINDS`."""

from collections.abc import Mapping

from specgen.model.kinds.chassis import (
    Bezel,
    Cable,
    CableArm,
    Filler,
    RailKit,
    Riser,
    SecurityModule,
)
from specgen.model.kinds.compute import (
    Accelerator,
    MemoryModule,
    Processor,
)
from specgen.model.kinds.network import (
    ManagementController,
    NetworkAdapter,
    Transceiver,
)
from specgen.model.kinds.power import (
    AirDuct,
    EfficiencyPoint,
    Fan,
    HeatSink,
    PowerCord,
    PowerSupply,
    SupplyOutput,
)
from specgen.model.kinds.storage import (
    Backplane,
    BootModule,
    Drive,
    EnergyPack,
    StorageController,
)
from specgen.model.part import Part

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

__all__ = [
    "KINDS",
    "Accelerator",
    "AirDuct",
    "Backplane",
    "Bezel",
    "BootModule",
    "Cable",
    "CableArm",
    "Drive",
    "EfficiencyPoint",
    "EnergyPack",
    "Fan",
    "Filler",
    "HeatSink",
    "ManagementController",
    "MemoryModule",
    "NetworkAdapter",
    "PowerCord",
    "PowerSupply",
    "Processor",
    "RailKit",
    "Riser",
    "SecurityModule",
    "StorageController",
    "SupplyOutput",
    "Transceiver",
]
