"""PCIe: the devices that cards and drives are, and the slots that they go into."""

from specgen.document.data import PartData, PositionData
from specgen.write.redfish.enumerations import CARDS, DRIVE_SLOTS, MOST_GENERATION, SLOT_FORMS
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    UNUSABLE,
    Resource,
    Tree,
    filled,
    identity,
    place,
    ref,
    refs,
    stated,
)


def devices(tree: Tree) -> dict[str, str]:
    """The address of the device in each position on PCIe; an empty slot has one that is absent.

    A position that only switches or cables pass through has none.
    """
    folder = f"{tree.chassis}/PCIeDevices"
    made = {}
    for position in tree.build.positions:
        if _is_slot(position) or (tree.part(position) is not None and _on_pcie(position)):
            made[position.name] = _device(tree, folder, position)
    tree.collect(folder, "PCIeDevice", "PCIe devices", made.values())
    return made


def _on_pcie(position: PositionData) -> bool:
    link = position.link
    goes = CARDS | {"drive"}
    return link is not None and link.protocol == "pcie" and bool(goes & set(position.takes))


def _device(tree: Tree, folder: str, position: PositionData) -> str:
    part = tree.part(position)
    fixed = position.how == "fixed" or "board" in position.form
    return tree.add(
        tree.fresh(folder, position.name),
        "PCIeDevice",
        position.name,
        **(identity(part) if part is not None else {}),
        PCIeInterface=_interface(position, part) if part is not None else None,
        Slot=None if fixed else _slot(tree, position),
        Status=ENABLED if part is not None else ABSENT,
        Links={"Chassis": refs([tree.chassis])},
    )


def _interface(position: PositionData, part: PartData) -> Resource | None:
    """What the device could do, and what it does with this slot."""
    able = stated(part, "generation")
    running = in_use(position) or {}
    return filled(
        {
            "MaxLanes": _lanes(part),
            "MaxPCIeType": generation(able) if isinstance(able, int) else None,
            **running,
        }
    )


def _lanes(part: PartData) -> int | None:
    """The lanes that a part uses, which are stated as `x8`."""
    said = str(stated(part, "lanes") or "").removeprefix("x")
    return int(said) if said.isdecimal() else None


def in_use(position: PositionData) -> Resource | None:
    """Lanes and generation at which the part in a position runs, None where nothing links it."""
    link = position.link
    if link is None or link.protocol != "pcie" or link.broken:
        return None
    return filled({"LanesInUse": link.lanes, "PCIeType": generation(link.generation)})


def slots(tree: Tree, made: dict[str, str]) -> dict[str, str]:
    """Slots and mezzanines that cards go into, empty and unusable ones too."""
    found = [position for position in tree.build.positions if _is_slot(position)]
    path = f"{tree.chassis}/PCIeSlots"
    listed = []
    for position in found:
        slot = _slot(tree, position)
        slot["Status"] = _state(tree, position)
        if tree.part(position) is not None:
            slot["Links"] = {"PCIeDevice": refs([made[position.name]])}
        listed.append(slot)
    tree.add(path, "PCIeSlots", "Card slots", Slots=listed)
    return ref(path)


def _is_slot(position: PositionData) -> bool:
    cards = CARDS & set(position.takes)
    return bool(cards) and position.how != "fixed" and "board" not in position.form


def _slot(tree: Tree, position: PositionData) -> Resource:
    """What the place offers, whatever is in it."""
    link = position.link
    pcie = link if link is not None and link.protocol == "pcie" else None
    part = tree.part(position)
    carried = str(stated(part, "form")) if part is not None else ""
    forms = (*position.form, carried)
    known = {**SLOT_FORMS, **DRIVE_SLOTS}
    form = next((known[each] for each in forms if each in known), "")
    drive = "drive" in position.takes
    return filled(
        {
            "SlotType": form or ("M2" if drive and "m.2" in carried else _length(position)),
            "Lanes": pcie.wired if pcie and pcie.wired else None,
            "PCIeType": generation(pcie.slot_generation) if pcie else None,
            "HotPluggable": position.swap == "hot",
            "Location": place(position, "Bay" if drive else "Slot"),
        }
    )


def _state(tree: Tree, position: PositionData) -> Resource:
    """The state of a slot itself, which is there when nothing can go into it."""
    if position.state in ("unusable", "blocked"):
        return UNUSABLE
    return ENABLED if tree.part(position) is not None else ABSENT


def _length(position: PositionData) -> str | None:
    if position.height == "low":
        return "LowProfile"
    return {"full": "FullLength", "half": "HalfLength"}.get(position.length or "")


def generation(number: int | None) -> str | None:
    """A PCIe generation as DSP8010 names it; None for what it has no name for."""
    return f"Gen{number}" if number is not None and 1 <= number <= MOST_GENERATION else None
