"""Accelerators as a subject: how many, memory, bandwidth, power, links to the host."""

import pytest

from specgen.document.case import Case
from specgen.document.data.build_data import build_data
from specgen.facts import facts_of
from specgen.limits.objectives import OBJECTIVES
from specgen.quantity import DataRate, DataSize, Power
from specgen.write.redfish.system import resources
from tests.facts.systems import ALL_PORTS, BUILD, PLATFORM, PROJECT, processor
from tests.projects import project

CARDS = """
- kind: accelerator
  common: {source: {document: a}, lanes: x16, generation: 5}
  parts:
    - {id: full, name: Full, memory: 96 GiB, memory_bandwidth: 2560 GB/s, power: {maximum: 350 W}}
    - {id: silent, name: Silent, power: {maximum: 75 W}}
"""


def system(fit: str):
    positions = (
        "positions:\n  - {name: CPU1, takes: processor}\n"
        "  - {name: SLOT 1, takes: accelerator, from: CPU1.P0, lanes: x16, generation: 5}\n"
        "  - {name: SLOT 2, takes: accelerator, from: CPU1.P1, lanes: x8, generation: 4}\n"
    )
    files = {
        "specgen.yaml": PROJECT,
        "catalog/processor.yaml": processor(ALL_PORTS, 8, "6400 MT/s"),
        "catalog/cards.yaml": CARDS,
        "platforms/bench.yaml": PLATFORM + positions,
        "configured/trial.yaml": f"{BUILD}fit:\n  CPU1: processor\n{fit}",
    }
    return project(files).assemblies["trial"]


@pytest.mark.arithmetic("accelerators", "sums over two cards")
def test_accelerators_are_summed():
    facts = facts_of(system("  SLOT 1..2: full\n"))
    assert facts.value("accelerators.count") == 2
    assert facts.value("accelerators.models") == ("Full",)
    assert facts.value("accelerators.memory") == DataSize.of(192, "GiB")
    assert facts.value("accelerators.memory_bandwidth") == DataRate.of(5120, "GB/s")
    assert facts.value("accelerators.power") == Power.of(700)
    assert facts.value("accelerators.SLOT 1.link") == "x16 Gen 5"
    assert facts.value("accelerators.SLOT 2.link") == "x8 Gen 4"
    # Gen 5 x16: 32 GT/s x 128 / 130 / 8 x 16 = 63.015 GB/s; Gen 4 x8: 15.754 GB/s
    host = facts.value("accelerators.host_bandwidth")
    assert float(host.in_unit("GB/s")) == pytest.approx(63.0153846 + 15.7538462)


def test_without_accelerators_nothing_is_summed():
    """No accelerator has no power and no memory: not 0 W, as if one drew nothing."""
    facts = facts_of(system(""))
    assert facts.value("accelerators.count") == 0
    for key in ("power", "memory", "memory_bandwidth", "host_bandwidth"):
        assert facts.value(f"accelerators.{key}") is None, key


def test_one_that_says_nothing_leaves_no_sum():
    facts = facts_of(system("  SLOT 1: full\n  SLOT 2: silent\n"))
    assert facts.value("accelerators.count") == 2
    assert facts.value("accelerators.memory") is None
    assert facts.value("accelerators.power") == Power.of(425)


def test_without_any_there_is_a_count_and_nothing_else():
    facts = facts_of(system(""))
    assert facts.value("accelerators.count") == 0
    assert facts.value("accelerators.memory") is None


def test_they_are_processors_of_their_type_in_redfish():
    assembly = system("  SLOT 2: full\n")
    data = build_data(Case(assembly.definitions, assembly, facts_of(assembly)))
    (found,) = [
        each for each in resources(data).values() if each.get("ProcessorType") == "Accelerator"
    ]
    assert found["MemorySummary"] == {"TotalMemorySizeMiB": 98304}  # 96 x 1024
    assert found["MaxTDPWatts"] == 350
    assert found["SystemInterface"] == {
        "InterfaceType": "PCIe",
        "PCIe": {"LanesInUse": 8, "PCIeType": "Gen4", "MaxLanes": 16, "MaxPCIeType": "Gen5"},
    }


def test_limits_know_how_many_and_how_much_memory():
    assert OBJECTIVES["accelerators"].fact == "accelerators.count"
    assert OBJECTIVES["accelerator-memory"].fact == "accelerators.memory"
