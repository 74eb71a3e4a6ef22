"""Every resource says of its part what the part's definition and the facts of its place say."""

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any, Final

from specgen.document.case import Case
from specgen.document.tree import Value
from specgen.fitness import field_of
from specgen.messages import ENGLISH
from specgen.model import Part
from specgen.quantity import Quantity
from specgen.site.downloads import OFFERS, data_files
from tests.consistency.expected import agrees
from tests.consistency.printed import Project

Resource = Mapping[str, Any]

OF_PARTS: Final[Mapping[str, Mapping[str, tuple[str, str]]]] = {
    "Drive": {"CapacityBytes": ("capacity", "B")},
    "Memory": {
        "CapacityMiB": ("capacity", "MiB"),
        "RankCount": ("ranks", ""),
        "AllowedSpeedsMHz": ("speed", "MT/s"),
    },
    "PCIeDevice": {"PCIeInterface.MaxLanes": ("lanes", "")},
    "StorageController": {"CacheSummary.TotalCacheSizeMiB": ("cache", "MiB")},
    "Processor": {"TotalCores": ("cores", ""), "TDPWatts": ("tdp", "W")},
}
"""Properties that say a field of the part in the place that the resource is named after."""
OF_PLACES: Final[Mapping[str, Mapping[str, tuple[str, str]]]] = {
    "Memory": {"OperatingSpeedMhz": ("memory.{owner}.speed", "MT/s")},
    "PowerSubsystem": {"CapacityWatts": ("power.installed", "W")},
    "Chassis": {"MinPowerWatts": ("power.idle.input", "W")},
    "ComputerSystem": {"ProcessorSummary.LogicalProcessorCount": ("processors.threads", "")},
}
"""Properties that say a fact; `owner` is the processor that a slot belongs to."""
RUNNING: Final = ("PCIeDevice", "PCIeInterface.LanesInUse")


def _values(resource: Resource, path: str) -> Iterator[Any]:
    found: Any = resource
    for step in path.split("."):
        found = found.get(step) if isinstance(found, dict) else None
    yield from found if isinstance(found, list) else () if found is None else (found,)


def _in_unit(value: Any, unit: str) -> Any:
    return value.in_unit(unit) if isinstance(value, Quantity) else value


def _wanted(case: Case, kind: str, resource: Resource) -> Iterator[tuple[str, Any, Any]]:
    """Of each property with a number: what it says, and what it should."""
    label = resource.get("Location", resource.get("PhysicalLocation", {}))
    name = label.get("PartLocation", {}).get("ServiceLabel", resource["Name"])
    place = case.assembly.places.get(name)
    part: Part | None = None if place is None else place.part
    for path, (field, unit) in OF_PARTS.get(kind, {}).items():
        for said in _values(resource, path) if part is not None else ():
            yield path, said, _in_unit(field_of(part, field), unit)
    for path, (key, unit) in OF_PLACES.get(kind, {}).items():
        owner = "" if place is None else place.of or ""
        for said in _values(resource, path):
            yield path, said, _in_unit(case.facts.value(key.format(owner=owner)), unit)
    if kind == RUNNING[0] and isinstance(
        running := case.facts.value(f"expansion.{name}.running"), str
    ):
        found = re.match(r"x(\d+)", running)
        for said in _values(resource, RUNNING[1]) if found else ():
            yield RUNNING[1], said, int(found[1])  # type: ignore[index]


def test_resources_say_of_their_parts_what_the_definitions_and_facts_do(project: Project):
    seen: Counter[tuple[str, str]] = Counter()
    for case in (each for each in project.shown if each.sound):
        made = data_files(case, tuple(OFFERS), None)["redfish.json"]
        for resource in json.loads(made.decode(), parse_float=Decimal).values():
            kind = re.match(r"#(\w+)\.", str(resource.get("@odata.type", "#None.")))[1]  # type: ignore[index]
            for name, said, should in _wanted(case, kind, resource):
                seen[kind, name] += 1
                told = Value(f"{Decimal(said):f}")
                assert agrees(told, should, ENGLISH), (case.thing.id, resource["Name"], name, said)
    tables = (OF_PARTS, OF_PLACES, {RUNNING[0]: {RUNNING[1]: ()}})
    assert seen.keys() == {
        (kind, path) for table in tables for kind in table for path in table[kind]
    }


def test_collections_count_their_members(project: Project):
    for case in (each for each in project.shown if each.sound):
        made = data_files(case, tuple(OFFERS), None)["redfish.json"]
        for at, resource in json.loads(made.decode()).items():
            for name, listed, count in _counted(resource):
                assert len(listed) == count, (case.thing.id, at, name)


def _counted(resource: Any) -> Iterator[tuple[str, list[object], int]]:
    if isinstance(resource, dict):
        for key, value in resource.items():
            if key.endswith("@odata.count"):
                name = key.removesuffix("@odata.count")
                yield name, resource[name], value
            yield from _counted(value)
    elif isinstance(resource, list):
        for each in resource:
            yield from _counted(each)
