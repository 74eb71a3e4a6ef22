"""What a single failure takes away: by hand, and held against the build without the part."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from specgen.assembly import State, resolve
from specgen.facts import Facts, facts_of
from specgen.facts.calculators.failures import (
    DARK,
    FAILURES,
    LESS,
    RESTARTS,
    RUNS,
    STARTED,
    STOPS,
    server,
)
from specgen.messages import NONE
from specgen.model import Cable, HeatSink, expand
from specgen.pipeline import Survey
from specgen.quantity import DataSize, Power, VolumeFlow, plain
from tests.facts.systems import BUILD, PLATFORM, PROJECT, calculated
from tests.projects import project

PARTS = """
- {kind: drive, id: nvme, name: NVMe, source: {document: d}, medium: ssd, form: e3.s, swap: hot,
   interface: nvme, lanes: x4, generation: 5, capacity: 2 TB}
- {kind: drive, id: sas, name: SAS, source: {document: d}, medium: hdd, form: lff, swap: hot,
   interface: sas, generation: 4, capacity: 10 TB}
- {kind: memory-module, id: dimm, name: Module, source: {document: m}, form: rdimm,
   technology: ddr5, capacity: 32 GiB, speed: 6400 MT/s, ranks: 2, device_width: 4}
- {kind: network-adapter, id: nic, name: Adapter, source: {document: n}, connector: x8, lanes: x8,
   generation: 5, ethernet: [{name: PORT 1..2, speed: 25 Gbit/s, connector: sfp28,
   medium: pluggable}]}
- {kind: storage-controller, id: raid, name: Controller, source: {document: c}, connector: x8,
   lanes: x8, generation: 5, raid: [0, 1, 5, 6, 10],
   brings: {ports: [{name: C0, lanes: x4, carries: {sas: 4}}]}}
- {kind: power-supply, id: psu, name: Supply, source: {document: p}, form: m-crps-60, inlet: C14,
   outputs: [{from: 100 V, to: 240 V, output: 800 W}], curve_at: 230 V,
   curve: [{load: 0, efficiency: 0.9, power_factor: 0.95},
           {load: 1, efficiency: 0.9, power_factor: 0.95}]}
"""
POSITIONS = """
  - {name: CPU1, takes: processor, must: true}
  - {name: CPU2, takes: processor}
  - {name: DIMM 1, takes: memory-module, form: rdimm, of: CPU1, channel: 1A}
  - {name: DIMM 2..3, takes: memory-module, form: rdimm, of: CPU2, channel: 2A}
  - {name: SLOT 1, takes: network-adapter, form: card, from: CPU1.P0, lanes: x8}
  - {name: SLOT 2, takes: storage-controller, form: card, from: CPU2.P0, lanes: x8}
  - {name: BAY 0..3, takes: drive, form: lff, from: SLOT 2.C0, lanes: x1}
  - {name: BAY 4, takes: drive, form: e3.s, from: CPU1.P1, lanes: x4}
  - {name: BAY 5, takes: drive, form: e3.s, from: CPU2.P1, lanes: x4}
  - {name: PSU 1..3, takes: power-supply, form: m-crps-60}
"""
FIT = """
  CPU1..2: processor
  DIMM 1..3: dimm
  SLOT 1: nic
  SLOT 2: raid
  BAY 0..3: sas
  BAY 4..5: nvme
  PSU 1..3: psu
"""
VOLUMES = """
  - {name: Mirror, level: 1, drives: BAY 4..5}
  - {name: Store, level: 5, drives: BAY 0..2}
