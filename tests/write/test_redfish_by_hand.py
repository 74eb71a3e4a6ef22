# ruff: noqa: E501 (a table reads best with one row a line)
"""What Redfish says of one system, each value written by hand from its YAML: properties as DMTF's
schemas name them, amounts in their units."""

import json
from functools import cache
from typing import Any, Final

import pytest

from specgen.document.data import build_data
from specgen.pipeline import case_of
from specgen.write import redfish
from tests.document.test_tables_by_hand import BOARD, CATALOG, FIT, known
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project

pytestmark = [pytest.mark.arithmetic("Redfish of a system", "values written from the YAML by hand")]

CHASSIS: Final = "/redfish/v1/Chassis/trial"
SYSTEM: Final = "/redfish/v1/Systems/trial"
ON: Final = {"State": "Enabled"}
ABSENT: Final = {"State": "Absent"}


def _to(path: str) -> dict[str, str]:
    return {"@odata.id": path}


def _at(label: str, sort: str, side: str = "") -> dict[str, Any]:
    place = {"ServiceLabel": label, "LocationType": sort}
    return {"PartLocation": place | ({"Reference": side} if side else {})}


BY_HAND: Final[dict[str, dict[str, Any]]] = {
    # 10 kg and what is fitted: see `test_tables_by_hand`
    CHASSIS: {"ChassisType": "RackMount", "Manufacturer": "Quillmere Works", "Model": "Bench", "PartNumber": "QP-1", "RackUnits": "EIA_310", "HeightRackUnits": 1, "HeightMm": 43.6, "WidthMm": 482, "DepthMm": 700, "WeightKg": 12.7, "EnvironmentalClass": "A2"},
    f"{CHASSIS}/Drives/BAY-1": {"Name": "BAY 1", "MediaType": "SSD", "Protocol": "SAS", "Model": "Hot SSD", "CapacityBytes": 2_000_000_000_000, "DriveFormFactor": "Drive2_5", "CapableSpeedGbs": 22.5, "NegotiatedSpeedGbs": 22.5, "PhysicalLocation": _at("BAY 1", "Bay", "Front"), "Status": ON, "Links": {"Chassis": _to(CHASSIS), "Storage": _to(f"{SYSTEM}/Storage/SLOT-1")}},
    f"{CHASSIS}/Drives/BAY-2": {"SlotFormFactor": "Drive2_5", "Status": ABSENT, "Links": {"Chassis": _to(CHASSIS)}},
    f"{CHASSIS}/Drives/BAY-4": {"Model": "Cold SSD", "Links": {"Chassis": _to(CHASSIS), "Storage": _to(f"{SYSTEM}/Storage/Direct")}},
    f"{CHASSIS}/NetworkAdapters/SLOT-2": {"Model": "Adapter", "Controllers": [{"PCIeInterface": {"LanesInUse": 8, "PCIeType": "Gen4"}, "ControllerCapabilities": {"NetworkPortCount": 4}, "Links": {"PCIeDevices": [_to(f"{CHASSIS}/PCIeDevices/SLOT-2")]}}], "Location": _at("SLOT 2", "Slot", "Rear")},
    f"{CHASSIS}/NetworkAdapters/SLOT-2/Ports/A2": {"PortId": "A2", "PortProtocol": "Ethernet", "MaxSpeedGbps": 25, "SFP": {"SupportedSFPTypes": ["SFP28"]}},
    f"{CHASSIS}/NetworkAdapters/SLOT-2/Ports/B": {"PortMedium": "Electrical", "MaxSpeedGbps": 1, "Status": ON},
    # The slot has the generation of its processor's port, the card its own; the link the least
    f"{CHASSIS}/PCIeDevices/SLOT-1": {"Manufacturer": "Ostrel", "Model": "HBA", "PartNumber": "QC-1", "PCIeInterface": {"MaxLanes": 8, "MaxPCIeType": "Gen4", "LanesInUse": 8, "PCIeType": "Gen4"}, "Slot": {"SlotType": "LowProfile", "Lanes": 8, "PCIeType": "Gen5", "HotPluggable": False, "Location": _at("SLOT 1", "Slot", "Rear")}},
    f"{CHASSIS}/PCIeDevices/SLOT-3": {"Status": ABSENT},
    # Two of 1000 W, of which one may fail; the board draws 40 W, nothing else says what it draws
    f"{CHASSIS}/PowerSubsystem": {"CapacityWatts": 2000, "Allocation": {"RequestedWatts": 40}, "PowerSupplyRedundancy": [{"RedundancyType": "NPlusM", "MinNeededInGroup": 1, "MaxSupportedInGroup": 2, "MinNeededForFaultTolerance": 2, "RedundancyGroup": [_to(f"{CHASSIS}/PowerSubsystem/PowerSupplies/PSU-{at}") for at in (1, 2)], "Status": ON}]},
    f"{CHASSIS}/PowerSubsystem/PowerSupplies/PSU-2": {"PowerSupplyType": "AC", "Model": "Supply", "PowerCapacityWatts": 1000, "InputRanges": [{"NominalVoltageType": "AC100To127V", "CapacityWatts": 500}, {"NominalVoltageType": "AC200To240V", "CapacityWatts": 1000}], "EfficiencyRatings": [{"LoadPercent": 20, "EfficiencyPercent": 90}, {"LoadPercent": 50, "EfficiencyPercent": 94}, {"LoadPercent": 100, "EfficiencyPercent": 92}], "PlugType": "IEC_60320_C14", "HotPluggable": True, "Location": _at("PSU 2", "Bay", "Rear"), "Links": {"PoweringChassis": [_to(CHASSIS)]}},
    f"{CHASSIS}/ThermalSubsystem/Fans/AUX-1": {"Status": ABSENT},
    f"{CHASSIS}/ThermalSubsystem/Fans/FAN-3": {"Model": "Fan B", "PhysicalContext": "Chassis", "HotPluggable": False, "Status": ON},
    "/redfish/v1/Managers/BMC": {"ManagerType": "BMC", "Model": "Watch", "Location": _at("BMC", "Embedded")},
    SYSTEM: {"SystemType": "Physical", "ProcessorSummary": {"Count": 1, "Model": "Processor", "CoreCount": 32, "LogicalProcessorCount": 64}, "MemorySummary": {"TotalSystemMemoryGiB": 48}, "PCIeDevices@odata.count": 3},
    # Two modules on the one channel of the first processor: 4800 MT/s
    f"{SYSTEM}/Memory/DIMM-A2": {"MemoryType": "DRAM", "MemoryDeviceType": "DDR5", "BaseModuleType": "RDIMM", "Model": "Module 32", "CapacityMiB": 32 * 1024, "RankCount": 2, "AllowedSpeedsMHz": [5600], "OperatingSpeedMhz": 4800, "ErrorCorrection": "SingleBitECC", "MemoryLocation": {"Socket": 1, "Channel": 1, "Slot": 2}},
    f"{SYSTEM}/Memory/DIMM-B1": {"MemoryLocation": {"Socket": 2, "Channel": 1, "Slot": 1}, "Status": ABSENT},
    f"{SYSTEM}/Processors/CPU1": {"ProcessorType": "CPU", "Model": "Processor", "Socket": "CPU1", "TotalCores": 32, "TotalThreads": 64, "BaseSpeedMHz": 2400, "MaxSpeedMHz": 3600, "TDPWatts": 200},
    f"{SYSTEM}/Processors/CPU2": {"Status": ABSENT},
    f"{SYSTEM}/Storage/SLOT-1": {"Drives": [_to(f"{CHASSIS}/Drives/BAY-{at}") for at in (0, 1)], "Drives@odata.count": 2, "Links": {"Enclosures": [_to(CHASSIS)]}},
    f"{SYSTEM}/Storage/SLOT-1/Controllers/SLOT-1": {"Model": "HBA", "SupportedDeviceProtocols": ["SAS", "SATA"], "PCIeInterface": {"LanesInUse": 8, "PCIeType": "Gen4"}},
    f"{SYSTEM}/Storage/Direct": {"Drives": [_to(f"{CHASSIS}/Drives/BAY-4")], "Drives@odata.count": 1},
}  # fmt: skip


