"""Processors, accelerators and memory."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import MEMORY, MODULES
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    Resource,
    Tree,
    amount,
    filled,
    identity,
    number,
    place,
    ref,
    stated,
    whole,
)
from specgen.write.redfish.slots import generation, in_use


def processors(tree: Tree, devices: dict[str, str]) -> dict[str, str]:
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
                MaxSpeedMHz=whole(part, "max_clock", "MHz") or whole(part, "base_clock", "MHz"),
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
            SystemInterface=_host_link(position, part),
            Location=place(position, "Slot"),
            Status=ENABLED,
            Links={"PCIeDevice": ref(devices[position.name])} if position.name in devices else None,
        )
        made.append(path)
    return tree.collect(folder, "Processor", "Processors", made)


def _host_link(position: PositionData, part: PartData) -> Resource | None:
    """The link of an accelerator to the host: what it runs at, and what the part itself can."""
    used = in_use(position)
    if used is None:
        return None
    lanes, most = stated(part, "lanes"), stated(part, "generation")
    own: Resource = {
        "MaxLanes": None if lanes is None else int(str(lanes).removeprefix("x")),
        "MaxPCIeType": generation(most) if isinstance(most, int) else None,
    }
    return {"InterfaceType": "PCIe", "PCIe": filled({**used, **own})}


def memory(tree: Tree) -> dict[str, str]:
    """Memory modules with their slots, empty ones too. Speeds are transfers, as DSP8010 counts.

    What is not there is absent, whether or not its processor is; only what is there can be offline.
    """
    folder = f"{tree.system}/Memory"
    speeds = {
        fact.subject: fact.value
        for fact in tree.build.facts
        if fact.key == f"memory.{fact.subject}.speed" and fact.unit == "MT/s"
    }
    places = _memory_places(tree)
    made = []
    for position in tree.build.positions:
        if "memory-module" not in position.takes:
            continue
        path, part = tree.fresh(folder, position.name), tree.part(position)
        where, at = place(position, "Slot"), places.get(position.name)
        if part is None:
            tree.add(
                path, "Memory", position.name, MemoryLocation=at, Location=where, Status=ABSENT
            )
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
                AllowedSpeedsMHz=[s for s in (whole(part, "speed", "MT/s"),) if s is not None],
                OperatingSpeedMhz=None if running is None else int(str(running)),
                ErrorCorrection=(
                    "NoECC" if stated(part, "error_correction") == "no" else "SingleBitECC"
                ),
                MaxTDPMilliWatts=_milliwatts(number(amount(part, "power.maximum", "W"))),
                MemoryLocation=at,
                Location=where,
                Status=ENABLED,
            )
        made.append(path)
    return tree.collect(folder, "Memory", "Memory", made)


def _memory_places(tree: Tree) -> dict[str, Resource]:
    """Processor, channel and slot of each memory position, counted from one in their order."""
    sockets: dict[str, dict[str, list[str]]] = {}
    for position in tree.build.positions:
        if "processor" in position.takes:
            sockets.setdefault(position.name, {})
        elif "memory-module" in position.takes and position.of and position.channel:
            channels = sockets.setdefault(position.of, {})
            channels.setdefault(position.channel, []).append(position.name)
    return {
        name: {"Socket": socket, "Channel": channel, "Slot": slot}
        for socket, channels in enumerate(sockets.values(), 1)
        for channel, names in enumerate(channels.values(), 1)
        for slot, name in enumerate(names, 1)
    }


def _milliwatts(watts: int | float | None) -> list[int] | None:
    return None if watts is None else [round(watts * 1000)]
