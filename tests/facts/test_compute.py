"""Floating point: operations a cycle, peak rates and machine balance, against published values."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts import Declared, Facts, facts_of
from specgen.facts.calculators import vectors
from specgen.facts.declared import declared_facts
from specgen.quantity import DataRate, DataSize, Frequency, OperationRate
from tests.facts.english import in_english
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project

FMA = pytest.mark.practice("floating-point peak", "fused multiply-adds x elements x 2")

# common practice: fused multiply-adds a clock x elements of a vector x 2 (answer to question
# 15655835 of a programmers' site); a multiplier beside an adder counts as one unit
OPERATIONS = (
    (1, 128, 64, 4),
    (1, 128, 32, 8),
    (1, 256, 64, 8),
    (1, 256, 32, 16),
    (2, 256, 64, 16),
    (2, 256, 32, 32),
    (1, 512, 64, 16),
    (1, 512, 32, 32),
    (2, 512, 64, 32),
    (2, 512, 32, 64),
)
# Source: as above: sockets x cores x clock x operations a cycle
PEAKS = (
    (1, 4, "3.0", 16, "192"),
    (1, 18, "2.7", 32, "1555.2"),
    (2, 32, "2.0", 32, "4096"),
    (1, 64, "2.5", 16, "2560"),
    (2, 56, "2.0", 32, "7168"),
)


def system(sockets: int, processor: str, memory: str = "4800 MT/s", channels: int = 8) -> Facts:
    """Processors with these fields, a module on each of their channels."""
    positions = f"  - {{name: CPU1..CPU{sockets}, takes: processor}}\n"
    fit = f"  CPU1..CPU{sockets}: processor\n"
    for socket in range(1, sockets + 1):
        for channel in range(1, channels + 1):
            positions += (
                f"  - {{name: DIMM {socket}-{channel}, takes: memory-module, "
                f"of: CPU{socket}, channel: C{channel}}}\n"
            )
        fit += f"  DIMM {socket}-1..{channels}: module\n"
    parts = f"""
- kind: processor
  id: processor
  name: Processor
  source: {{document: processors}}
  socket: tern-a
  threads: 64
  tdp: 200 W
  memory_technology: ddr5
  memory_channels: {channels}
  memory_speed: {{1: 8800 MT/s}}
  together: 2
  {processor}
- kind: memory-module
  id: module
  name: Module
  source: {{document: memory}}
  technology: ddr5
  form: rdimm
  ranks: 2
  device_width: 8
  capacity: 32 GiB
  speed: {memory}
"""
    found = project(
        {
            "specgen.yaml": PROJECT,
            "catalog/parts.yaml": parts,
            "platforms/bench.yaml": f"{PLATFORM}positions:\n{positions}\n",
            "configured/trial.yaml": f"{BUILD}fit:\n{fit}\n",
        }
    )
    assert found.loaded.findings == (), found.loaded.findings
    return facts_of(found.assemblies["trial"])


SLOW = """
- {kind: processor, id: slow, name: Slow, source: {document: p}, socket: s, cores: 8, threads: 8,
   base_clock: 3 GHz, tdp: 90 W, memory_technology: ddr5, memory_channels: 2,
   memory_speed: {1: 4800 MT/s}}
