"""Memory: bandwidths, system peaks and module capacities, against published values."""

from decimal import Decimal

import pytest

from specgen.facts import Facts
from specgen.facts.calculators import memory
from specgen.model import MemoryModule
from specgen.pipeline import Survey
from specgen.quantity import DataSize, TransferRate
from tests.facts.systems import calculated
from tests.sorts import rest_on

TOPIC = "DDR4 and DDR5 memory"
PRESS = pytest.mark.published(TOPIC, "Hardware press: DDR4-2133 to DDR4-3200, DDR5-4800")
JEDEC = pytest.mark.memory(TOPIC, "JESD79-4, JESD79-5, -5C: list of grades")

# Source: JEDEC JESD79-4 (DDR4) and JESD79-5, -5C (DDR5): the list of grades from memory; peak of
# a channel = rate x 8 bytes, decimal MB. In print: the clocks of DDR4, and DDR5-4800 = 38.4 GB/s.
GRADES_READ = (
    ("DDR4-2133", "2133.33", "17067"),
    ("DDR4-2400", "2400", "19200"),
    ("DDR4-2666", "2666.67", "21333"),
    ("DDR4-2933", "2933.33", "23467"),
    ("DDR4-3200", "3200", "25600"),
    ("DDR5-4800", "4800", "38400"),
)
GRADES_REMEMBERED = (
    ("DDR4-1600", "1600", "12800"),
    ("DDR4-1866", "1866.67", "14933"),
    ("DDR5-5200", "5200", "41600"),
    ("DDR5-5600", "5600", "44800"),
    ("DDR5-6000", "6000", "48000"),
    ("DDR5-6400", "6400", "51200"),
    ("DDR5-7200", "7200", "57600"),
    ("DDR5-8000", "8000", "64000"),
    ("DDR5-8800", "8800", "70400"),
)
# Source: as above; with the rate in whole MT/s the product is a little less
WHOLE_RATES = (("1866", "14928"), ("2133", "17064"), ("2666", "21328"), ("2933", "23464"))


@pytest.mark.parametrize(
    ("grade", "rate", "megabytes"),
    [*rest_on(PRESS, GRADES_READ), *rest_on(JEDEC, GRADES_REMEMBERED)],
)
def test_a_channel_carries_eight_bytes_a_transfer(grade, rate, megabytes):
    got = memory.bandwidth(TransferRate.of(rate, "MT/s"), 1).in_unit("MB/s")
    assert got == pytest.approx(Decimal(megabytes), rel=Decimal("5e-4")), grade


@pytest.mark.arithmetic("DDR4 and DDR5 memory", "MT/s x 8 bytes x channels")
@pytest.mark.parametrize(("rate", "megabytes"), WHOLE_RATES)
def test_a_rate_in_whole_megatransfers_gives_a_little_less(rate, megabytes):
    got = memory.bandwidth(TransferRate.of(rate, "MT/s"), 1).in_unit("MB/s")
    assert got == Decimal(megabytes)


@pytest.mark.published("DDR4 and DDR5 memory", "DMTF Memory, DataWidthBits")
def test_check_bits_carry_no_user_data():
    # Source: DMTF Memory: DataWidthBits 64 beside BusWidthBits 72; DDR5 2 x 32 of 2 x 40 bits
    assert memory.bandwidth(TransferRate.of(4800, "MT/s"), 1).in_unit("GB/s") == Decimal("38.4")


def system(sockets: int, channels: int, rate: str, modules: str = "module") -> Facts:
    """A module on each channel of each processor, in slots named D1_1, D1_2, …"""
    slots = "".join(
        f"  - {{name: DIMM {socket}-{channel}, takes: memory-module, of: CPU{socket}, "
        f"channel: C{channel}}}\n"
        for socket in range(1, sockets + 1)
        for channel in range(1, channels + 1)
    )
    return calculated(
        f"  - {{name: CPU1..CPU{sockets}, takes: processor}}\n{slots}",
        f"  CPU1..CPU{sockets}: processor\n"
        + "".join(
            f"  DIMM {socket}-1..{channels}: {modules}\n" for socket in range(1, sockets + 1)
        ),
        catalog=f"""
- kind: memory-module
  common: {{technology: ddr5, form: rdimm, ranks: 2, device_width: 8, source: {{document: memory}}}}
  parts:
    - {{id: module, name: Module, capacity: 32 GiB, speed: {rate}}}
    - {{id: slower, name: Slower, capacity: 16 GiB, speed: 4400 MT/s}}
""",
        channels=channels,
        rate="8800 MT/s",
    )


# Source: as GRADES, times channels and sockets
SYSTEMS = (
    (1, 8, "3200", "204.8"),
    (1, 8, "4800", "307.2"),
    (1, 12, "4800", "460.8"),
    (1, 12, "5600", "537.6"),
    (1, 12, "6400", "614.4"),
    (2, 8, "4800", "614.4"),
)


