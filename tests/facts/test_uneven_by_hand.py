"""Systems filled unevenly, calculated on paper: on each channel, under each processor, another
number of modules and of ranks, so that no value comes out right by taking the wrong one."""

import pytest

from specgen.facts import Facts, facts_of
from specgen.quantity import DataRate, DataSize, TransferRate
from tests.facts.english import in_english
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project

# The tables fall with ranks in no order, so that a row of another number of them shows.
CATALOG = """
- kind: processor
  id: processor
  name: Processor
  source: {document: processors}
  socket: tern-a
  cores: 32
  threads: 64
  base_clock: 2.4 GHz
  max_clock: 3.6 GHz
  tdp: 200 W
  memory_technology: ddr5
  memory_channels: 4
  memory_speed: {1: 6400 MT/s, 2: 5600 MT/s}
  memory_speed_by_ranks: {1: 6400 MT/s, 2: 6000 MT/s, 3: 4400 MT/s, 4: 4800 MT/s}
  together: 2
- kind: memory-module
  common: {technology: ddr5, form: rdimm, device_width: 8, source: {document: memory}}
  parts:
    - {id: one, name: One rank, ranks: 1, capacity: 16 GiB, speed: 6400 MT/s}
    - {id: two, name: Two ranks, ranks: 2, capacity: 32 GiB, speed: 6400 MT/s}
    - {id: four, name: Four ranks, ranks: 4, capacity: 128 GiB, speed: 5200 MT/s}
"""


def system(fit: str, *, build: str = "", board: str = "") -> Facts:
    """Two processors, three channels wired under each, two slots a channel: `DIMM A12`."""
    slots = "".join(
        f"  - {{name: DIMM {side}{channel}{slot}, takes: memory-module, of: CPU{socket}, "
        f"channel: {side}{channel}}}\n"
        for socket, side in ((1, "A"), (2, "B"))
        for channel in (1, 2, 3)
        for slot in (1, 2)
    )
    found = project(
        {
            "specgen.yaml": PROJECT,
            "catalog/parts.yaml": CATALOG,
            "platforms/bench.yaml": (
                f"{PLATFORM}{board}\npositions:\n  - {{name: CPU1..2, takes: processor}}\n{slots}"
            ),
            "configured/trial.yaml": f"{BUILD}{build}\nfit:\n  CPU1..2: processor\n{fit}",
        }
    )
    assert found.loaded.findings == (), found.loaded.findings
    return facts_of(found.assemblies["trial"])


# A1: two and one: 2 modules, 3 ranks, 48 GiB. A2: two: 1 module, 2 ranks, 32 GiB. A3: one: 16 GiB.
# B1: two and two: 2 modules, 4 ranks, 64 GiB. Slots: 2 x 3 x 2.
UNEVEN = """\
  DIMM A11: two
  DIMM A12: one
  DIMM A21: two
  DIMM A31: one
  DIMM B11..B12: two
"""
# CPU1: modules 6400; 2 modules 5600; 3 ranks 4400. CPU2: 6400; 5600; 4 ranks 4800. One clock: 4400.
# Bandwidth: 4400 x 8 B x 3 channels = 105.6; x 1 = 35.2. Channels: least of 4 owned and 3 wired.
BY_HAND = {
    "memory.slots": 12,
    "memory.slots_usable": 12,
    "memory.modules": 6,
    "memory.capacity": DataSize.of(160, "GiB"),
    "memory.visible": DataSize.of(160, "GiB"),
    "memory.held_back": DataSize.of(0, "GiB"),
    "memory.capacity_per_core": DataSize.of("2.5", "GiB"),
    "memory.channels": 6,
    "memory.channels_used": 4,
    "memory.speed": TransferRate.of(4400, "MT/s"),
    "memory.bandwidth": DataRate.of("140.8", "GB/s"),
    "memory.CPU1.modules_per_channel": 2,
    "memory.CPU2.modules_per_channel": 2,
    "memory.CPU1.ranks_per_channel": 3,
    "memory.CPU2.ranks_per_channel": 4,
    "memory.CPU1.channels": 3,
    "memory.CPU1.channels_used": 3,
    "memory.CPU2.channels_used": 1,
    "memory.CPU1.capacity": DataSize.of(96, "GiB"),
    "memory.CPU2.capacity": DataSize.of(64, "GiB"),
    "memory.CPU1.visible": DataSize.of(96, "GiB"),
    "memory.CPU2.visible": DataSize.of(64, "GiB"),
    "memory.CPU1.own_speed": TransferRate.of(4400, "MT/s"),
    "memory.CPU2.own_speed": TransferRate.of(4800, "MT/s"),
    "memory.CPU1.speed": TransferRate.of(4400, "MT/s"),
    "memory.CPU2.speed": TransferRate.of(4400, "MT/s"),
    "memory.CPU1.bandwidth": DataRate.of("105.6", "GB/s"),
    "memory.CPU2.bandwidth": DataRate.of("35.2", "GB/s"),
}
WORDS = {
    "memory.kinds": ("Two ranks", "One rank"),
    "memory.mode": "independent",
    "memory.CPU1.own_speed_set_by": ("the processor at 3 ranks on a channel",),
    "memory.CPU2.own_speed_set_by": ("the processor at 4 ranks on a channel",),
    "memory.CPU1.speed_set_by": ("the processor at 3 ranks on a channel",),
    "memory.CPU2.speed_set_by": ("the memory of CPU1",),
    "memory.speed_set_by": ("the processor at 3 ranks on a channel",),
}


