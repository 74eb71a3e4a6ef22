"""Memory: names of grades, what sets the speed, modes, balance, what to fill next."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts import Facts, facts_of
from specgen.facts.calculators import memory, memory_modes, population
from specgen.quantity import DataSize, TransferRate
from tests.facts.english import in_english
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import edited, project

# Source: JESD79-4 and JESD79-5 grades; the older names count the peak of a channel in MB/s and
# round it, which the tolerance allows for
NAMES = (
    ("1600", "PC4-12800"),
    ("1866.67", "PC4-14900"),
    ("2133.33", "PC4-17000"),
    ("2400", "PC4-19200"),
    ("2666.67", "PC4-21300"),
    ("2933.33", "PC4-23400"),
    ("3200", "PC4-25600"),
    ("4800", "PC5-38400"),
    ("5200", "PC5-41600"),
    ("5600", "PC5-44800"),
    ("6000", "PC5-48000"),
    ("6400", "PC5-51200"),
    ("7200", "PC5-57600"),
    ("8000", "PC5-64000"),
    ("8800", "PC5-70400"),
)


@pytest.mark.memory("names of memory grades", "JESD79-4, JESD79-5, -5C: list of grades")
@pytest.mark.parametrize(("rate", "name"), NAMES)
def test_the_name_of_a_grade_is_its_peak_in_megabytes(rate, name):
    peak = memory.bandwidth(TransferRate.of(rate, "MT/s"), 1).in_unit("MB/s")
    assert peak == pytest.approx(Decimal(name.partition("-")[2]), rel=Decimal("4e-3"))


@pytest.mark.memory("names of memory grades", "JESD79-4, JESD79-5, -5C: list of grades")
def test_trap_the_number_in_a_name_counts_bytes_and_not_bits():
    # Source: PC4-25600 is 25 600 MB/s; a public quiz reads it as Mbit/s and divides by 8
    peak = memory.bandwidth(TransferRate.of(3200, "MT/s"), 1)
    assert peak.in_unit("MB/s") == 25_600
    assert peak.in_unit("Mbit/s") == 8 * 25_600


@pytest.mark.arithmetic("peak of a memory channel", "MT/s x 8 bytes")
def test_trap_a_modelled_value_of_many_channels_is_no_peak_of_one():
    # Source: DDR5-3200 peaks at 25.6 GB/s a channel; print has 182.5 GB/s, a model of many
    assert memory.bandwidth(TransferRate.of(3200, "MT/s"), 1).in_unit("GB/s") == Decimal("25.6")


@pytest.mark.published("names of memory grades", "Hardware press: PC5-51000 for DDR5-6400")
def test_trap_a_name_rounded_in_print_is_within_half_a_percent():
    # Source: PC5-51000 appears in print for DDR5-6400, 51 200 MB/s
    peak = memory.bandwidth(TransferRate.of(6400, "MT/s"), 1).in_unit("MB/s")
    assert peak == 51_200
    assert peak == pytest.approx(Decimal(51_000), rel=Decimal("5e-3"))


MODULES = """
- kind: memory-module
  common: {technology: ddr5, form: rdimm, device_width: 8, source: {document: memory}}
  parts:
    - {id: one, name: One rank, ranks: 1, capacity: 16 GiB, speed: 6400 MT/s}
    - {id: two, name: Two ranks, ranks: 2, capacity: 32 GiB, speed: 6400 MT/s}
    - {id: slow, name: Slow, ranks: 2, capacity: 32 GiB, speed: 4800 MT/s}
"""


def system(
    fit: str, *, mode: str = "", processor: str = "", board: str = "", limit: str = ""
) -> Facts:
    """Two sockets; four channels under each, two slots a channel: A1 to A4, then A5 to A8."""
    slots = "".join(
        f"  - {{name: DIMM {letter}{number}, takes: memory-module, of: CPU{socket}, "
        f"channel: {letter}{(number - 1) % 4 + 1}}}\n"
        for socket, letter in ((1, "A"), (2, "B"))
        for number in range(1, 9)
    )
    order = "".join(
        f"  - {{of: CPU{socket}, balanced: [1, 2, 4, 8], order: [DIMM {letter}1, DIMM {letter}3, "
        f"DIMM {letter}2, DIMM {letter}4, DIMM {letter}5..8]}}\n"
        for socket, letter in ((1, "A"), (2, "B"))
    )
    parts = f"""