@pytest.mark.arithmetic("DDR4 and DDR5 memory", "MT/s x 8 bytes x channels")
@pytest.mark.parametrize(("sockets", "channels", "rate", "gigabytes"), SYSTEMS)
def test_a_whole_system_peaks_at_channels_times_rate(sockets, channels, rate, gigabytes):
    facts = system(sockets, channels, f"{rate} MT/s")
    assert facts.value("memory.bandwidth").in_unit("GB/s") == Decimal(gigabytes)
    assert facts.value("memory.channels_used") == sockets * channels
    assert facts.value("memory.capacity") == DataSize.of(32 * sockets * channels, "GiB")


# Source: module capacity in GiB = ranks x (64 / device width) x dies in a package x Gbit / 8;
# check devices are not counted. Die densities of DDR5: JESD79-5, 8 to 64 Gbit.
ORGANISED = (
    (1, 8, 1, 8, 8),
    (2, 4, 1, 8, 32),
    (2, 4, 1, 16, 64),
    (2, 8, 1, 16, 32),
    (2, 4, 1, 16, 64),
    (1, 4, 1, 24, 48),
    (2, 4, 1, 24, 96),
    (2, 4, 1, 32, 128),
    (2, 4, 4, 16, 256),
)


def gibibytes(ranks: int, width: int, dies: int, density: int) -> Decimal:
    return Decimal(ranks * (64 // width) * dies * density) / 8


@pytest.mark.arithmetic("DDR4 and DDR5 memory", "ranks x 64 / device width x dies x Gbit / 8")
@pytest.mark.parametrize(("ranks", "width", "dies", "density", "capacity"), ORGANISED)
def test_the_arithmetic_of_this_test_is_that_of_the_tables(ranks, width, dies, density, capacity):
    assert gibibytes(ranks, width, dies, density) == capacity


@pytest.mark.arithmetic("DDR4 and DDR5 memory", "ranks x 64 / device width x dies x Gbit / 8")
def test_the_modules_of_the_demo_can_be_built_of_their_dies(demo: Survey):
    # Source: as ORGANISED; the demo's modules say in `attributes` what their dies are
    assert demo.definitions is not None
    modules = [p for p in demo.definitions.parts.values() if isinstance(p, MemoryModule)]
    assert len(modules) >= 12
    wrong = []
    for module in modules:
        density = int(module.attributes["die density"].removesuffix(" Gbit"))
        dies = int(module.attributes.get("dies in a package", "1"))
        arithmetic = gibibytes(module.ranks, module.device_width, dies, density)
        if module.capacity.in_unit("GiB") != arithmetic:
            wrong.append((module.id, arithmetic))
    assert wrong == []


@pytest.mark.memory("DDR4 and DDR5 memory", "JEDEC module labels")
def test_modules_of_the_demo_are_named_as_they_are_organised(demo: Survey):
    # Source: JEDEC module labels state ranks and device width, `2Rx4`; from memory
    assert demo.definitions is not None
    for part in demo.definitions.parts.values():
        if isinstance(part, MemoryModule):
            stacked = "S4" if part.form == "3ds-rdimm" else ""
            assert f"{part.ranks}{stacked}Rx{part.device_width}" in part.name
            assert f"{part.capacity.in_unit('GiB'):f} GiB" in part.name
            assert f"DDR5-{part.speed.in_unit('MT/s'):f}" in part.name


@pytest.mark.published("DDR4 and DDR5 memory", "IEC 80000-13")
def test_memory_capacity_is_binary():
    # Source: IEC 80000-13; 512 GiB = 549.755813888 GB
    facts = system(2, 8, "4800 MT/s")
    capacity = facts.value("memory.capacity")
    assert capacity.in_unit("GiB") == 512
    assert capacity.in_unit("GB") == Decimal("549.755813888")


@pytest.mark.practice(TOPIC, "memory runs at the slowest of module, processor and board")
def test_a_slower_module_slows_all_of_its_processor():
    # common practice, no source: mixed modules run at the slowest one's rate
    rates = (TransferRate.of(5600, "MT/s"), TransferRate.of(4400, "MT/s"))
    assert memory.own_speed(1, rates, {}, {}) == TransferRate.of(4400, "MT/s")


# common practice, no source: processor and board state a rate for each number of modules on a
# channel, and two on a channel run slower than one
TABLE = {1: TransferRate.of(5600, "MT/s"), 2: TransferRate.of(4400, "MT/s")}
DERATED = (
    (1, {}, "5600"),
    (2, {}, "4400"),
    (1, {1: TransferRate.of(4800, "MT/s")}, "4800"),
    (2, {1: TransferRate.of(4800, "MT/s"), 2: TransferRate.of(4000, "MT/s")}, "4000"),
)


@pytest.mark.practice(TOPIC, "memory runs at the slowest of module, processor and board")
@pytest.mark.parametrize(("loading", "board", "rate"), DERATED)
def test_speed_is_the_least_of_module_processor_and_board(loading, board, rate):
    modules = (TransferRate.of(6400, "MT/s"),)
    assert memory.own_speed(loading, modules, TABLE, board) == TransferRate.of(rate, "MT/s")


def test_a_processor_without_modules_has_no_memory_speed():
    assert memory.own_speed(0, (), TABLE, {}) is None


# before: the row for 2 held for 3 as well, and that for 1 on the board for 2
@pytest.mark.practice(TOPIC, "a rate holds for the number of modules that it is declared for")
@pytest.mark.parametrize(
    ("loading", "board"), [(3, {}), (2, {1: TransferRate.of(4800, "MT/s")})], ids=str
)
def test_a_rate_is_never_taken_from_another_number_of_modules(loading, board):
    modules = (TransferRate.of(6400, "MT/s"),)
    assert memory.own_speed(loading, modules, TABLE, board) is None
    assert memory.own_speed_set_by(loading, modules, TABLE, board) is None


# Source: JESD209-5, from memory: a channel of LPDDR5 has 16 data bits; rate x 2 bytes
@pytest.mark.memory(TOPIC, "JESD209-5: channels of 16 bits")
@pytest.mark.parametrize(
    ("technology", "rate", "channels", "gigabytes"),
    [
        ("ddr5", "6400", 4, "204.8"),
        ("lpddr5", "6400", 4, "51.2"),
        ("lpddr5x", "8533", 8, "136.528"),
    ],
)
def test_bandwidth_follows_from_the_width_of_the_technology(technology, rate, channels, gigabytes):
    facts = mixed(technology, rate, channels)  # before: 8 bytes of each
    assert facts.value("memory.bandwidth").in_unit("GB/s") == Decimal(gigabytes)


def test_a_project_describes_further_technologies():
    own = "memory_technologies: {stacked-1: 128}\n"
    assert mixed("stacked-1", "6400", 2, own).value("memory.bandwidth").in_unit("GB/s") == Decimal(
        "204.8"
    )
    assert mixed("stacked-1", "6400", 2).value("memory.bandwidth") is None


def mixed(technology: str, rate: str, channels: int, project: str = "") -> Facts:
    """One processor with a module of a technology on each channel."""
    return calculated(
        "  - {name: CPU1, takes: processor}\n"
        + "".join(
            f"  - {{name: M{n}, takes: memory-module, of: CPU1, channel: C{n}}}\n"
            for n in range(1, channels + 1)
        ),
        "  CPU1: processor\n" + "".join(f"  M{n}: module\n" for n in range(1, channels + 1)),
        catalog=f"""
- kind: memory-module
  id: module
  name: Module
  technology: {technology}
  form: board
  ranks: 1
  device_width: 16
  capacity: 16 GiB
  speed: {rate} MT/s
  source: {{document: memory}}
""",
        channels=channels,
        rate="8800 MT/s",
        project_says=project,
    )


@pytest.mark.practice(TOPIC, "one memory clock for all processors of a system")
@pytest.mark.parametrize(
    ("apart", "first", "second", "all_"),
    [("", "4400", "4400", "140.8"), ("memory_apart: true\n", "5600", "4400", "160")],
)
def test_all_processors_run_their_memory_at_one_rate(apart, first, second, all_):
    facts = unlike(apart)  # before: 5600 and 4400 MT/s, 160 GB/s in both
    assert facts.value("memory.CPU1.speed") == TransferRate.of(first, "MT/s")
    assert facts.value("memory.CPU2.speed") == TransferRate.of(second, "MT/s")
    assert facts.value("memory.speed") == TransferRate.of(4400, "MT/s")
    assert facts.value("memory.bandwidth").in_unit("GB/s") == Decimal(all_)
    sums = [facts.value(f"memory.CPU{n}.bandwidth").in_unit("GB/s") for n in (1, 2)]
    assert sum(sums) == Decimal(all_)
    stages = {str(each) for each in facts.value("memory.CPU1.speed_set_by")}
    assert stages == ({"the modules"} if apart else {"the memory of CPU2"})


def unlike(board: str) -> Facts:
    """Two processors with two channels each, the second with slower modules."""
    return calculated(
        "  - {name: CPU1..CPU2, takes: processor}\n"
        + "".join(
            f"  - {{name: M{cpu}{n}, takes: memory-module, of: CPU{cpu}, channel: C{n}}}\n"
            for cpu in (1, 2)
            for n in (1, 2)
        ),
        "  CPU1..CPU2: processor\n  M11: module\n  M12: module\n  M21: slower\n  M22: slower\n",
        catalog="""
- kind: memory-module
  common: {technology: ddr5, form: rdimm, ranks: 2, device_width: 8, source: {document: memory}}
  parts:
    - {id: module, name: Module, capacity: 32 GiB, speed: 5600 MT/s}
    - {id: slower, name: Slower, capacity: 32 GiB, speed: 4400 MT/s}
""",
        channels=2,
        rate="8800 MT/s",
        board=board,
    )
