"""A build in Redfish: valid against DMTF's schemas, closed in itself, true to the build."""

import json
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
NAMES = ("lantern-office", "harbour-archive", "harbour-tiers", "foundry-eyes", "pocket-lamp-room")

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


def test_nobody_but_the_publisher_is_called_a_manufacturer(demo: Survey, written: dict[str, Any]):
    assert demo.definitions is not None
    publisher = demo.definitions.project.publisher.name
    for tree in written.values():
        named = [each["Manufacturer"] for each in tree.values() if "Manufacturer" in each]
        assert set(named) == {publisher}
        assert len(named) == 2  # the chassis and the system


def test_names_that_become_one_address_stay_two_resources():
    tree = Tree.__new__(Tree)
    tree.taken = set()
    made = [tree.fresh("/f", name) for name in ("A 1", "A-1", "A/1", "台", "机")]
    assert len(set(made)) == 5
    assert ident("DIMM A1") == "DIMM-A1"