"""


@pytest.fixture(scope="module")
def bench() -> Facts:
    return calculated(
        POSITIONS, FIT, catalog=PARTS, volumes=VOLUMES, conditions="{redundancy: 2+1, feeds: 2}"
    )


# By hand. Of CPU2: two of three modules, the controller in its slot, so the four drives behind
# it, and one NVMe drive. The mirror keeps a member; the RAID 5 loses three of three, and one is
# tolerated.
# Usable: 2 TB of the mirror, 2 x 10 TB of the RAID 5; 32 cores and 2 ports a part.
BY_HAND = {
    "processor CPU1": (
        STOPS,
        "BAY 4, DIMM 1, SLOT 1",
        "Mirror degraded",
        None,
        None,
        None,
        None,
        None,
    ),
    "processor CPU2": (
        *(RESTARTS, "BAY 0 to 3, BAY 5, DIMM 2 to 3, SLOT 2", "Store lost; Mirror degraded"),
        *(32, "32 GiB", 1, "2 TB", 2),
    ),
    "controller SLOT 2": (*(STARTED, "BAY 0 to 3", "Store lost", 64, "96 GiB", 2, "2 TB", 2),),
    "adapter SLOT 1": (RUNS, NONE, "all whole", 64, "96 GiB", 6, "22 TB", 0),
    "volume Mirror": (RUNS, NONE, "Mirror degraded", 64, "96 GiB", 5, "22 TB", 2),
    "volume Store": (RUNS, NONE, "Store degraded", 64, "96 GiB", 5, "22 TB", 2),
    "drive": (STARTED, NONE, "all whole", 64, "96 GiB", 5, "22 TB", 2),
}
COLUMNS = ("server", "lost", "volumes", "cores", "memory", "drives", "usable", "ports")


def _printed(value: object) -> object:
    return plain(value) if isinstance(value, DataSize) else value


@pytest.mark.parametrize("failure", BY_HAND)
def test_what_a_failure_takes_away_by_hand(bench: Facts, failure: str) -> None:
    got = [_printed(bench.value(f"failures.{failure}.{column}")) for column in COLUMNS]
    wanted = BY_HAND[failure]
    assert got[0] == wanted[0]
    assert [None if each is None else str(each) for each in got[1:]] == [
        None if each is None else str(each) for each in wanted[1:]
    ]


def test_everything_that_can_fail_has_a_row(bench: Facts) -> None:
    rows = {fact.subject for fact in bench.of_all("failures.{failure}.server")}
    assert rows == {*BY_HAND, "supply", "feed A", "feed B"}


def _told(
    sort: str, supplies: int = 2, output: float = 800, load: float = 800, alone: bool = False
) -> object:
    return server(
        SimpleNamespace(sort=sort, further=()),
        alone,
        supplies,
        (),
        Power.of(output),
        Power.of(load),
        VolumeFlow.of(1 if load <= output else -1, "m3/h"),
    )


@pytest.mark.parametrize(
    ("sort", "supplies", "load", "said"),
    [
        # 800 W each: two carry 1600 W and no more; none carries anything. arithmetic
        ("supply", 2, 1600, RUNS),
        ("supply", 2, 1601, STOPS),
        ("supply", 0, 1, STOPS),
        ("feed", 1, 800, RUNS),
        ("feed", 1, 801, DARK),
        ("feed", 0, 1, DARK),
    ],
)
def test_what_is_left_of_the_supplies_carries_the_load_or_not(sort, supplies, load, said) -> None:
    assert _told(sort, supplies, 800, load) == said


def test_a_fan_less_is_judged_by_the_air_that_is_left() -> None:
    assert _told("fan") == RUNS
    assert _told("fan", load=900) == LESS
    assert _told("fan", alone=True) == STOPS


def test_a_processor_alone_stops_the_server() -> None:
    assert _told("processor", alone=True) == STOPS
    assert _told("processor") == RESTARTS


def test_the_build_without_the_processor_lacks_the_same(demo: Survey) -> None:
    """Each processor of the demo that a build can do without: leave it out, resolve, compare."""
    tried = 0
    for case in demo.cases.values():
        build = case.build
        if build is None:
            continue
        for subject in FAILURES.listed(case.assembly):
            sort, _, name = subject.partition(" ")
            if sort != "processor" or case.assembly.places[name].position.must:
                continue
            fit = {names: fill for names, fill in build.fit.items() if name not in expand(names)}
            others = {
                each: fill
                for names, fill in build.fit.items()
                if name in expand(names)
                for each in expand(names)
                if each != name
            }
            left = replace(build, fit=others | fit)
            without = resolve(case.definitions, left)
            assert without is not None
            gone = {
                place.name
                for place in case.assembly.places.values()
                if place.filled
                and without.places[place.name].state is State.UNUSABLE
                and not isinstance(place.part, Cable | HeatSink)
            }
            fact = case.facts[f"failures.{subject}.lost"]
            assert {each.subject for each in fact.inputs} - {name} == gone, (build.id, subject)
            tried += 1
    assert tried > 10


def test_the_answer_in_one_line(bench: Facts) -> None:
    assert str(bench.value("failures.processors")) == (
        "CPU1: the server stops until it is replaced; "
        "CPU2: BAY 0 to 3, BAY 5, DIMM 2 to 3, SLOT 2 lost"
    )


CARTRIDGES = {
    "kinds/cartridge.yaml": "id: cartridge\ntitle: Cartridge\nplural: Cartridges\ntraits: stores\n",
    "specgen.yaml": PROJECT,
    "catalog/parts.yaml": "- {kind: cartridge, id: tape, name: Tape, source: {document: t}, "
    "capacity: 2 TB, interface: sata}\n"
    "- {kind: drive, id: disk, name: Disk, source: {document: d}, medium: hdd, form: 3.5-inch, "
    "swap: hot, interface: sata, generation: 3, capacity: 4 TB}\n",
    "platforms/bench.yaml": f"{PLATFORM}positions:\n"
    "  - {name: BAY 0..3, takes: [drive, cartridge]}\n",
    "configured/trial.yaml": f"{BUILD}fit: {{BAY 0..1: tape, BAY 2: disk}}\n",
}


def test_drives_left_are_of_those_that_are_counted_as_drives():
    """A project's own kind that stores is no drive: three were left of one."""
    facts = facts_of(project(CARTRIDGES).assemblies["trial"])
    assert facts.value("storage.drives") == 1
    assert facts.value("failures.drive.drives") == 0
