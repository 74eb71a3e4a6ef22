"""Network adapters with their ports, and the slots that cards go into."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import CAGES, CARDS, MOST_GENERATION, SLOT_FORMS
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    Resource,
    Tree,
    filled,
    identity,
    number,
    place,
    ref,
    stated,
)

_MEDIA = {"copper": "Electrical", "fibre": "Optical"}


def adapters(tree: Tree) -> dict[str, str]:
    """Network adapters, those soldered on too."""
    folder = f"{tree.chassis}/NetworkAdapters"
    made = [_adapter(tree, folder, *each) for each in tree.holding("network-adapter")]
    return tree.collect(folder, "NetworkAdapter", "Network adapters", made)


def _adapter(tree: Tree, folder: str, position: PositionData, part: PartData) -> str:
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
    link = position.link
    pcie: Resource | None = None
    if link is not None and link.protocol == "pcie" and not link.broken:
        pcie = {"LanesInUse": link.lanes, "PCIeType": _generation(link.generation)}
    controller = filled(
        {
            "PCIeInterface": filled(pcie) if pcie else None,
            "ControllerCapabilities": {"NetworkPortCount": len(ports)},
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


def slots(tree: Tree) -> dict[str, str]:
    """Slots and mezzanines that cards go into, empty and unusable ones too."""
    found = [
        position
        for position in tree.build.positions
        if CARDS & set(position.takes) and position.how != "fixed" and "board" not in position.form
    ]
    path = f"{tree.chassis}/PCIeSlots"
    tree.add(path, "PCIeSlots", "Card slots", Slots=[_slot(tree, each) for each in found])
    return ref(path)


def _slot(tree: Tree, position: PositionData) -> Resource:
    link = position.link
    pcie = link if link is not None and link.protocol == "pcie" else None
    part = tree.part(position)
    state = ENABLED if part is not None else ABSENT
    if position.state in ("unusable", "blocked"):
        state = {"State": "UnavailableOffline"}
    carried = str(stated(part, "form")) if part is not None else ""
    form = next((SLOT_FORMS[each] for each in (*position.form, carried) if each in SLOT_FORMS), "")
    return filled(
        {
            "SlotType": form or _length(position),
            "Lanes": pcie.wired if pcie and pcie.wired else None,
            "PCIeType": _generation(pcie.generation) if pcie else None,
            "HotPluggable": position.swap == "hot",
            "Location": place(position, "Slot"),
            "Status": state,
        }
    )


def _length(position: PositionData) -> str | None:
    if position.height == "low":
        return "LowProfile"
    return {"full": "FullLength", "half": "HalfLength"}.get(position.length or "")


def _generation(generation: int) -> str | None:
    return f"Gen{generation}" if 1 <= generation <= MOST_GENERATION else None
