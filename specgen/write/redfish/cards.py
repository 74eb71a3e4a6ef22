"""Network adapters with their ports."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import CAGES
from specgen.write.redfish.resource_tree import (
    ENABLED,
    Tree,
    filled,
    identity,
    number,
    place,
    refs,
)
from specgen.write.redfish.slots import in_use

_MEDIA = {"copper": "Electrical", "fibre": "Optical"}


def adapters(tree: Tree, devices: dict[str, str]) -> dict[str, str]:
    """Network adapters, those soldered on too."""
    folder = f"{tree.chassis}/NetworkAdapters"
    made = [_adapter(tree, folder, devices, *each) for each in tree.holding("network-adapter")]
    return tree.collect(folder, "NetworkAdapter", "Network adapters", made)


def _adapter(
    tree: Tree, folder: str, devices: dict[str, str], position: PositionData, part: PartData
) -> str:
    path = tree.fresh(folder, position.name)
    ports = [
        tree.add(
            tree.fresh(f"{path}/Ports", port.name),
            "Port",
            port.name,
            PortId=port.name,
            PortType="BidirectionalPort",
            PortProtocol="Ethernet",
            PortMedium=_MEDIA.get(port.medium),
            LinkNetworkTechnology="Ethernet",
            MaxSpeedGbps=number(port.gigabits),
            SFP={"SupportedSFPTypes": [CAGES[port.connector]]} if port.connector in CAGES else None,
            Status=ENABLED,
        )
        for port in part.ethernet
    ]
    controller = filled(
        {
            "PCIeInterface": in_use(position),
            "ControllerCapabilities": {"NetworkPortCount": len(ports)},
            "Links": filled(
                {"PCIeDevices": refs(devices[n] for n in (position.name,) if n in devices)}
            ),
        }
    )
    return tree.add(
        path,
        "NetworkAdapter",
        position.name,
        **identity(part),
        Controllers=[controller],
        Ports=tree.collect(f"{path}/Ports", "Port", "Ports", ports),
        Location=place(position, "Slot"),
        Status=ENABLED,
    )
