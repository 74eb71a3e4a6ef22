"""Controllers with their drives and volumes; drives that processors serve have none between."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import DRIVE_FORMS, MEDIA, PROTOCOLS, RAID, RATES
from specgen.write.redfish.resource_tree import (
    ENABLED,
    Tree,
    ident,
    identity,
    place,
    ref,
    refs,
    stated,
    whole,
)

_CONTROLLERS = ("storage-controller", "boot-module")
_DIRECT = "Direct"


def storage(tree: Tree) -> dict[str, str]:
    """A storage subsystem for each controller, and one for drives on the processors' lanes."""
    folder = f"{tree.system}/Storage"
    controllers = {at.name: (at, part) for at, part in tree.holding(*_CONTROLLERS)}
    served: dict[str, list[tuple[PositionData, PartData]]] = {name: [] for name in controllers}
    for position, part in tree.holding("drive"):
        by = position.served_by if position.served_by in controllers else _DIRECT
        served.setdefault(by or _DIRECT, []).append((position, part))
    homes = {name: tree.fresh(folder, name) for name in served}
    drives: dict[str, str] = {}
    homed: dict[str, str] = {}
    for name, entries in served.items():
        for position, part in entries:
            drives[position.name] = _drive(tree, homes[name], position, part)
            homed[position.name] = name
    volumes = _volumes(tree, homes, homed, drives)
    for name, home in homes.items():
        controller = controllers.get(name)
        tree.add(
            home,
            "Storage",
            f"Storage of {name}" if controller else "Drives on the processors' lanes",
            Controllers=_controllers(tree, home, *controller) if controller else None,
            Drives=refs(drives[position.name] for position, _ in served[name]),
            **{"Drives@odata.count": len(served[name])},
            Volumes=volumes.get(name),
            Status=ENABLED,
            Links={"Enclosures": refs([tree.chassis])},
        )
    return tree.collect(folder, "Storage", "Storage", homes.values())


def _controllers(tree: Tree, home: str, position: PositionData, part: PartData) -> dict[str, str]:
    levels = stated(part, "raid")
    named = [RAID.get(int(level)) for level in levels] if isinstance(levels, tuple) else []
    cache = whole(part, "cache", "MiB")
    carried = sorted({PROTOCOLS[each] for each in _interfaces(tree, position.name)})
    link = position.link
    path = tree.add(
        f"{home}/Controllers/{ident(position.name)}",
        "StorageController",
        part.name,
        **identity(part),
        SupportedDeviceProtocols=carried,
        SupportedRAIDTypes=[level for level in named if level],
        CacheSummary={"TotalCacheSizeMiB": cache} if cache else None,
        PCIeInterface=(
            {"LanesInUse": link.lanes, "PCIeType": f"Gen{link.generation}"}
            if link and link.protocol == "pcie" and not link.broken
            else None
        ),
        Location=place(position, "Slot"),
        Status=ENABLED,
    )
    return tree.collect(f"{home}/Controllers", "StorageController", "Controllers", [path])


def _interfaces(tree: Tree, controller: str) -> set[str]:
    return {
        str(stated(part, "interface"))
        for position, part in tree.holding("drive")
        if position.served_by == controller
    }


def _drive(tree: Tree, home: str, position: PositionData, part: PartData) -> str:
    interface = str(stated(part, "interface"))
    generation = stated(part, "generation")
    link = position.link
    able = RATES.get((interface, generation if isinstance(generation, int) else 0))
    runs = RATES.get((link.protocol, link.generation)) if link and not link.broken else None
    return tree.add(
        tree.fresh(f"{home}/Drives", position.name),
        "Drive",
        position.name,
        MediaType=MEDIA.get(str(stated(part, "medium"))),
        Protocol=PROTOCOLS.get(interface),
        **identity(part),
        CapacityBytes=whole(part, "capacity", "B"),
        DriveFormFactor=DRIVE_FORMS.get(str(stated(part, "form"))),
        CapableSpeedGbs=able,
        NegotiatedSpeedGbs=runs,
        HotspareType=_spare(tree, position.name),
        PhysicalLocation=place(position, "Bay"),
        Status=ENABLED,
        Links={"Chassis": ref(tree.chassis)},
    )


def _spare(tree: Tree, name: str) -> str | None:
    if any(name in volume.spares for volume in tree.build.volumes):
        return "Dedicated"
    return None


def _volumes(
    tree: Tree, homes: dict[str, str], homed: dict[str, str], drives: dict[str, str]
) -> dict[str, dict[str, str]]:
    """Volumes by storage subsystem: that of their first drive."""
    made: dict[str, list[str]] = {}
    for volume in tree.build.volumes:
        members = [name for name in volume.drives if name in drives]
        if not members:
            continue
        home = homed[members[0]]
        spares = [drives[name] for name in volume.spares if name in drives]
        path = tree.add(
            tree.fresh(f"{homes[home]}/Volumes", volume.name),
            "Volume",
            volume.name,
            RAIDType=RAID.get(volume.level),
            CapacityBytes=volume.usable_bytes,
            Status=ENABLED,
            Links={
                "Drives": refs(drives[name] for name in members),
                "Drives@odata.count": len(members),
                "DedicatedSpareDrives": refs(spares),
                "DedicatedSpareDrives@odata.count": len(spares),
            },
        )
        made.setdefault(home, []).append(path)
    return {
        home: tree.collect(f"{homes[home]}/Volumes", "Volume", "Volumes", paths)
        for home, paths in made.items()
    }
