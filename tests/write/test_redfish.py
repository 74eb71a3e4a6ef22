"""A build in Redfish: valid against DMTF's schemas, closed in itself, true to the build."""

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT7

from specgen.document.data import build_data
from specgen.pipeline import Survey
from specgen.write import redfish
from specgen.write.redfish.enumerations import VERSIONS
from specgen.write.redfish.resource_tree import Tree, ident

STANDARDS = Path(__file__).resolve().parents[3] / "shared/standards/redfish"
BASE = "http://redfish.dmtf.org/schemas/v1/"
NAMES = (
    "lantern-office",
    "boathouse-archive",
    "boathouse-tiers",
    "capstan-eyes",
    "pocket-lamp-room",
)

published = pytest.mark.skipif(
    not STANDARDS.is_dir(), reason="the published Redfish schemas are not beside the project"
)


@pytest.fixture(scope="module")
def written(demo: Survey) -> dict[str, dict[str, Any]]:
    return {name: json.loads(redfish.text(build_data(demo.cases[name]))) for name in NAMES}


def _retrieve(uri: str) -> Resource[Any]:
    path = STANDARDS / uri.removeprefix(BASE)
    if path.is_file():
        content = json.loads(path.read_text(encoding="utf-8"))
    else:
        # Not there means that anything goes, as the folder's README asks; but an older version of
        # a schema that is there must not let through what the one there refuses.
        family, _, version = path.name.partition(".v")
        refused = bool(version) and any(STANDARDS.glob(f"{family}.v*.json"))
        content = {"definitions": _Every(not refused)}
    return Resource.from_contents(content, default_specification=DRAFT7)


class _Every(dict[str, Any]):
    """Definitions of a schema that is not there: each is the same."""

    def __init__(self, allowed: bool) -> None:
        super().__init__()
        self.allowed = allowed

    def __getitem__(self, key: str) -> Any:
        return self.allowed


REGISTRY: Registry[Any] = Registry(retrieve=_retrieve)  # type: ignore[call-arg]


@cache
def _validator(schema: str, kind: str) -> Draft7Validator:
    return Draft7Validator({"$ref": f"{BASE}{schema}.json#/definitions/{kind}"}, registry=REGISTRY)


def problems(resource: dict[str, Any]) -> list[str]:
    kind, _, rest = resource["@odata.type"].removeprefix("#").partition(".")
    schema = f"{kind}.{rest.partition('.')[0]}" if "." in rest else kind
    if not (STANDARDS / f"{schema}.json").is_file():
        return []
    found = _validator(schema, kind).iter_errors(resource)
    return [f"{resource['@odata.id']} {list(e.absolute_path)}: {e.message[:200]}" for e in found]


@published
@pytest.mark.parametrize("name", NAMES)
def test_every_resource_is_valid_against_the_published_schema(written: dict[str, Any], name: str):
    assert [line for each in written[name].values() for line in problems(each)] == []


@published
def test_the_check_can_fail(written: dict[str, Any]):
    resource = next(r for r in written["lantern-office"].values() if "#Drive." in r["@odata.type"])
    assert problems({**resource, "Surprise": 1})
    assert problems({**resource, "MediaType": "Paper"})
    assert problems({**resource, "CapacityBytes": "many"})


@published
def test_the_versions_named_are_those_of_the_published_release():
    for kind, version in VERSIONS.items():
        index = (
            (STANDARDS / f"{kind}.json").read_text(encoding="utf-8")
            if (STANDARDS / f"{kind}.json").is_file()
            else ""
        )
        there = (STANDARDS / f"{kind}.{version}.json").is_file()
        assert there or f"/{kind}.{version}.json" in index, kind


def references(value: Any) -> list[str]:
    if isinstance(value, dict):
        own = [value["@odata.id"]] if set(value) == {"@odata.id"} else []
        return own + [r for each in value.values() for r in references(each)]
    return [r for each in value for r in references(each)] if isinstance(value, list) else []


@pytest.mark.parametrize("name", NAMES)
def test_every_reference_leads_to_a_resource_of_the_same_file(written: dict[str, Any], name: str):
    tree = written[name]
    assert {path for each in tree.values() for path in references(each)} <= set(tree)
    assert all(path == each["@odata.id"] for path, each in tree.items())


@pytest.mark.parametrize("name", NAMES)
def test_every_resource_can_be_reached_from_the_root(written: dict[str, Any], name: str):
    tree, seen, left = written[name], set(), ["/redfish/v1"]
    while left:
        path = left.pop()
        if path not in seen:
            seen.add(path)
            left += references(tree[path])
    assert seen == set(tree)


def of(tree: dict[str, Any], kind: str, state: str = "Enabled") -> list[dict[str, Any]]:
    return [
        each
        for each in tree.values()
        if each["@odata.type"].startswith(f"#{kind}.") and each["Status"]["State"] == state
    ]


