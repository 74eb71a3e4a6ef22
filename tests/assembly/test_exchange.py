"""Hot-swap is said only of what position, part and every port on the way allow."""

import pytest

from specgen.assembly import swap_of
from specgen.document.case import Case
from specgen.document.data.build_data import build_data
from specgen.drawings.items import what_is
from specgen.facts import facts_of
from specgen.write.redfish.system import resources
from tests.facts.systems import ALL_PORTS, BUILD, PLATFORM, PROJECT, processor
from tests.projects import project

PARTS = """
- kind: drive
  common: {source: {document: d}, medium: ssd, form: 2.5-inch, interface: sata, generation: 3}
  parts:
    - {id: hot, name: Hot, swap: hot, capacity: 480 GB}
    - {id: cold, name: Cold, swap: cold, capacity: 480 GB}
- kind: fan
  common: {source: {document: f}, form: fan-40}
  parts: [{id: fan-hot, name: Fan, swap: hot}, {id: fan-cold, name: Fan, swap: cold}]
- kind: power-supply
  id: supply
  name: Supply
  source: {document: s}
  form: m-crps-60
  inlet: C14
  outputs: [{from: 100 V, to: 240 V, output: 900 W}]
- kind: storage-controller
  id: hub
  name: Hub
  source: {document: h}
  lanes: x4
  generation: 4
  brings: {ports: [{name: S0, lanes: x8, carries: {sata: 3}, swap: %s}]}
"""


CPU = "  - {name: CPU1, takes: processor}\n"


def system(positions: str, fit: str, served: str = "[hot, cold]"):
    files = {
        "specgen.yaml": PROJECT,
        "catalog/processor.yaml": processor(ALL_PORTS, 8, "6400 MT/s"),
        "catalog/parts.yaml": PARTS % served,
        "platforms/bench.yaml": f"{PLATFORM}positions:\n{CPU}{positions}",
        "configured/trial.yaml": f"{BUILD}fit:\n  CPU1: processor\n{fit}",
    }  # fmt: skip
    return project(files).assemblies["trial"]


@pytest.mark.parametrize(
    ("position", "takes", "part", "swap"),
    [
        ("swap: hot, ", "drive", "hot", "hot"),
        ("swap: cold, ", "drive", "hot", "cold"),  # the met one: a cold bay with a hot-swap drive
        ("swap: hot, ", "drive", "cold", "cold"),
        ("", "drive", "hot", "cold"),  # a bay that says nothing allows nothing
        ("swap: hot, ", "fan", "fan-hot", "hot"),
        ("", "fan", "fan-hot", "cold"),
        ("swap: hot, ", "power-supply", "supply", "cold"),  # pulled, it stops the server
        ("swap: cold, ", "power-supply", "supply", "cold"),
    ],
)
def test_hot_swap_is_the_least_of_position_and_part_everywhere(position, takes, part, swap):
    assembly = system(f"  - {{name: PLACE 1, {position}takes: {takes}}}\n", f"  PLACE 1: {part}\n")
    place = assembly.places["PLACE 1"]
    assert swap_of(assembly, place) == swap
    words = what_is(assembly, [place])
    assert ("hot-swap" in words, "cold-swap" in words) == (swap == "hot", swap == "cold")
    data = build_data(Case(assembly.definitions, assembly, facts_of(assembly)))
    (entry,) = [each for each in data.positions if each.name == "PLACE 1"]
    assert entry.hot_swap is (swap == "hot")
    pluggable = [
        each["HotPluggable"] for each in resources(data).values() if "HotPluggable" in each
    ]
    assert pluggable == ([] if takes == "drive" else [swap == "hot"])


@pytest.mark.parametrize(("served", "swap"), [("[hot, cold]", "hot"), ("cold", "cold")])
def test_a_port_that_serves_cold_swap_alone_makes_the_bay_behind_it_cold(served, swap):
    positions = (
        "  - {name: HUB, takes: storage-controller, from: CPU1.P0, lanes: x4}\n"
        "  - {name: BAY 0, takes: drive, swap: hot, from: HUB.S0, lanes: x1}\n"
    )
    assembly = system(positions, "  HUB: hub\n  BAY 0: hot\n", served)
    assert swap_of(assembly, assembly.places["BAY 0"]) == swap
    assert facts_of(assembly).value("storage.hot_swap") == (swap == "hot")


def test_a_position_of_which_nobody_says_anything_has_no_swap_class():
    assembly = system(
        "  - {name: HUB, takes: storage-controller, from: CPU1.P0, lanes: x4}\n", "  HUB: hub\n"
    )
    assert swap_of(assembly, assembly.places["HUB"]) is None


# Source: common practice, no source: a power supply is pulled while another carries the load
@pytest.mark.parametrize(
    ("fitted", "redundancy", "swap"),
    [("PSU 1", "none", "cold"), ("PSU 1..2", "none", "cold"), ("PSU 1..2", "1+1", "hot"),
     ("PSU 1", "1+1", "cold")],
)  # fmt: skip
def test_a_power_supply_without_another_to_spare_is_not_hot_swap(fitted, redundancy, swap):
    found = system(
        "  - {name: PSU 1..2, takes: power-supply, swap: hot}\n",
        f"  {fitted}: supply\nconditions: {{redundancy: {redundancy}}}\n",
    )
    assert swap_of(found, found.places["PSU 1"]) == swap
    if fitted == "PSU 1":  # an empty one can be filled while the system runs
        assert swap_of(found, found.places["PSU 2"]) == "hot"
