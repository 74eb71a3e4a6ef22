"""The whole server: service root, system, chassis, manager."""

import json
from collections.abc import Mapping

from specgen.document.data import BuildData
from specgen.write.redfish.cards import adapters
from specgen.write.redfish.chassis import fans, supplies
from specgen.write.redfish.compute import memory, processors
from specgen.write.redfish.enumerations import TPM
from specgen.write.redfish.resource_tree import (
    ENABLED,
    ROOT,
    Resource,
    Tree,
    filled,
    identity,
    number,
    place,
    ref,
    refs,
    stated,
)
from specgen.write.redfish.slots import devices, slots
from specgen.write.redfish.storage import storage


def resources(build: BuildData) -> Mapping[str, Resource]:
    """Every resource of a build by its `@odata.id`, the service root first.

    The publisher stands as manufacturer of the chassis and the system, a part's maker as that of
    the part.
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
        SessionService=ref(f"{ROOT}/SessionService"),
        Links={"Sessions": ref(f"{ROOT}/SessionService/Sessions")},
    )
    tree.add(
        f"{ROOT}/SessionService",
        "SessionService",
        "Sessions",
        ServiceEnabled=False,
        Sessions=tree.collect(f"{ROOT}/SessionService/Sessions", "Session", "Sessions", ()),
    )
    made = [
        tree.add(
            tree.fresh(managers, position.name),
            "Manager",
            part.name,
            ManagerType="BMC",
            **identity(part),
            Location=place(position, "Embedded"),
            Status=ENABLED,
            Links={
                "ManagerForServers": refs([tree.system]),
                "ManagerForChassis": refs([tree.chassis]),
                "ManagerInChassis": ref(tree.chassis),
            },
        )
        for position, part in tree.holding("management-controller")
    ]
    tree.collect(managers, "Manager", "Managers", made)
    on_pcie = devices(tree)
    _system(tree, made, on_pcie)
    _chassis(tree, made, on_pcie)
    tree.collect(f"{ROOT}/Chassis", "Chassis", "Chassis", [tree.chassis])
    tree.collect(f"{ROOT}/Systems", "ComputerSystem", "Systems", [tree.system])
    return {path: tree.resources[path] for path in sorted(tree.resources)}


def text(build: BuildData) -> bytes:
    """All resources in one JSON object, keyed by `@odata.id`."""
    lines = json.dumps(resources(build), indent=1, ensure_ascii=False)
    return f"{lines}\n".encode("utf-8", "replace")


def _chassis(tree: Tree, managers: list[str], on_pcie: dict[str, str]) -> None:
    build, platform = tree.build, tree.build.platform
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
        WeightKg=number(tree.fact("mechanics.mass", "kg")),
        MaxPowerWatts=number(tree.fact("power.input", "W")),
        MinPowerWatts=number(tree.fact("power.idle.input", "W")),
        EnvironmentalClass=platform.operating_class,
        Status=ENABLED,
        PowerSubsystem=supplies(tree),
        ThermalSubsystem=fans(tree),
        NetworkAdapters=adapters(tree, on_pcie),
        PCIeDevices=ref(f"{tree.chassis}/PCIeDevices"),
        PCIeSlots=slots(tree, on_pcie),
        Drives=ref(f"{tree.chassis}/Drives"),
        Links={
            "ComputerSystems": refs([tree.system]),
            "ManagedBy": refs(managers),
            "ManagersInChassis": refs(managers),
            "Drives": refs(_members(tree, "Drive")),
            "Storage": refs(_members(tree, "Storage")),
            "PowerSupplies": refs(_members(tree, "PowerSupply")),
            "Fans": refs(_members(tree, "Fan")),
            "Processors": refs(_members(tree, "Processor")),
        },
    )


def _system(tree: Tree, managers: list[str], on_pcie: dict[str, str]) -> None:
    build = tree.build
    facts = {fact.key: fact for fact in build.facts}

    def count(key: str) -> object:
        value = facts[key].value if key in facts else None
        return value if isinstance(value, int) else None

    processor_ref, memory_ref = processors(tree, on_pcie), memory(tree)
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
        PCIeDevices=refs(on_pcie.values()),
        TrustedModules=_trusted(tree),
        **{"PCIeDevices@odata.count": len(on_pcie)},
        Links={"Chassis": refs([tree.chassis]), "ManagedBy": refs(managers)},
    )


def _trusted(tree: Tree) -> list[Resource]:
    """TPMs, by the interface that their specification begins with."""
    found = []
    for _, part in tree.holding("tpm"):
        specification = str(stated(part, "specification") or "")
        interface = next((TPM[each] for each in TPM if specification.startswith(each)), None)
        found.append(filled({"InterfaceType": interface, "Status": ENABLED}))
    return found


def _members(tree: Tree, kind: str) -> list[str]:
    """The addresses of all resources of a kind."""
    return [
        path for path, made in tree.resources.items() if f"#{kind}." in str(made["@odata.type"])
    ]