def test_what_is_fitted_is_there_with_its_values(written: dict[str, Any]):
    tree = written["lantern-office"]
    assert [each["TotalCores"] for each in of(tree, "Processor")] == [24, 24]
    assert {each["CapacityMiB"] for each in of(tree, "Memory")} == {32 * 1024}
    assert {each["OperatingSpeedMhz"] for each in of(tree, "Memory")} == {4800}
    assert (len(of(tree, "Memory")), len(of(tree, "Memory", "Absent"))) == (8, 8)
    assert len(of(tree, "Fan")) == 8
    assert len(of(tree, "PowerSupply")) == 2
    assert {each["Protocol"] for each in of(tree, "Drive")} == {"NVMe", "SATA"}
    volumes = {each["RAIDType"]: each["CapacityBytes"] for each in of(tree, "Volume")}
    assert volumes == {"RAID1": 480 * 10**9, "RAID10": 3840 * 10**9}
    system = tree["/redfish/v1/Systems/lantern-office"]
    assert system["MemorySummary"]["TotalSystemMemoryGiB"] == 256
    assert system["ProcessorSummary"]["CoreCount"] == 48


def test_parts_have_their_makers_and_their_numbers(demo: Survey, written: dict[str, Any]):
    assert demo.definitions is not None
    publisher = demo.definitions.project.publisher.name
    for name, tree in written.items():
        data = build_data(demo.cases[name])
        makers = {part.name: (part.maker, part.number) for part in data.parts}
        for each in tree.values():
            kind = each["@odata.type"].lstrip("#").partition(".")[0]
            found = each.get("Manufacturer"), each.get("PartNumber")
            if kind in ("Chassis", "ComputerSystem"):
                assert found == (publisher, data.platform.number)
            elif "Model" in each:
                assert found == makers[each["Model"]], each["@odata.id"]


def test_names_that_become_one_address_stay_two_resources():
    tree = Tree.__new__(Tree)
    tree.taken = set()
    made = [tree.fresh("/f", name) for name in ("A 1", "A-1", "A/1", "台", "机")]
    assert len(set(made)) == 5
    assert ident("DIMM 1A1") == "DIMM-1A1"


@published
@pytest.mark.parametrize("name", NAMES)
def test_every_address_is_one_that_the_published_schema_has(written: dict[str, Any], name: str):
    for path, resource in written[name].items():
        kind = resource["@odata.type"].lstrip("#").partition(".")[0]
        index = STANDARDS / f"{kind}.json"
        if index.is_file():
            uris = json.loads(index.read_text(encoding="utf-8"))["definitions"][kind].get("uris")
            if uris is not None:
                assert any(_as_pattern(uri).fullmatch(path) for uri in uris), path


def _as_pattern(uri: str) -> re.Pattern[str]:
    return re.compile(re.sub(r"\\{\w+\\}", "[^/]+", re.escape(uri)) + "/?")


def test_a_slot_has_its_own_generation_whatever_card_is_in_it(written: dict[str, Any]):
    tree = written["lantern-office"]
    chassis = "/redfish/v1/Chassis/lantern-office"
    device = tree[f"{chassis}/PCIeDevices/SLOT-1"]
    # a card of PCIe 3.0 x8 in a slot of PCIe 5.0 x16
    assert device["PCIeInterface"] == {
        "LanesInUse": 8,
        "MaxLanes": 8,
        "MaxPCIeType": "Gen3",
        "PCIeType": "Gen3",
    }
    slots = {
        each["Location"]["PartLocation"]["ServiceLabel"]: each
        for each in tree[f"{chassis}/PCIeSlots"]["Slots"]
    }
    assert (device["Slot"]["PCIeType"], device["Slot"]["Lanes"]) == ("Gen5", 16)
    assert (slots["SLOT 1"]["PCIeType"], slots["SLOT 1"]["Lanes"]) == ("Gen5", 16)
    assert slots["SLOT 1"]["Links"]["PCIeDevice"] == [{"@odata.id": device["@odata.id"]}]
    assert tree[f"{chassis}/PCIeDevices/SLOT-2"]["Status"]["State"] == "Absent"
    assert slots["SLOT 2"]["PCIeType"] == "Gen4"


@pytest.mark.parametrize("name", NAMES)
def test_collections_that_are_empty_are_written(written: dict[str, Any], name: str):
    tree = written[name]
    chassis, system = f"/redfish/v1/Chassis/{name}", f"/redfish/v1/Systems/{name}"
    wanted = [f"{chassis}/{each}" for each in ("Drives", "PCIeDevices", "NetworkAdapters")]
    wanted += [f"{chassis}/PowerSubsystem/{each}" for each in ("Batteries", "PowerSupplies")]
    wanted += [f"{system}/{each}" for each in ("Processors", "Memory", "Storage")]
    for home in of(tree, "Storage"):
        wanted += [f"{home['@odata.id']}/{each}" for each in ("Controllers", "Volumes")]
        assert home["Drives@odata.count"] == len(home["Drives"])
    for path in wanted:
        assert tree[path]["Members@odata.count"] == len(tree[path]["Members"]), path