@pytest.mark.arithmetic("an uneven system", "sums on paper")
def test_values_of_memory_filled_unevenly():
    facts = system(UNEVEN)
    assert {key: facts.value(key) for key in BY_HAND} == BY_HAND
    assert {key: in_english(facts.value(key)) for key in WORDS} == WORDS


@pytest.mark.arithmetic("an uneven system", "sums on paper")
def test_the_fullest_channel_by_modules_need_not_be_that_by_ranks():
    # A1: one and one: 2 modules, 2 ranks. A2: four: 1 module, 4 ranks. A3: nothing.
    # Modules 5200; 2 modules 5600; 4 ranks 4800. CPU2 has none: no speed, no bandwidth of its own.
    facts = system("  DIMM A11..A12: one\n  DIMM A21: four\n")
    assert facts.value("memory.CPU1.modules_per_channel") == 2
    assert facts.value("memory.CPU1.ranks_per_channel") == 4
    assert facts.value("memory.CPU1.speed") == TransferRate.of(4800, "MT/s")
    assert facts.value("memory.CPU1.bandwidth") == DataRate.of("76.8", "GB/s")
    assert facts.value("memory.CPU2.modules_per_channel") == 0
    assert facts.value("memory.CPU2.own_speed") is None
    assert facts.value("memory.bandwidth") == DataRate.of("76.8", "GB/s")
    assert facts.value("memory.CPU1.capacity") == DataSize.of(160, "GiB")


@pytest.mark.arithmetic("an uneven system", "sums on paper")
@pytest.mark.parametrize(
    ("board", "speed", "stages"),
    [
        # With 1 module and 1 rank on the fullest channel all allow 6400 but the board
        ("memory_speed: {1: 6000 MT/s}", 6000, ("the board at 1 module on a channel",)),
        ("memory_speed_by_ranks: {1: 5200 MT/s}", 5200, ("the board at 1 rank on a channel",)),
        ("memory_speed: {1: 6400 MT/s}", 6400, ("the modules",)),
        ("", 6400, ("the modules",)),
        ("memory_speed: {2: 5600 MT/s}", None, None),  # no row for one module
    ],
)
def test_the_stage_that_allows_least_sets_the_speed(board, speed, stages):
    facts = system("  DIMM A11: one\n  DIMM B11: one\n", board=board)
    expected = None if speed is None else TransferRate.of(speed, "MT/s")
    assert facts.value("memory.speed") == expected
    assert in_english(facts.value("memory.CPU1.own_speed_set_by")) == stages


@pytest.mark.arithmetic("an uneven system", "sums on paper")
def test_two_stages_that_allow_the_same_are_both_named():
    fit = "  DIMM A11..A12: one\n"  # 2 modules, 2 ranks: 5600, and of the ranks 6000
    facts = system(fit, board="memory_speed: {2: 5600 MT/s}")
    assert in_english(facts.value("memory.speed_set_by")) == (
        "the processor at 2 modules on a channel",
        "the board at 2 modules on a channel",
    )


@pytest.mark.arithmetic("an uneven system", "sums on paper")
def test_processors_that_run_their_memory_apart():
    # 105.6 as above; CPU2 at its own 4800 x 8 B x 1 channel = 38.4
    facts = system(UNEVEN, board="memory_apart: true")
    assert facts.value("memory.CPU2.speed") == TransferRate.of(4800, "MT/s")
    assert facts.value("memory.CPU2.bandwidth") == DataRate.of("38.4", "GB/s")
    assert facts.value("memory.bandwidth") == DataRate.of(144, "GB/s")
    assert facts.value("memory.speed") == TransferRate.of(4400, "MT/s")


@pytest.mark.arithmetic("an uneven system", "sums on paper")
@pytest.mark.parametrize(
    ("mode", "seen", "bare"),
    [
        # No two channels of a processor hold the same
        ("mirrored", (0, 0), (("A1", "A2", "A3"), ("B1",))),
        # A1: 48 less the greater of 32 / 2 and 16 / 1; A2: 32 - 16; A3: one rank. B1: 64 - 16
        ("spare-rank", (48, 48), (("A3",), ())),
    ],
)
def test_what_a_mode_leaves_of_memory_filled_unevenly(mode, seen, bare):
    facts = system(UNEVEN, build=f"memory_mode: {mode}")
    for socket, size, channels in zip((1, 2), seen, bare, strict=True):
        assert facts.value(f"memory.CPU{socket}.visible") == DataSize.of(size, "GiB")
        assert facts.value(f"memory.CPU{socket}.unprotected") == channels
    assert facts.value("memory.visible") == DataSize.of(sum(seen), "GiB")
    assert facts.value("memory.held_back") == DataSize.of(160 - sum(seen), "GiB")
