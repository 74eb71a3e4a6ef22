"""The kinds of part, a class each. A new kind is a class in a room here and a line in `KINDS`."""

from collections.abc import Mapping

from specgen.model.kinds.chassis import (
    Bezel,
    Blank,
    Cable,
    CableArm,
    RailKit,
    Riser,
    Tpm,
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
    CacheProtection,
    Drive,
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
        CacheProtection,
        Transceiver,
        Bezel,
        RailKit,
        CableArm,
        Blank,
        Tpm,
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
    "Blank",
    "BootModule",
    "Cable",
    "CableArm",
    "CacheProtection",
    "Drive",
    "EfficiencyPoint",
    "Fan",
    "HeatSink",
    "ManagementController",
    "MemoryModule",
    "NetworkAdapter",
    "PowerCord",
    "PowerSupply",
    "Processor",
    "RailKit",
    "Riser",
    "StorageController",
    "SupplyOutput",
    "Tpm",
    "Transceiver",
]
