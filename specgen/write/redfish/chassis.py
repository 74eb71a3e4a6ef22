"""Fans, supplies with their redundancy, cache protection modules."""

import re
from collections.abc import Collection
from decimal import Decimal

from specgen.document.data import OutputData, PartData, PositionData
from specgen.write.redfish.enumerations import PLUGS
from specgen.write.redfish.resource_tree import (
    ABSENT,
    ENABLED,
    Resource,
    Tree,
    identity,
    number,
    place,
    ref,
    refs,
    stated,
)

# Nominal voltages of DSP8010 (Circuit, NominalVoltageType) that lie in a supply's range.
_NOMINAL = (
    ("ac", "AC100To127V", 100, 127),
    ("ac", "AC200To240V", 200, 240),
    ("dc", "DCNeg48V", -48, -48),
    ("dc", "DC48V", 48, 48),
    ("dc", "DC240V", 240, 240),
    ("dc", "DC380V", 380, 380),
    ("dc", "DC400V", 400, 400),
    ("dc", "DC800V", 800, 800),
)
_SINGLE = (
    ("ac", "AC120V", 120, 120),
    ("ac", "AC208V", 208, 208),
    ("ac", "AC230V", 230, 230),
    ("ac", "AC240V", 240, 240),
    ("ac", "AC277V", 277, 277),
    ("ac", "AC400V", 400, 415),
    ("ac", "AC480V", 480, 480),
)
"""Of a range that none of those covers."""


def fans(tree: Tree) -> dict[str, str]:
    """The thermal subsystem: fans and the places that have none."""
    home = f"{tree.chassis}/ThermalSubsystem"
    made = []
    for position in tree.build.positions:
        if "fan" not in position.takes:
            continue
        path, part = tree.fresh(f"{home}/Fans", position.name), tree.part(position)
        where = place(position, "Bay")
        if part is None:
            tree.add(path, "Fan", position.name, Location=where, Status=ABSENT)
        else:
            tree.add(
                path,
                "Fan",
                position.name,
                PhysicalContext="Chassis",
                **identity(part),
                HotPluggable=position.hot_swap is True,
                Location=where,
                Status=ENABLED,
            )
        made.append(path)
    listed = tree.collect(f"{home}/Fans", "Fan", "Fans", made)
    return ref(tree.add(home, "ThermalSubsystem", "Cooling", Fans=listed, Status=ENABLED))


def supplies(tree: Tree) -> dict[str, str]:
    """The power subsystem: supplies, places that have none, cache protection modules."""
    home = f"{tree.chassis}/PowerSubsystem"
    made: list[str] = []
    working: dict[str, PartData] = {}
    for position in tree.build.positions:
        if "power-supply" not in position.takes:
            continue
        path, part = tree.fresh(f"{home}/PowerSupplies", position.name), tree.part(position)
        if part is None:
            where = place(position, "Bay")
            tree.add(path, "PowerSupply", position.name, Location=where, Status=ABSENT)
        else:
            _supply(tree, path, position, part)
            working[path] = part
        made.append(path)
    packs = [
        tree.add(
            tree.fresh(f"{home}/Batteries", position.name),
            "Battery",
            position.name,
            **identity(part),
            Location=place(position, "Connector"),
            Status=ENABLED,
        )
        for position, part in tree.holding("cache-protection")
    ]
    listed = tree.collect(f"{home}/PowerSupplies", "PowerSupply", "Power supplies", made)
    kept = tree.collect(f"{home}/Batteries", "Battery", "Cache protection modules", packs)
    path = tree.add(
        home,
        "PowerSubsystem",
        "Power",
        CapacityWatts=number(_capacity(tree, working.values())),
        Allocation={"RequestedWatts": number(tree.fact("power.load", "W"))},
        PowerSupplies=listed,
        PowerSupplyRedundancy=_redundancy(tree, len(made), list(working)),
        Batteries=kept,
        Status=ENABLED,
    )
    return ref(path)


def _capacity(tree: Tree, supplies: Collection[PartData]) -> Decimal:
    """What the supplies give at the line voltage; where none is stated, what they give at most."""
    at_line = tree.fact("power.supply_output", "W")
    if at_line is not None:
        return Decimal(at_line) * len(supplies)
    return sum((_greatest(part) for part in supplies), Decimal(0))


def _redundancy(tree: Tree, places: int, working: list[str]) -> list[Resource]:
    """How many supplies are needed and how many may fail, as the conditions ask."""
    asked = tree.build.conditions.get("redundancy")
    found = re.fullmatch(r"(\d+)\+(\d+)", str(asked.value)) if asked is not None else None
    if not working or (asked is not None and found is None and asked.value != "none"):
        return []
    needed, spare = (int(found[1]), int(found[2])) if found else (len(working), 0)
    return [
        {
            "RedundancyType": "NPlusM" if spare else "NotRedundant",
            "MinNeededInGroup": needed,
            "MaxSupportedInGroup": places,
            **({"MinNeededForFaultTolerance": needed + 1} if spare else {}),
            "RedundancyGroup": refs(working),
            "Status": ENABLED,
        }
    ]


def _supply(tree: Tree, path: str, position: PositionData, part: PartData) -> None:
    ranges = [
        {"NominalVoltageType": name, "CapacityWatts": number(output.watts)}
        for output in part.outputs
        for name in _nominal(output, _NOMINAL) or _nominal(output, _SINGLE)
    ]
    supplied = {output.supplied for output in part.outputs}
    tree.add(
        path,
        "PowerSupply",
        position.name,
        PowerSupplyType="ACorDC" if len(supplied) > 1 else next(iter(supplied), "").upper() or None,
        **identity(part),
        PowerCapacityWatts=number(_greatest(part)),
        InputRanges=ranges,
        EfficiencyRatings=[
            {
                "LoadPercent": number(point.load * 100),
                "EfficiencyPercent": number(point.efficiency * 100),
            }
            for point in part.efficiency
        ],
        PlugType=PLUGS.get(str(stated(part, "inlet"))),
        HotPluggable=position.hot_swap is True,
        Location=place(position, "Bay"),
        Status=ENABLED,
        Links={"PoweringChassis": refs([tree.chassis])},
    )


def _nominal(output: OutputData, table: tuple[tuple[str, str, int, int], ...]) -> list[str]:
    """The nominal voltages of a table that lie in a range."""
    ends = sorted((output.from_volts, output.to_volts))
    return [
        name
        for supplied, name, low, high in table
        if output.supplied == supplied and ends[0] <= low and high <= ends[1]
    ]


def _greatest(part: PartData) -> Decimal:
    return max((output.watts for output in part.outputs), default=Decimal(0))
