"""The whole server: service root, system, chassis, manager."""

import json
from collections.abc import Mapping
from decimal import Decimal

from specgen.document.data import BuildData
from specgen.write.redfish.cards import adapters, slots
from specgen.write.redfish.chassis import fans, supplies
from specgen.write.redfish.compute import memory, processors
from specgen.write.redfish.resource_tree import (
    ENABLED,
    ROOT,
    Resource,
    Tree,
    identity,
    number,
    place,
    ref,
    refs,
)
from specgen.write.redfish.storage import storage


def resources(build: BuildData) -> Mapping[str, Resource]:
    """Every resource of a build by its `@odata.id`, the service root first.

    The publisher stands as manufacturer of the chassis and the system, and of nothing else.
    """
    tree = Tree(build)
    managers = f"{ROOT}/Managers"
    tree.add(
        ROOT,
        "ServiceRoot",
        build.name,
        RedfishVersion="1.23.0",
        Vendor=build.publisher,
        Product=build.platform.name,
        Chassis=ref(f"{ROOT}/Chassis"),
        Systems=ref(f"{ROOT}/Systems"),
        Managers=ref(managers),
        Links={"Sessions": ref(f"{ROOT}/SessionService/Sessions")},
    )
    tree.collect(f"{ROOT}/SessionService/Sessions", "Session", "Sessions", ())
    made = [
        tree.add(
            tree.fresh(managers, position.name),
            "Manager",
            part.name,
            ManagerType="BMC",
            **identity(part),
            Location=place(position, "Embedded"),
            Status=ENABLED,
            Links={"ManagerForServers": refs([tree.system])},
        )
        for position, part in tree.holding("management-controller")
    ]
    tree.collect(managers, "Manager", "Managers", made)
    _chassis(tree, made)
    _system(tree, made)
    tree.collect(f"{ROOT}/Chassis", "Chassis", "Chassis", [tree.chassis])
    tree.collect(f"{ROOT}/Systems", "ComputerSystem", "Systems", [tree.system])
    return {path: tree.resources[path] for path in sorted(tree.resources)}


def text(build: BuildData) -> bytes:
    """All resources in one JSON object, keyed by `@odata.id`."""
    lines = json.dumps(resources(build), indent=1, ensure_ascii=False)
    return f"{lines}\n".encode("utf-8", "replace")


def _chassis(tree: Tree, managers: list[str]) -> None:
    build, platform = tree.build, tree.build.platform
    total = next((f.value for f in build.facts if f.key == "mechanics.mass"), None)
    tree.add(
        tree.chassis,
        "Chassis",
        build.name,
        ChassisType="RackMount",
        Manufacturer=build.publisher,
        Model=platform.name,
        PartNumber=platform.number,
        SKU=build.number,
        RackUnits="EIA_310",
        HeightRackUnits=platform.rack_units,
        HeightMm=number(platform.height_mm),
        WidthMm=number(platform.width_mm),
        DepthMm=number(platform.depth_mm),
        WeightKg=number(total) if isinstance(total, Decimal) else None,
        EnvironmentalClass=platform.operating_class,
        Status=ENABLED,
        PowerSubsystem=supplies(tree),
        ThermalSubsystem=fans(tree),
        NetworkAdapters=adapters(tree),
        PCIeSlots=slots(tree),
        Links={
            "ComputerSystems": refs([tree.system]),
            "ManagedBy": refs(managers),
            "ManagersInChassis": refs(managers),
        },
    )


def _system(tree: Tree, managers: list[str]) -> None:
    build = tree.build
    facts = {fact.key: fact for fact in build.facts}

    def count(key: str) -> object:
        value = facts[key].value if key in facts else None
        return value if isinstance(value, int) else None

    processor_ref, memory_ref = processors(tree), memory(tree)
    sizes = [r["CapacityMiB"] for r in tree.resources.values() if "CapacityMiB" in r]
    mebibytes = sum(size for size in sizes if isinstance(size, int))
    models = sorted({part.name for _, part in tree.holding("processor")})
    tree.add(
        tree.system,
        "ComputerSystem",
        build.name,
        Description=build.summary,
        SystemType="Physical",
        Manufacturer=build.publisher,
        Model=build.platform.name,
        PartNumber=build.platform.number,
        SKU=build.number,
        Status=ENABLED,
        ProcessorSummary={
            "Count": len(tree.holding("processor")),
            "Model": ", ".join(models),
            "CoreCount": count("processors.cores"),
            "LogicalProcessorCount": count("processors.threads"),
        },
        MemorySummary={"TotalSystemMemoryGiB": mebibytes / 1024},
        Processors=processor_ref,
        Memory=memory_ref,
        Storage=storage(tree),
        Links={"Chassis": refs([tree.chassis]), "ManagedBy": refs(managers)},
    )
