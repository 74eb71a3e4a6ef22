"""Controllers with their drives and volumes; drives that processors serve have none between."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import DRIVE_FORMS, MEDIA, PROTOCOLS, RAID, RATES
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    STANDBY,
    Tree,
    filled,
    ident,
    identity,
    place,
    ref,
    refs,
    stated,
    whole,
)
from specgen.write.redfish.slots import in_use

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
        for position, _ in entries:
            drives[position.name] = tree.fresh(f"{tree.chassis}/Drives", position.name)
            homed[position.name] = name
    volumes, joined = _volumes(tree, homes, homed, drives)
    for name, entries in served.items():
        for position, part in entries:
            path = drives[position.name]
            _drive(tree, path, homes[name], joined.get(path, []), position, part)
    bays = [*drives.values(), *_empty_bays(tree)]
    tree.collect(f"{tree.chassis}/Drives", "Drive", "Drives", bays)
    for name, home in homes.items():
        controller = controllers.get(name)
        tree.add(
            home,
            "Storage",
            f"Storage of {name}" if controller else "Drives on the processors' lanes",
            Controllers=_controllers(tree, home, controller),
            Drives=refs(drives[position.name] for position, _ in served[name]),
            **{"Drives@odata.count": len(served[name])},
            Volumes=volumes[name],
            Status=ENABLED,
            Links={"Enclosures": refs([tree.chassis])},
        )
    return tree.collect(folder, "Storage", "Storage", homes.values())


def _empty_bays(tree: Tree) -> list[str]:
    """Places for drives with none in them. They belong to the chassis alone, since a storage
    subsystem has the drives that are attached to it."""
    return [
        tree.add(
            tree.fresh(f"{tree.chassis}/Drives", position.name),
            "Drive",
            position.name,
            SlotFormFactor=next(filter(None, map(DRIVE_FORMS.get, position.form)), None),
            PhysicalLocation=place(position, "Bay"),
            Status=ABSENT,
            Links={"Chassis": ref(tree.chassis)},
        )
        for position in tree.build.positions
        if "drive" in position.takes and tree.part(position) is None
    ]


def _controllers(
    tree: Tree, home: str, controller: tuple[PositionData, PartData] | None
) -> dict[str, str]:
    made = [] if controller is None else [_controller(tree, home, *controller)]
    return tree.collect(f"{home}/Controllers", "StorageController", "Controllers", made)


def _controller(tree: Tree, home: str, position: PositionData, part: PartData) -> str:
    levels = stated(part, "raid")
    named = [RAID.get(int(level)) for level in levels] if isinstance(levels, tuple) else []
    cache = whole(part, "cache", "MiB")
    return tree.add(
        f"{home}/Controllers/{ident(position.name)}",
        "StorageController",
        part.name,
        **identity(part),
        SupportedDeviceProtocols=sorted(PROTOCOLS[each] for each in part.interfaces),
        SupportedRAIDTypes=[level for level in named if level],
        CacheSummary={"TotalCacheSizeMiB": cache} if cache else None,
        PCIeInterface=in_use(position),
        Location=place(position, "Slot"),
        Status=ENABLED,
    )


def _drive(
    tree: Tree,
    path: str,
    home: str,
    volumes: list[str],
    position: PositionData,
    part: PartData,
) -> None:
    interface = str(stated(part, "interface"))
    generation = stated(part, "generation")
    link = position.link
    able = RATES.get((interface, generation if isinstance(generation, int) else 0))
    runs = RATES.get((link.protocol, link.generation)) if link and not link.broken else None
    spare = _spare(tree, position.name)
    tree.add(
        path,
        "Drive",
        position.name,
        MediaType=MEDIA.get(str(stated(part, "medium"))),
        Protocol=PROTOCOLS.get(interface),
        **identity(part),
        CapacityBytes=whole(part, "capacity", "B"),
        DriveFormFactor=DRIVE_FORMS.get(str(stated(part, "form"))),
        CapableSpeedGbs=able,
        NegotiatedSpeedGbs=runs,
        HotspareType=spare,
        PhysicalLocation=place(position, "Bay"),
        Status=STANDBY if spare else ENABLED,
        Links=filled(
            {"Chassis": ref(tree.chassis), "Storage": ref(home), "Volumes": refs(volumes)}
        ),
    )


def _spare(tree: Tree, name: str) -> str | None:
    served = sum(name in volume.spares for volume in tree.build.volumes)
    return None if not served else "Dedicated" if served == 1 else "Global"


def _volumes(
    tree: Tree, homes: dict[str, str], homed: dict[str, str], drives: dict[str, str]
) -> tuple[dict[str, dict[str, str]], dict[str, list[str]]]:
    """Volumes by storage subsystem, that of their first drive; and by the drives in them."""
    made: dict[str, list[str]] = {name: [] for name in homes}
    joined: dict[str, list[str]] = {}
    for volume in tree.build.volumes:
        members = [name for name in volume.drives if name in drives]
        if not members:
            continue
        home = homed[members[0]]
        spares = [
            drives[name]
            for name in volume.spares
            if name in drives and _spare(tree, name) == "Dedicated"
        ]
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
        made[home].append(path)
        for name in members:
            joined.setdefault(drives[name], []).append(path)
    listed = {
        home: tree.collect(f"{homes[home]}/Volumes", "Volume", "Volumes", paths)
        for home, paths in made.items()
    }
    return listed, joined