@cache
def written() -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = json.loads(redfish.text(build_data(known()[1]["trial"])))
    return found


@pytest.mark.parametrize("path", BY_HAND)
def test_a_resource_says_what_is_declared(path: str):
    found = written()[path]
    assert {name: found.get(name) for name in BY_HAND[path]} == BY_HAND[path]


COUNTED: Final = {
    f"{CHASSIS}/Drives": 5,
    f"{CHASSIS}/PCIeDevices": 3,
    f"{CHASSIS}/NetworkAdapters": 1,
    f"{CHASSIS}/NetworkAdapters/SLOT-2/Ports": 4,
    f"{CHASSIS}/PowerSubsystem/PowerSupplies": 2,
    f"{CHASSIS}/ThermalSubsystem/Fans": 5,
    f"{SYSTEM}/Memory": 4,
    f"{SYSTEM}/Processors": 2,
    f"{SYSTEM}/Storage": 2,
    f"{SYSTEM}/Storage/Direct/Controllers": 0,
    f"{SYSTEM}/Storage/SLOT-1/Volumes": 0,
    "/redfish/v1/Chassis": 1,
    "/redfish/v1/Managers": 1,
}


@pytest.mark.parametrize("path", COUNTED)
def test_a_collection_counts_its_members(path: str):
    found = written()[path]
    assert found["Members@odata.count"] == len(found["Members"]) == COUNTED[path]


def test_empty_values_are_left_out_of_what_is_absent():
    for path in (f"{CHASSIS}/PCIeDevices/SLOT-3", f"{SYSTEM}/Processors/CPU2"):
        assert {"Model", "Manufacturer", "PCIeInterface"}.isdisjoint(written()[path])


LOW: Final = """
- {kind: power-supply, id: psu-low, name: Low, form: m-crps-60, inlet: C14, swap: hot, source: {document: s},
   outputs: [{from: 110 V, to: 140 V, output: 700 W}, {from: 180 V, to: 264 V, output: 850 W}]}
"""


def test_the_capacity_is_that_of_the_line_voltage():
    """Two of 700 W at 120 V were 1700 W, which they give at 200 V; 110 to 140 V holds 120 V alone."""
    found = project({
        "specgen.yaml": PROJECT,
        "catalog/all.yaml": CATALOG + LOW,
        "platforms/bench.yaml": f"{PLATFORM}{BOARD}",
        "configured/trial.yaml": f"{BUILD}conditions: {{line: 120 V}}\n{FIT.replace('psu', 'psu-low')}",
    })  # fmt: skip
    assert found.loaded.definitions is not None
    case = case_of(found.loaded.definitions, found.loaded.definitions.builds["trial"])
    assert case is not None
    made = json.loads(redfish.text(build_data(case)))
    home = f"{CHASSIS}/PowerSubsystem"
    assert made[home]["CapacityWatts"] == 1400
    assert made[f"{home}/PowerSupplies/PSU-1"]["InputRanges"] == [
        {"NominalVoltageType": "AC120V", "CapacityWatts": 700},
        {"NominalVoltageType": "AC200To240V", "CapacityWatts": 850},
    ]
