"""Resources by address: made one by one, gathered into collections, each under an id of its own."""

import re
from collections.abc import Iterable
from decimal import Decimal

from specgen.document.data import BuildData, PartData, PositionData
from specgen.quantity import Quantity, parse_any
from specgen.write.redfish.enumerations import AREAS, VERSIONS

ROOT = "/redfish/v1"
_UNFIT = re.compile(r"[^A-Za-z0-9._]+")

Resource = dict[str, object]


class Tree:
    """The resources of one build."""

    def __init__(self, build: BuildData) -> None:
        self.build = build
        self.parts = {part.id: part for part in build.parts}
        self.facts = {fact.key: fact for fact in build.facts}
        self.resources: dict[str, Resource] = {}
        self.taken: set[str] = set()
        self.chassis = f"{ROOT}/Chassis/{ident(build.build)}"
        self.system = f"{ROOT}/Systems/{ident(build.build)}"

    def add(self, path: str, kind: str, name: str, **properties: object) -> str:
        """Keeps a resource and gives its address; properties that are None are left out."""
        self.resources[path] = {
            "@odata.id": path,
            "@odata.type": f"#{kind}.{VERSIONS[kind]}.{kind}",
            "Id": path.rsplit("/", 1)[-1] if path != ROOT else "RootService",
            "Name": name,
            **filled(properties),
        }
        return path

    def collect(self, path: str, kind: str, name: str, members: Iterable[str]) -> dict[str, str]:
        """Keeps a collection and gives the reference to it."""
        listed = refs(members)
        self.resources[path] = {
            "@odata.id": path,
            "@odata.type": f"#{kind}Collection.{kind}Collection",
            "Name": name,
            "Members": listed,
            "Members@odata.count": len(listed),
        }
        return ref(path)

    def fresh(self, folder: str, name: str) -> str:
        """An address in a folder for a name, unlike any that was given before."""
        path = wanted = f"{folder}/{ident(name)}"
        number = 2
        while path in self.taken:
            path, number = f"{wanted}-{number}", number + 1
        self.taken.add(path)
        return path

    def part(self, position: PositionData) -> PartData | None:
        """The part that works in a position."""
        if position.state != "filled" or position.part is None:
            return None
        return self.parts[position.part]

    def holding(self, *kinds: str) -> list[tuple[PositionData, PartData]]:
        """Positions in which parts of these kinds work."""
        found = ((position, self.part(position)) for position in self.build.positions)
        return [(at, part) for at, part in found if part is not None and part.kind in kinds]

    def fact(self, key: str, unit: str | None = None) -> Decimal | int | None:
        """The value of a fact that is a number in this unit, None where there is none such."""
        found = self.facts.get(key)
        if found is None or found.unit != unit or isinstance(found.value, bool):
            return None
        return found.value if isinstance(found.value, Decimal | int) else None


def ident(name: str) -> str:
    """A name as the last step of an address: `DIMM 1A1` is `DIMM-1A1`."""
    return _UNFIT.sub("-", name).strip("-") or "unnamed"


def ref(path: str) -> dict[str, str]:
    """A link to another resource, as the standard has it."""
    return {"@odata.id": path}


def refs(paths: Iterable[str]) -> list[dict[str, str]]:
    """Links to several."""
    return [ref(path) for path in paths]


def filled(properties: dict[str, object]) -> Resource:
    """Without properties that are not known. A list that is counted beside it is known to be
    empty."""
    return {
        key: value
        for key, value in properties.items()
        if value not in (None, {}, []) or (value == [] and f"{key}@odata.count" in properties)
    }


def number(value: Decimal | int | None) -> int | float | None:
    """A value as JSON holds it."""
    if value is None or isinstance(value, int):
        return value
    return int(value) if value == value.to_integral_value() else float(value)


def amount(part: PartData, field: str, unit: str) -> Decimal | None:
    """A declared quantity of a part in a unit, None where it is not declared."""
    stated = part.values.get(field)
    if stated is None or stated.unit is None:
        return None
    quantity = parse_any(f"{stated.value} {stated.unit}")
    assert isinstance(quantity, Quantity)
    return quantity.in_unit(unit)


def whole(part: PartData, field: str, unit: str) -> int | None:
    """The same, rounded to a whole number."""
    value = amount(part, field, unit)
    return None if value is None else round(value)


def stated(part: PartData, field: str) -> object:
    """A declared word or count, None where it is not declared."""
    entry = part.values.get(field)
    value = entry.value if entry is not None else None
    return number(value) if isinstance(value, Decimal) else value


def identity(part: PartData) -> Resource:
    """What tells a part from others, as its definition says."""
    return {"Manufacturer": part.maker, "Model": part.name, "PartNumber": part.number}


def place(position: PositionData, kind: str) -> Resource:
    """Where a position is, by the name printed on the board."""
    part_location = filled(
        {
            "ServiceLabel": position.name,
            "LocationType": "Embedded" if position.how == "fixed" else kind,
            "Reference": AREAS.get(position.area),
        }
    )
    return {"PartLocation": part_location}


ENABLED: Resource = {"State": "Enabled"}
ABSENT: Resource = {"State": "Absent"}
UNUSABLE: Resource = {"State": "UnavailableOffline"}
STANDBY: Resource = {"State": "StandbySpare"}