"""


def test_a_processor_without_a_maximum_clock_has_no_boost():
    """It need not repeat its base clock, and no table prints that twice."""
    facts = system(2, fields(cores=8, base_clock="3.0 GHz", operations_per_cycle=16))
    for key in ("processors.max_clock", "processors.CPU2.max_clock"):
        assert in_english(facts.value(key)) == "no boost"
    assert facts.value("processors.base_clock") == Frequency.of(3, "GHz")
    # 2 sockets x 8 cores x 3.0 GHz x 16
    assert facts.value("processors.peak").in_unit("GFLOP/s") == 768
    found = project({"specgen.yaml": PROJECT, "catalog/parts.yaml": SLOW})
    assert found.loaded.definitions is not None
    stated = {f.key: f.value for f in declared_facts(found.loaded.definitions.parts["slow"])}
    assert in_english(stated["slow.max_clock"]) == "no boost"  # choices, parts' pages, JSON
    boosted = system(1, fields(cores=8, base_clock="3.0 GHz", max_clock="3.4 GHz"))
    assert boosted.value("processors.CPU1.max_clock") == Frequency.of("3.4", "GHz")


def fields(**named: object) -> str:
    return "\n  ".join(f"{name}: {value}" for name, value in named.items())


@FMA
@pytest.mark.parametrize(("units", "width", "element", "operations"), OPERATIONS)
def test_operations_a_cycle_follow_from_the_vector_units(units, width, element, operations):
    assert vectors.operations_of(units, width, element) == operations


@FMA
@pytest.mark.parametrize(("sockets", "cores", "clock", "operations", "gigaflops"), PEAKS)
def test_peak_is_cores_times_clock_times_operations(sockets, cores, clock, operations, gigaflops):
    processor = fields(
        cores=cores,
        base_clock=f"{Decimal(clock) + 1} GHz",
        vector_clock=f"{clock} GHz",
        operations_per_cycle=operations,
    )
    facts = system(sockets, processor)
    assert facts.value("processors.peak").in_unit("GFLOP/s") == Decimal(gigaflops)
    assert facts.value("processors.CPU1.peak") * sockets == facts.value("processors.peak")


@pytest.mark.arithmetic("machine balance", "peak memory bandwidth / peak rate")
@pytest.mark.parametrize(("bandwidth", "peak", "balance"), [("614.4", "7168", "0.085714")])
def test_memory_brings_so_many_bytes_for_each_operation(bandwidth, peak, balance):
    # Source: 2 sockets x 8 channels of DDR5-4800 over 2 x 56 cores at 2.0 GHz and 32 operations
    rates = DataRate.of(bandwidth, "GB/s"), OperationRate.of(peak, "GFLOP/s")
    assert round(vectors.bytes_per_operation(*rates), 6) == Decimal(balance)
    facts = system(2, fields(cores=56, base_clock="2.0 GHz", operations_per_cycle=32))
    assert facts.value("memory.bandwidth") == rates[0]
    assert round(facts.value("processors.bytes_per_operation"), 6) == Decimal(balance)


@FMA
def test_trap_a_fused_multiply_add_counts_as_two_operations():
    # Source: 18 cores at 2.7 GHz with two 512-bit units: 777.6 billion multiply-adds a second
    peak = vectors.peak(18, Frequency.of("2.7", "GHz"), vectors.operations_of(2, 512, 64))
    assert peak.in_unit("GFLOP/s") == 2 * Decimal("777.6")


@FMA
def test_trap_the_factor_of_two_is_taken_once():
    # Source: 56 cores at 2.5 GHz, single precision: 56 x 2.5 x 64 = 8960; a much-read text that
    # multiplies by vectors, by fused multiply-add and by 2 once more gets 17 920
    facts = system(1, fields(cores=56, base_clock="2.5 GHz", vector_units=2, vector_width=512))
    assert facts.value("processors.CPU1.peak_single").in_unit("GFLOP/s") == 8960


def test_trap_neither_base_nor_highest_clock_stands_in_for_a_lower_vector_clock():
    facts = system(
        1,
        fields(cores=10, base_clock="3.0 GHz", vector_clock="2.0 GHz", operations_per_cycle=16),
    )
    assert facts.value("processors.CPU1.vector_clock") == Frequency.of(2, "GHz")
    assert in_english(facts.value("processors.CPU1.vector_clock_from")) == "sustained vector clock"
    assert facts.value("processors.peak").in_unit("GFLOP/s") == 320


def test_without_a_vector_clock_the_base_clock_is_taken_and_the_pedigree_says_so():
    facts = system(1, fields(cores=10, base_clock="3.0 GHz", operations_per_cycle=16))
    clock = facts["processors.CPU1.vector_clock"]
    assert in_english(facts.value("processors.CPU1.vector_clock_from")) == "base clock"
    leaves = [leaf.label for leaf in clock.inputs if isinstance(leaf, Declared)]
    assert list(map(str, leaves)) == ["Processor: base clock"]
    assert "base clock" in str(clock.assumes)
    assert facts.value("processors.peak").in_unit("GFLOP/s") == 480


def test_vector_units_go_before_a_declared_number_of_operations():
    named = fields(
        cores=1, base_clock="1.0 GHz", vector_units=1, vector_width=256, operations_per_cycle=99
    )
    assert system(1, named).value("processors.CPU1.operations_per_cycle") == 8


@pytest.mark.parametrize("half", [{"vector_units": 2}, {"vector_width": 512}])
def test_half_of_what_tells_operations_tells_none(half):
    facts = system(1, fields(cores=1, base_clock="1.0 GHz", **half))
    assert facts.value("processors.CPU1.operations_per_cycle") is None


def test_without_operations_there_is_no_peak_and_no_balance():
    facts = system(1, fields(cores=10, base_clock="3.0 GHz"))
    assert facts.value("processors.peak") is None
    assert facts.value("processors.bytes_per_operation") is None


def test_a_sum_with_a_silent_processor_is_no_sum():
    rate = OperationRate.of(1, "GFLOP/s")
    assert vectors.all_peak(2, (rate,)) is None
    assert vectors.all_peak(0, ()) is None
    assert vectors.all_peak(2, (rate, rate)) == rate * 2


def test_cache_is_shared_out_over_the_cores():
    facts = system(2, fields(cores=20, base_clock="3.0 GHz", cache="50 MiB"))
    assert facts.value("processors.cache") == DataSize.of(100, "MiB")
    assert facts.value("processors.cache_per_core") == DataSize.of("2.5", "MiB")
    assert facts.value("processors.CPU2.cache_per_core") == DataSize.of("2.5", "MiB")


def test_cache_that_is_not_declared_is_not_nothing():
    facts = system(1, fields(cores=20, base_clock="3.0 GHz"))
    assert facts.value("processors.cache") is None
    assert facts.value("processors.cache_per_core") is None


@given(st.integers(1, 256), st.integers(1, 6000), st.integers(1, 128))
def test_peak_grows_with_each_of_its_factors(cores, megahertz, operations):
    clock = Frequency.of(megahertz, "MHz")
    peak = vectors.peak(cores, clock, operations)
    assert vectors.peak(cores + 1, clock, operations) > peak
    assert vectors.peak(cores, clock * 2, operations) == peak * 2
    assert vectors.peak(cores, clock, operations + 1) > peak
