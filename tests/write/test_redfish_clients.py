"""A mock-up as programs read it that are not ours: DMTF's client, sushy, the service validator."""

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import redfish as dmtf
import sushy
from mockup_server import serving

from specgen.document.data import build_data
from specgen.pipeline import Survey
from specgen.write import redfish

BUILD = "boathouse-archive"
CSDL = Path(
    os.environ.get("SPECGEN_REDFISH_CSDL")
    or Path(__file__).resolve().parents[3] / "shared/standards/redfish-csdl"
)


@pytest.fixture(scope="module")
def mockup(demo: Survey, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("mockup")
    for name, content in redfish.files(build_data(demo.cases[BUILD])).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return folder


@pytest.fixture(scope="module")
def address(mockup: Path) -> Iterator[str]:
    with serving(mockup) as found:
        yield found


def test_the_folder_holds_every_resource_where_its_address_says(demo: Survey, mockup: Path):
    tree = redfish.resources(build_data(demo.cases[BUILD]))
    for path, resource in tree.items():
        home = mockup / path.removeprefix("/redfish/v1").lstrip("/")
        assert json.loads((home / "index.json").read_text(encoding="utf-8")) == resource
    found = [path for path in mockup.rglob("*") if path.is_file()]
    assert len(found) == len(tree) + 2  # the two documents of OData


def test_dmtfs_client_walks_the_whole_tree(mockup: Path, address: str):
    client = dmtf.redfish_client(base_url=address)
    seen: dict[str, Any] = {}
    left = ["/redfish/v1"]
    while left:
        path = left.pop()
        if path in seen:
            continue
        answer = client.get(path)
        assert answer.status == 200, path
        seen[path] = answer.dict
        left += list(_references(answer.dict))
    assert len(seen) == len(list(mockup.rglob("index.json"))) - 1  # but for `odata`
    root = client.root
    assert root["Chassis"]["@odata.id"] in seen


def _references(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        if set(value) == {"@odata.id"}:
            yield value["@odata.id"]
        for each in value.values():
            yield from _references(each)
    elif isinstance(value, list):
        for each in value:
            yield from _references(each)


def test_sushy_finds_the_server_as_it_is_described(demo: Survey, address: str):
    root = sushy.Sushy(address, auth=sushy.auth.BasicAuth("any", "any"))
    (system,) = root.get_system_collection().get_members()
    data = build_data(demo.cases[BUILD])
    assert (system.name, system.sku, system.part_number) == (
        data.name,
        data.number,
        data.platform.number,
    )
    facts = demo.cases[BUILD].facts
    assert len(system.processors.get_members()) == facts.value("processors.sockets")
    assert system.processors.summary.count == facts.value("processors.threads")
    assert system.memory_summary.size_gib == facts.value("memory.capacity").in_unit("GiB")  # type: ignore[union-attr]
    (chassis,) = root.get_chassis_collection().get_members()
    assert chassis.depth_mm == data.platform.depth_mm
    assert [each.identity for each in system.chassis] == [chassis.identity]
    (manager,) = root.get_manager_collection().get_members()
    assert [each.identity for each in manager.chassis] == [chassis.identity]
    drives = [drive for each in system.storage.get_members() for drive in each.drives]
    kinds = {part.id: part.kind for part in data.parts}
    fitted = [each for each in data.positions if kinds.get(each.part or "") == "drive"]
    assert len(drives) == len(fitted) >= facts.value("storage.drives")  # boot drives too
    assert {drive.manufacturer for drive in drives} <= {part.maker for part in data.parts}
    volumes = [each for home in system.storage.get_members() for each in home.volumes.get_members()]
    sizes = {each.capacity_bytes for each in volumes}
    assert sizes == {volume.usable_bytes for volume in data.volumes}


@pytest.mark.skipif(
    not any(CSDL.glob("ServiceRoot_v1.xml")),
    reason="the schemas of DSP8010 in CSDL are not beside the project; name their folder in "
    "SPECGEN_REDFISH_CSDL: the service validator fetches them from DMTF, and no test asks a host",
)
def test_the_service_validator_reports_no_failure(address: str, tmp_path: Path):
    command = [Path(sys.executable).parent / "rf_service_validator", "--rhost", address]
    command += ["--user", "x", "--password", "x", "--authtype", "Basic", "--skipschema"]
    command += ["--schema_directory", CSDL, "--logdir", tmp_path, "--nooemcheck"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:]