- kind: processor
  id: processor
  name: Processor
  source: {{document: processors}}
  socket: tern-a
  cores: 32
  threads: 64
  base_clock: 2.4 GHz
  max_clock: 3.6 GHz
  tdp: 200 W
  memory_technology: ddr5
  memory_channels: 4
  memory_speed: {{1: 6400 MT/s, 2: 5600 MT/s}}
  together: 2
  {processor}
  {limit}
{MODULES}"""
    found = project(
        {
            "specgen.yaml": PROJECT,
            "catalog/parts.yaml": parts,
            "platforms/bench.yaml": (
                f"{PLATFORM}{board}\npositions:\n  - {{name: CPU1..2, takes: processor}}\n{slots}"
                f"population:\n{order}"
            ),
            "configured/trial.yaml": f"{BUILD}{mode}\nfit:\n  CPU1: processor\n{fit}\n",
        }
    )
    assert found.loaded.findings == (), found.loaded.findings
    return facts_of(found.assemblies["trial"])


def test_modules_that_run_at_their_own_rate_set_the_speed():
    facts = system("  DIMM A1..4: slow")
    assert facts.value("memory.speed") == TransferRate.of(4800, "MT/s")
    stages = in_english(facts.value("memory.speed_set_by"))
    assert stages == ("the modules",)


def test_trap_two_modules_on_a_channel_run_slower_and_the_stage_is_named():
    facts = system("  DIMM A1..8: two")
    assert facts.value("memory.speed") == TransferRate.of(5600, "MT/s")
    stages = in_english(facts.value("memory.speed_set_by"))
    assert stages == ("the processor at 2 modules on a channel",)


def test_trap_mixed_modules_run_at_the_slowest():
    facts = system("  DIMM A1..3: two\n  DIMM A4: slow")
    assert facts.value("memory.CPU1.speed") == TransferRate.of(4800, "MT/s")


def test_trap_registered_and_stacked_modules_are_not_mixed():
    files = edited(
        "configured/lantern-full.yaml", "  DIMM B1..B2: rdimm-32", "  DIMM B1..B2: rdimm-128-3ds"
    )
    assert "SG321" in project(files).codes


def test_the_board_can_be_the_stage_that_slows_memory_down():
    facts = system("  DIMM A1..4: two", board="memory_speed: {1: 4000 MT/s}")
    assert facts.value("memory.CPU1.speed") == TransferRate.of(4000, "MT/s")
    stages = in_english(facts.value("memory.CPU1.speed_set_by"))
    assert stages == ("the board at 1 module on a channel",)


def test_ranks_on_a_channel_can_slow_memory_more_than_modules_do():
    ranked = "memory_speed_by_ranks: {1: 6400 MT/s, 2: 6000 MT/s, 4: 4400 MT/s}"
    few, many = (system(f"  DIMM A1..8: {name}", processor=ranked) for name in ("one", "two"))
    assert few.value("memory.CPU1.ranks_per_channel") == 2
    assert few.value("memory.speed") == TransferRate.of(5600, "MT/s")
    assert many.value("memory.CPU1.ranks_per_channel") == 4
    assert many.value("memory.speed") == TransferRate.of(4400, "MT/s")
    stages = in_english(many.value("memory.speed_set_by"))
    assert stages == ("the processor at 4 ranks on a channel",)


def test_a_board_may_limit_by_ranks_too():
    facts = system("  DIMM A1: two", board="memory_speed_by_ranks: {2: 4800 MT/s}")
    stages = in_english(facts.value("memory.speed_set_by"))
    assert stages == ("the board at 2 ranks on a channel",)


def test_independent_memory_is_seen_whole():
    facts = system("  DIMM A1..4: two")
    assert in_english(facts.value("memory.mode")) == "independent"
    assert facts.value("memory.visible") == facts.value("memory.capacity")
    assert not facts.value("memory.held_back").amount
    assert facts.value("memory.capacity_per_core") == DataSize.of(4, "GiB")


# common practice, no source: a mirror holds everything twice; each channel keeps a rank spare
MODES = (
    ("mirrored", "  DIMM A1..4: two", 64, ()),
    ("mirrored", "  DIMM A1..8: two", 128, ()),
    ("mirrored", "  DIMM A1..3: two", 32, ("A3",)),
    ("mirrored", "  DIMM A1..2: two\n  DIMM A3..4: one", 48, ()),
    ("mirrored", "  DIMM A1: two", 0, ("A1",)),
    ("spare-rank", "  DIMM A1..4: two", 64, ()),
    ("spare-rank", "  DIMM A1..8: two", 192, ()),
    ("spare-rank", "  DIMM A1..4: one", 0, ("A1", "A2", "A3", "A4")),
    ("spare-rank", "  DIMM A1..8: one", 64, ()),
    ("spare-rank", "  DIMM A1: one\n  DIMM A2: two", 16, ("A1",)),
)


@pytest.mark.parametrize(("mode", "fit", "gibibytes", "unprotected"), MODES)
def test_a_mode_leaves_so_much_to_the_system(mode, fit, gibibytes, unprotected):
    facts = system(fit, mode=f"memory_mode: {mode}")
    assert facts.value("memory.visible") == DataSize.of(gibibytes, "GiB")
    assert facts.value("memory.CPU1.unprotected") == unprotected
    held = facts.value("memory.capacity") - facts.value("memory.visible")
    assert facts.value("memory.held_back") == held


def test_a_processor_sees_no_more_than_it_can_address():
    facts = system("  DIMM A1..8: two", limit="memory_limit: 200 GiB")
    assert facts.value("memory.visible") == DataSize.of(200, "GiB")


channels = st.lists(
    st.lists(st.tuples(st.sampled_from([16, 32, 48, 64]), st.sampled_from([1, 2])), max_size=2),
    max_size=8,
)


@given(channels, st.sampled_from(sorted(memory_modes.MODES)))
def test_no_mode_shows_more_than_is_fitted_and_a_further_channel_never_takes_away(found, mode):
    named = tuple(
        (f"A{at}", tuple((DataSize.of(size, "GiB"), ranks) for size, ranks in modules))
        for at, modules in enumerate(found)
    )
    fitted = memory_modes.own_capacity(named)
    assert memory_modes.visible(mode, named) <= fitted
    assert memory_modes.visible(mode, named[:-1]) <= memory_modes.visible(mode, named)


def test_as_much_on_every_channel_is_balanced():
    facts = system("  DIMM A1..4: two")
    assert in_english(facts.value("memory.CPU1.balance")) == "balanced"
    assert in_english(facts.value("memory.balance")) == "balanced"


# common practice, no source
UNEVEN = (
    ("", "no modules"),
    ("  DIMM A1..3: two", "uneven: 3 modules, and 1, 2, 4, 8 spread evenly"),
    ("  DIMM A1..5: two", "uneven: channels A2 to 4 hold less than 64 GiB"),
    ("  DIMM A1..3: two\n  DIMM A4: one", "uneven: channel A4 holds less than 32 GiB"),
)


@pytest.mark.parametrize(("fit", "words"), UNEVEN)
def test_what_is_uneven_is_said(fit, words):
    assert in_english(system(fit).value("memory.CPU1.balance")) == words


def test_processors_with_different_memory_are_uneven():
    facts = system("  CPU2: processor\n  DIMM A1..4: two\n  DIMM B1..2: two")
    assert in_english(facts.value("memory.balance")) == "uneven: CPU1 has 128 GiB, CPU2 has 64 GiB"


# common practice, no source: the board's order decides, up to the next even number
NEXT = (
    ("", "DIMM A1"),
    ("  DIMM A1: two", "DIMM A3"),
    ("  DIMM A1: two\n  DIMM A3: two", "DIMM A2, DIMM A4"),
    ("  DIMM A1..3: two", "DIMM A4"),
    ("  DIMM A1..4: two", "DIMM A5 to 8"),
    ("  DIMM A1..6: two", "DIMM A7 to 8"),
    ("  DIMM A1..8: two", "none"),
)


@pytest.mark.parametrize(("fit", "positions"), NEXT)
def test_the_next_better_population_is_named(fit, positions):
    assert in_english(system(fit).value("memory.CPU1.next")) == positions


@given(st.integers(0, 16), st.lists(st.integers(1, 16), max_size=5))
def test_what_to_fill_next_is_empty_now_and_makes_an_even_number(filled, even):
    order = tuple((f"DIMM {at}", at < filled) for at in range(16))
    names = population.next_positions(order, tuple(even))
    assert not set(names) & {name for name, taken in order if taken}
    if names and even:
        assert filled + len(names) in even
