"""Processors, accelerators and memory."""

from specgen.write.redfish.enumerations import MEMORY, MODULES
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    Tree,
    amount,
    identity,
    number,
    place,
    stated,
    whole,
)


def processors(tree: Tree) -> dict[str, str]:
    """Processors with their sockets, empty ones too, and accelerators."""
    folder = f"{tree.system}/Processors"
    made = []
    for position in tree.build.positions:
        if "processor" not in position.takes:
            continue
        path, part = tree.fresh(folder, position.name), tree.part(position)
        where = place(position, "Socket")
        if part is None:
            tree.add(path, "Processor", position.name, Location=where, Status=ABSENT)
        else:
            tree.add(
                path,
                "Processor",
                position.name,
                ProcessorType="CPU",
                **identity(part),
                Socket=position.name,
                TotalCores=stated(part, "cores"),
                TotalThreads=stated(part, "threads"),
                BaseSpeedMHz=whole(part, "base_clock", "MHz"),
                MaxSpeedMHz=whole(part, "boost_clock", "MHz"),
                TDPWatts=whole(part, "tdp", "W"),
                Location=where,
                Status=ENABLED,
            )
        made.append(path)
    for position, part in tree.holding("accelerator"):
        path = tree.fresh(folder, position.name)
        size = whole(part, "memory", "MiB")
        tree.add(
            path,
            "Processor",
            position.name,
            ProcessorType="Accelerator",
            **identity(part),
            MaxTDPWatts=whole(part, "power.maximum", "W"),
            MemorySummary={"TotalMemorySizeMiB": size} if size else None,
            Location=place(position, "Slot"),
            Status=ENABLED,
        )
        made.append(path)
    return tree.collect(folder, "Processor", "Processors", made)


def memory(tree: Tree) -> dict[str, str]:
    """Memory modules with their slots, empty ones too. Speeds are transfers, as DSP8010 counts."""
    folder = f"{tree.system}/Memory"
    speeds = {
        fact.subject: fact.value
        for fact in tree.build.facts
        if fact.key == f"memory.{fact.subject}.speed" and fact.unit == "MT/s"
    }
    made = []
    for position in tree.build.positions:
        if "memory-module" not in position.takes:
            continue
        path, part = tree.fresh(folder, position.name), tree.part(position)
        where = place(position, "Slot")
        if part is None:
            tree.add(path, "Memory", position.name, Location=where, Status=ABSENT)
        else:
            running = speeds.get(position.of or "")
            tree.add(
                path,
                "Memory",
                position.name,
                MemoryType="DRAM",
                MemoryDeviceType=MEMORY.get(str(stated(part, "technology"))),
                BaseModuleType=MODULES.get(str(stated(part, "form"))),
                **identity(part),
                CapacityMiB=whole(part, "capacity", "MiB"),
                RankCount=stated(part, "ranks"),
                AllowedSpeedsMHz=[whole(part, "speed", "MT/s")],
                OperatingSpeedMhz=None if running is None else int(str(running)),
                ErrorCorrection=(
                    "NoECC" if stated(part, "error_correction") == "no" else "SingleBitECC"
                ),
                MaxTDPMilliWatts=_milliwatts(number(amount(part, "power.maximum", "W"))),
                Location=where,
                Status=ENABLED,
            )
        made.append(path)
    return tree.collect(folder, "Memory", "Memory", made)


def _milliwatts(watts: int | float | None) -> list[int] | None:
    return None if watts is None else [round(watts * 1000)]