def test_hot_spares_stand_by(demo: Survey, written: dict[str, Any]):
    spares = {
        name
        for volume in build_data(demo.cases["boathouse-archive"]).volumes
        for name in volume.spares
    }
    assert spares
    found = of(written["boathouse-archive"], "Drive", "StandbySpare")
    assert {each["Name"] for each in found} == spares
    assert {each["HotspareType"] for each in found} == {"Dedicated"}


@pytest.mark.published("Redfish", "DMTF DSP8010 release 2025.4, Resource.State")
@pytest.mark.parametrize("name", NAMES)
def test_what_is_not_there_is_absent_and_not_offline(
    demo: Survey, written: dict[str, Any], name: str
):
    # Source: DMTF DSP8010 2025.4, Resource.State: `Absent` is a location where a device can be
    # installed, `UnavailableOffline` a function or resource that is present and cannot be used
    data, tree = build_data(demo.cases[name]), written[name]
    for kind in ("Memory", "Drive", "PCIeDevice", "Processor"):
        assert of(tree, kind, "UnavailableOffline") == [], kind
    for kind, takes in (("Memory", "memory-module"), ("Drive", "drive")):
        places = {each.name for each in data.positions if takes in each.takes}
        empty = {each.name for each in data.positions if takes in each.takes and not each.part}
        assert {each["Name"] for each in of(tree, kind, "Absent")} >= empty
        everything = [r for r in tree.values() if r["@odata.type"].startswith(f"#{kind}.")]
        assert {each["Name"] for each in everything} == places
    absent = {each["@odata.id"] for each in of(tree, "Drive", "Absent")}
    for home in of(tree, "Storage"):
        assert absent.isdisjoint(each["@odata.id"] for each in home["Drives"])
    for each in of(tree, "Drive", "Absent"):
        assert each["PhysicalLocation"]["PartLocation"]["ServiceLabel"] == each["Name"]
        assert "CapacityBytes" not in each


def test_what_is_in_the_chassis_is_found_from_it(written: dict[str, Any]):
    tree = written["boathouse-archive"]
    chassis = tree["/redfish/v1/Chassis/boathouse-archive"]
    drives = tree[chassis["Drives"]["@odata.id"]]["Members"]
    assert len(drives) == len([r for r in tree.values() if "#Drive." in r["@odata.type"]])
    assert chassis["Links"]["Drives"] == drives
    for manager in of(tree, "Manager"):
        assert manager["Links"]["ManagerForChassis"] == [{"@odata.id": chassis["@odata.id"]}]
    system = tree["/redfish/v1/Systems/boathouse-archive"]
    assert system["PCIeDevices@odata.count"] == len(system["PCIeDevices"]) > 0


def test_power_is_limited_and_its_redundancy_told(demo: Survey, written: dict[str, Any]):
    tree = written["lantern-office"]
    chassis = tree["/redfish/v1/Chassis/lantern-office"]
    shown = {fact.key: fact.value for fact in build_data(demo.cases["lantern-office"]).facts}
    assert chassis["MinPowerWatts"] == shown["power.idle.input"]
    assert chassis["MaxPowerWatts"] == shown["power.input"] >= shown["power.maximum.input"]
    assert chassis["MaxPowerWatts"] >= shown["power.failure.input"]
    (group,) = tree[chassis["PowerSubsystem"]["@odata.id"]]["PowerSupplyRedundancy"]
    assert (group["MinNeededInGroup"], group["MinNeededForFaultTolerance"]) == (1, 2)
    assert len(group["RedundancyGroup"]) == 2
    assert {each["PlugType"] for each in of(tree, "PowerSupply")} == {"IEC_60320_C14"}


def test_modules_are_located_and_tpms_are_listed(written: dict[str, Any]):
    tree = written["lantern-office"]
    at = {each["Name"]: each["MemoryLocation"] for each in of(tree, "Memory")}
    assert at["DIMM 1A1"] == {"Socket": 1, "Channel": 1, "Slot": 1}
    assert at["DIMM 2G1"] == {"Socket": 2, "Channel": 7, "Slot": 1}
    assert len({tuple(each.values()) for each in at.values()}) == len(at)
    system = tree["/redfish/v1/Systems/lantern-office"]
    assert [each["InterfaceType"] for each in system["TrustedModules"]] == ["TPM2_0"]
