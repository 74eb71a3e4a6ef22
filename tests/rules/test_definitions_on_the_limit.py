# ruff: noqa: E501 (a table reads best with one row a line)
"""What checks of definitions let pass and what they do not, a step apart.

All parts stand in one project, and each row in it twice: within the limit and beyond it. Limits
without a source are what the checks take for usual; they are written here a second time, so that
none moves unseen.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, Final, NamedTuple

import pytest
import yaml

from specgen.diagnostics import Finding
from specgen.load.definitions import load
from specgen.rules.definitions.whole_project import of_definitions
from specgen.rules.told_once import told_once
from tests.facts.english import in_english
from tests.facts.systems import PLATFORM, PROJECT
from tests.projects import sources

pytestmark = [
    pytest.mark.practice("limits of definitions", "what is usual, a step within and beyond"),
]

SOUND: Final[Mapping[str, str]] = {
    "processor": "socket: tern-a, cores: 32, threads: 64, base_clock: 2 GHz, max_clock: 3 GHz, tdp: 200 W, memory_technology: ddr5, memory_channels: 8, memory_speed: {1: 5600 MT/s}",
    "memory-module": "technology: ddr5, form: rdimm, capacity: 32 GiB, speed: 5600 MT/s, ranks: 2, device_width: 8",
    "drive": "medium: ssd, form: 2.5-inch, swap: hot, interface: nvme, lanes: x4, generation: 5, capacity: 2 TB",
    "storage-controller": "lanes: x8, generation: 4",
    "network-adapter": "ethernet: [{name: A, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}]",
    "accelerator": "lanes: x16, generation: 5",
    "riser": "",
    "cable": "form: mcio-8i, far_form: mcio-8i, lanes: x8, carries: {pcie: 5}",
    "power-supply": "form: m-crps-60, inlet: C14, outputs: [{from: 200 V, to: 240 V, output: 800 W}]",
    "fan": "form: fan-40",
    "heat-sink": "tdp_limit: 200 W, socket: tern-a",
    "transceiver": "form: qsfp28, speed: 100 Gbit/s, medium: fibre",
    "bezel": "",
    "rail-kit": "",
    "cable-arm": "",
    "tpm": "form: spi-tpm",
    "power-cord": "form: two-pole terminal, plug: cable lugs, current: 10 A",
}


class Row(NamedTuple):
    """A part in two versions: what it says else, and a field or more within and beyond."""

    code: str
    kind: str
    within: str
    beyond: str
    says: str = ""
    "What the finding, its notes and its help say among other things."
    name: str = ""


def _far(kind: str, field: str, within: str, beyond: str, also: str = "", says: str = "") -> Row:
    """One field that is far from what is usual; dots lead into records, braces are closed."""
    *outer, last = field.split(".")
    before, after = "".join(f"{each}: {{" for each in outer), "}" * len(outer)
    texts = (f"{before}{last}: {value}{after}{also}" for value in (within, beyond))
    return Row("SG128", kind, *texts, says)


def _weighs(kind: str, least: str, less: str, most: str, more: str) -> Iterator[Row]:
    yield _far(kind, "mass", least, less)
    yield _far(kind, "mass", most, more)


# Common practice, no source, unless one is named
USUAL: Final = (
    _far("processor", "base_clock", "100 MHz", "99 MHz", says="usual is 100 MHz to 20 GHz"),
    _far("processor", "max_clock", "20 GHz", "20.1 GHz"),
    _far("processor", "vector_clock", "100 MHz", "99 MHz", ", base_clock: 100 MHz"),
    _far("processor", "tdp", "0.5 W", "0.49 W"),
    _far("processor", "tdp", "2 kW", "2.01 kW"),
    _far("heat-sink", "tdp_limit", "0.5 W", "0.49 W"),
    _far("heat-sink", "tdp_limit", "2 kW", "2.01 kW"),
    _far("accelerator", "power.maximum", "50 kW", "50.1 kW"),
    Row("SG128", "accelerator", "power: {typical: 50 kW, maximum: 50 kW}", "power: {typical: 50.1 kW, maximum: 50 kW}", "above `maximum`"),
    Row("SG128", "accelerator", "power: {idle: 50 kW, maximum: 50 kW}", "power: {idle: 50.1 kW, maximum: 50 kW}", "above `maximum`"),
    _far("processor", "cache", "16 KiB", "15 KiB"),
    _far("processor", "cache", "1 TiB", "1025 GiB"),
    _far("processor", "memory_limit", "256 MiB", "255 MiB", ", memory_technology: hbm3"),
    _far("processor", "memory_limit", "4096 TiB", "4097 TiB"),
    _far("accelerator", "memory", "64 MiB", "63 MiB"),
    _far("accelerator", "memory", "64 TiB", "65 TiB"),
    _far("accelerator", "memory_bandwidth", "1 GB/s", "0.9 GB/s"),
    _far("accelerator", "memory_bandwidth", "1000 TB/s", "1001 TB/s"),
    _far("drive", "read", "1 MB/s", "0.9 MB/s"),
    _far("drive", "write", "1 MB/s", "0.9 MB/s"),
    _far("fan", "noise", "1 B", "0.9 B"),
    _far("fan", "noise", "12 B", "12.1 B"),
    _far("fan", "noise_adder", "2 B", "2.1 B", ", noise: 5 B"),
    _far("bezel", "inlet_limit", "10 degC", "9.9 degC"),
    _far("bezel", "inlet_limit", "80 degC", "80.1 degC"),
    _far("drive", "mean_time_between_failures", "100000 h", "99999 h"),
    _far("drive", "mean_time_between_failures", "1000000000 h", "1000000001 h"),
    _far("drive", "warranty", "14 d", "13 d"),
    _far("drive", "warranty", "30 y", "31 y"),
    _far("transceiver", "reach", "0.1 m", "0.09 m"),
    _far("transceiver", "reach", "500 km", "501 km"),
    _far("transceiver", "reach", "0.1 m", "0.09 m", ", medium: copper"),
    _far("transceiver", "reach", "150 m", "151 m", ", medium: copper"),
    _far("power-cord", "length", "10 mm", "9 mm"),
    _far("power-cord", "length", "200 m", "201 m"),
    _far("cable", "length", "10 mm", "9 mm"),
    _far("cable", "length", "20 m", "20.1 m"),
    _far("rail-kit", "adjusts_from", "50 mm", "49 mm"),
    _far("rail-kit", "adjusts_from", "3 m", "3001 mm"),
    _far("rail-kit", "adjusts_to", "50 mm", "49 mm"),
    _far("rail-kit", "adjusts_to", "3 m", "3001 mm"),
    _far("rail-kit", "load_rating", "0.5 kg", "0.4 kg"),
    _far("rail-kit", "load_rating", "10000 kg", "10001 kg"),
    _far("fan", "airflow", "0.5 m3/h", "0.4 m3/h"),
    _far("fan", "airflow", "5000 m3/h", "5001 m3/h"),
    _far("cable-arm", "adds_depth", "500 mm", "501 mm"),
    _far("power-cord", "current", "0.1 A", "0.09 A"),
    _far("power-cord", "current", "1000 A", "1001 A"),
    _far("power-supply", "input_current", "0.1 A", "0.09 A", ", outputs: [{from: 200 V, to: 240 V, output: 20 W}]"),
    _far("power-supply", "input_current", "1000 A", "1001 A", ", outputs: [{from: 200 V, to: 240 V, output: 100 kW}]"),
    Row("SG128", "power-supply", "outputs: [{from: 200 V, to: 240 V, output: 5 W}]", "outputs: [{from: 200 V, to: 240 V, output: 4.9 W}]"),
    Row("SG128", "power-supply", "outputs: [{from: 200 V, to: 240 V, output: 100 kW}]", "outputs: [{from: 200 V, to: 240 V, output: 100.1 kW}]"),
    Row("SG128", "riser", "brings: {positions: [{name: S, takes: network-adapter, power: 5 kW}]}", "brings: {positions: [{name: S, takes: network-adapter, power: 5.1 kW}]}"),
    _far("drive", "capacity", "100 MB", "99 MB"),
    _far("drive", "capacity", "10 PB", "11 PB"),
    _far("memory-module", "capacity", "16 MiB", "15 MiB", ", technology: own"),
    _far("memory-module", "capacity", "16 TiB", "17 TiB", ", technology: own"),
    # JESD79-4 and JESD79-5 (from memory): from 1600 and 3200 MT/s on
    _far("memory-module", "speed", "1600 MT/s", "1599 MT/s", ", technology: ddr4"),
    _far("memory-module", "speed", "3200 MT/s", "3199 MT/s"),
    _far("memory-module", "speed", "100 MT/s", "99 MT/s", ", technology: own"),
    _far("memory-module", "speed", "100 GT/s", "100.1 GT/s", ", technology: own"),
    # A hundredth of 10 and of 100 Gbit/s
    _far("transceiver", "speed", "100 Mbit/s", "99 Mbit/s", ", form: sfp+"),
    _far("transceiver", "speed", "1 Gbit/s", "0.99 Gbit/s"),
    *_weighs("memory-module", "2 g", "1.9 g", "250 g", "251 g"),
    *_weighs("transceiver", "2 g", "1.9 g", "3 kg", "3.1 kg"),
    *_weighs("tpm", "0.5 g", "0.4 g", "500 g", "501 g"),
    *_weighs("processor", "3 g", "2.9 g", "300 g", "301 g"),
    *_weighs("drive", "2 g", "1.9 g", "5 kg", "5.1 kg"),
    *_weighs("fan", "3 g", "2.9 g", "8 kg", "8.1 kg"),
    *_weighs("power-supply", "50 g", "49 g", "30 kg", "30.1 kg"),
    *_weighs("bezel", "0.2 g", "0.1 g", "200 kg", "201 kg"),
    _far("memory-module", "power.maximum", "150 W", "151 W"),
    _far("transceiver", "power.maximum", "45 W", "46 W", ", form: qsfp-dd"),
    _far("transceiver", "power.maximum", "10 W", "10.1 W", ", form: qsfp28"),
    _far("transceiver", "power.maximum", "20 W", "20.1 W", ", form: qsfp56"),
    _far("transceiver", "power.maximum", "5 W", "5.1 W", ", form: sfp28, speed: 25 Gbit/s"),
    _far("tpm", "power.maximum", "10 W", "11 W"),
    _far("drive", "power.maximum", "150 W", "151 W"),
    _far("fan", "power.maximum", "800 W", "801 W"),
)  # fmt: skip

UNITS: Final = (
    _far("memory-module", "capacity", "32 GiB", "32 GB", says="write `32 GiB`"),
    _far("processor", "memory_limit", "2 TiB", "2 TB", says="write `2 TiB`"),
    _far("storage-controller", "cache", "512 MiB", "512 MB", says="write `512 MiB`"),
    _far("accelerator", "memory", "80 GiB", "80 GB", says="write `80 GiB`"),
    _far("drive", "capacity", "2 TB", "2 TiB", says="write `2 TB`"),
    _far("transceiver", "speed", "100 Gbit/s", "100 GB/s", ", form: own", says="write `100 Gbit/s`"),
    _far("drive", "read", "700 MB/s", "700 Mbit/s", says="write `700 MB/s`"),
    _far("drive", "write", "700 MB/s", "700 Mbit/s", says="write `700 MB/s`"),
    _far("accelerator", "memory_bandwidth", "3 TB/s", "3 Tbit/s", says="write `3 TB/s`"),
)  # fmt: skip


def _doubt(kind: str, within: str, beyond: str, says: str = "") -> Row:
    return Row("SG130", kind, within, beyond, says)


LITRE: Final = "size: {width: 100 mm, height: 100 mm, depth: 100 mm}, mass: "
DOUBTS: Final = (
    # Flash is read faster than it is written: a tenth is left to measuring, twice to a cache
    _doubt("drive", "read: 1000 MB/s, write: 1100 MB/s", "read: 1000 MB/s, write: 1101 MB/s", "whether the two were exchanged"),
    _doubt("drive", "random_reads: 1000, random_writes: 2000", "random_reads: 1000, random_writes: 2001"),
    _doubt("drive", "read: 100 MB/s, write: 200 MB/s, medium: hdd", "read: 100 MB/s, write: 200 MB/s"),
    _doubt("processor", "cores: 4, threads: 32", "cores: 4, threads: 36"),
    _doubt("processor", "cores: 4, threads: 8", "cores: 4, threads: 9"),
    _doubt("processor", "cores: 1024, threads: 1024", "cores: 1025, threads: 1025"),
    _doubt("processor", "memory_channels: 16", "memory_channels: 18", "up to 16"),
    _doubt("processor", "memory_channels: 3", "memory_channels: 5"),
    _doubt("processor", "memory_channels: 1", "memory_channels: 15"),
    _doubt("processor", "memory_channels: 128, memory_technology: hbm3", "memory_channels: 130, memory_technology: hbm3", "up to 128"),
    *(_doubt("processor", f"together: {good}", f"together: {bad}") for good, bad in ((1, 5), (2, 7), (3, 9), (4, 10), (6, 15), (8, 17), (16, 32))),
    _doubt("processor", "operations_per_cycle: 1", "operations_per_cycle: 3"),
    _doubt("processor", "operations_per_cycle: 16", "operations_per_cycle: 17"),
    _doubt("accelerator", "lanes: x16, connector: x16", "lanes: x16, connector: x32", "write `x16`"),
    _doubt("memory-module", "device_width: 16, error_correction: false", "device_width: 16", "error_correction: false"),
    _doubt("memory-module", "device_width: 4, error_correction: false", "device_width: 2, error_correction: false"),
    _doubt("memory-module", "device_width: 8, error_correction: false", "device_width: 32, error_correction: false"),
    # Capacity = ranks x 64 / width devices of 2^n or 3 x 2^n Gbit: 16 Gbit of 16 devices are 32 GiB
    _doubt("memory-module", "ranks: 1, capacity: 16 GiB", "ranks: 3, capacity: 48 GiB"),
    _doubt("memory-module", "ranks: 4, capacity: 64 GiB", "ranks: 6, capacity: 96 GiB"),
    _doubt("memory-module", "ranks: 8, capacity: 128 GiB", "ranks: 16, capacity: 256 GiB"),
    _doubt("memory-module", "capacity: 48 GiB", "capacity: 40 GiB", "2 x x8 devices"),
    _doubt("memory-module", "capacity: 2 GiB", "capacity: 1 GiB"),  # 1 Gbit, 0.5 Gbit
    _doubt("memory-module", "capacity: 1 TiB", "capacity: 2 TiB"),  # 512 Gbit, 1 Tbit
    *(_doubt("transceiver", f"attributes: {{fibre: {words}}}, reach: {good}", f"attributes: {{fibre: {words}}}, reach: {bad}")
      for words, good, bad in (
          ("multimode", "1 m", "0.9 m"), ("multi-mode", "2 km", "2.1 km"), ("OM1", "1 m", "0.9 m"), ("OM5", "2 km", "2.1 km"),
          ("100GBASE-SR4", "1 m", "0.9 m"), ("1000BASE-SX", "2 km", "2.1 km"),
          ("singlemode", "50 m", "49 m"), ("single-mode", "200 km", "201 km"), ("OS1", "50 m", "49 m"), ("OS2", "200 km", "201 km"),
          *((f"100GBASE-{reach}", "50 m", "49 m") for reach in ("LR4", "ER4", "ZR", "DR", "FR1")), ("1000BASE-LX", "200 km", "201 km"),
      )),
    # A litre: from foam to solid steel
    _doubt("bezel", f"{LITRE}20 g", f"{LITRE}19 g"),
    _doubt("bezel", f"{LITRE}8 kg", f"{LITRE}8.1 kg", "8.1 kg a litre"),
    # Output over the lowest voltage: 4 A, of which a fifth less and three times as much pass
    _doubt("power-supply", "input_current: 3.2 A", "input_current: 3.19 A", "800 W at 200 V are 4 A"),
    _doubt("power-supply", "input_current: 12 A", "input_current: 12.1 A"),
    # A quarter of the output at half the voltage, and never more
    _doubt("power-supply", "outputs: [{from: 100 V, to: 127 V, output: 200 W}, {from: 200 V, to: 240 V, output: 800 W}]", "outputs: [{from: 100 V, to: 127 V, output: 199 W}, {from: 200 V, to: 240 V, output: 800 W}]", "about half the output"),
    _doubt("power-supply", "outputs: [{from: 100 V, to: 127 V, output: 800 W}, {from: 200 V, to: 240 V, output: 800 W}]", "outputs: [{from: 100 V, to: 127 V, output: 801 W}, {from: 200 V, to: 240 V, output: 800 W}]", "gives no less"),
    # 200 W of TDP: half and twice
    _doubt("processor", "power: {maximum: 400 W}", "power: {maximum: 401 W}", "about as much as its TDP"),
    # Two GiB for each of eight channels
    _doubt("processor", "memory_limit: 16 GiB", "memory_limit: 15.9 GiB", "each of 8 channels"),
    # Eight times what is typical, and whatever it is up to 10 W
    _doubt("accelerator", "power: {typical: 1 W, maximum: 10 W}", "power: {typical: 1 W, maximum: 10.1 W}"),
    _doubt("accelerator", "power: {typical: 10 W, maximum: 80 W}", "power: {typical: 10 W, maximum: 80.1 W}"),
)  # fmt: skip


def _breaks(kind: str, within: str, beyond: str, says: str = "") -> Row:
    return Row("SG118", kind, within, beyond, says)


def _output(first: str, second: str) -> str:
    return f"outputs: [{{from: {first}, output: 600 W}}, {{from: {second}, output: 600 W}}]"


def _curve(*points: tuple[str, str]) -> str:
    rows = (f"{{load: {load}, efficiency: {part}, power_factor: 0.9}}" for load, part in points)
    return f"curve_at: 230 V, curve: [{', '.join(rows)}]"


def _port(ports: str) -> str:
    return f"brings: {{ports: [{{name: P0, {ports}}}]}}"


CONTRADICTIONS: Final = (
    _breaks("accelerator", "power: {idle: 5 W, typical: 5 W, maximum: 5 W}", "power: {idle: 6 W, typical: 5 W, maximum: 6 W}"),
    _breaks("accelerator", "power: {idle: 5 W, maximum: 5 W}", "power: {idle: 6 W, maximum: 5 W}"),
    _breaks("processor", "base_clock: 3 GHz", "base_clock: 3.1 GHz"),
    _breaks("processor", "vector_clock: 3 GHz", "vector_clock: 3.1 GHz"),
    _breaks("processor", "threads: 32", "threads: 31"),
    _breaks("accelerator", "lanes: x8, connector: x8", "lanes: x8, connector: x4"),
    _breaks("rail-kit", "adjusts_from: 700 mm, adjusts_to: 700 mm", "adjusts_from: 701 mm, adjusts_to: 700 mm"),
    _breaks("heat-sink", "tdp_limit: 1 W", "tdp_limit: 0 W", "leave the line out"),
    _breaks("drive", "warranty: 3 y", "warranty: 0 y"),
    _breaks("drive", "mean_time_between_failures: 1000000 h", "mean_time_between_failures: 0 h"),
    _breaks("drive", "read: 1 MB/s", "read: 0 MB/s"),
    _breaks("fan", "airflow: 1 m3/h", "airflow: 0 m3/h"),
    _breaks("power-cord", "current: 1 A", "current: 0 A"),
    _breaks("memory-module", "speed: 3200 MT/s", "speed: 0 MT/s"),
    _breaks("storage-controller", "cache: 4 GiB, keeps_cache: cache-protection", "keeps_cache: cache-protection"),
    _breaks("fan", "noise: 5 B, noise_adder: 0.3 B", "noise_adder: 0.3 B"),
    _breaks("processor", "vector_units: 2, vector_width: 512", "vector_width: 512"),
    _breaks("processor", "vector_units: 2, vector_width: 512", "vector_units: 2, vector_width: 512, operations_per_cycle: 32"),
    _breaks("processor", "vector_units: 2, vector_width: 128", "vector_units: 2, vector_width: 384"),
    _breaks("network-adapter", "ethernet: [{name: A, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}]", "ethernet: [{name: A, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true, shared: true}]"),
    # Draw is load / efficiency: 0.2 / 0.5 = 0.4 and 0.4 / 1 = 0.4
    _breaks("power-supply", _curve(("0.2", "0.5"), ("0.4", "0.99")), _curve(("0.2", "0.495"), ("0.4", "0.99")), "at load 0.4 less is drawn than at 0.2"),
    _breaks("power-supply", _curve(("0.2", "0.9"), ("0.3", "0.9"), ("0.5", "0.9")), _curve(("0.2", "0.9"), ("0.5", "0.9"), ("0.5", "0.9")), "load 0.5 stands behind load 0.5"),
    _breaks("power-supply", "curve_at: 240 V", "curve_at: 240.1 V"),
    _breaks("power-supply", _output("100 V, to: 127 V", "127 V, to: 240 V"), _output("100 V, to: 127 V", "126 V, to: 240 V"), "100 V to 127 V and 126 V to 240 V overlap"),
    _breaks("power-supply", _output("200 V, to: 240 V", "240 V, to: 264 V"), _output("200 V, to: 240 V", "239 V, to: 264 V")),
    _breaks("processor", "memory_speed: {1: 5600 MT/s, 2: 5600 MT/s}", "memory_speed: {1: 5600 MT/s, 2: 5601 MT/s}", "`memory_speed` is 5601 MT/s at 2, and 5600 MT/s at 1"),
    _breaks("processor", "memory_speed_by_ranks: {1: 5600 MT/s, 2: 5600 MT/s, 4: 5600 MT/s}", "memory_speed_by_ranks: {1: 5600 MT/s, 2: 5600 MT/s, 4: 5601 MT/s}"),
    _breaks("processor", "memory_speed: {1: 5600 MT/s}", "memory_speed: {2: 5600 MT/s}"),
    _breaks("riser", _port("lanes: x16, carries: {pcie: 5}, splits: [8+8, 8+4+4]"), _port("lanes: x16, carries: {pcie: 5}, splits: [8+8, 8+4]"), "8+4 adds up to 12, and the port has 16 lanes"),
    # Sources: PCI Express Base 1.0 to 6.0, SAS-1 to SAS-4, SATA 1 to 3: these generations are there
    *(_breaks("riser", _port(f"lanes: x4, carries: {{{name}: {last}}}"), _port(f"lanes: x4, carries: {{{name}: {beyond}}}"), f"there is no {called} of generation {beyond}")
      for name, called, last, beyond in (("pcie", "PCIe", 6, 7), ("sata", "SATA", 3, 4), ("sas", "SAS", 4, 9))),
    # SFF-8402 and SFF-8665: 28 Gbaud a lane carry 25 Gbit/s: one lane, and four
    _breaks("network-adapter", "ethernet: [{name: A, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}]", "ethernet: [{name: A, speed: 26 Gbit/s, connector: sfp28, medium: pluggable}]"),
    _breaks("network-adapter", "ethernet: [{name: A, speed: 1 Gbit/s, connector: rj45, medium: copper}]", "ethernet: [{name: A, speed: 1 Gbit/s, connector: rj45, medium: fibre}]"),
    _breaks("transceiver", "form: qsfp28, speed: 100 Gbit/s", "form: qsfp28, speed: 101 Gbit/s"),
    # PCI Express Base: 128b/130b of 4 x 16 GT/s is 7876.9 MB/s; SAS-4 tops out below 3000 MB/s, SATA 3 at 600 MB/s
    _breaks("drive", "generation: 4, read: 7876 MB/s", "generation: 4, read: 7877 MB/s"),
    _breaks("drive", "interface: sata, lanes: x1, generation: 3, write: 600 MB/s", "interface: sata, lanes: x1, generation: 3, write: 601 MB/s"),
    # IEC 60320-1: a C20 carries 16 A, in North America 20; BS 1363: 13 A
    _breaks("power-cord", "plug: IEC 60320 C20, form: C19, current: 20 A", "plug: IEC 60320 C20, form: C19, current: 20.1 A"),
    _breaks("power-cord", "plug: BS 1363, form: C13, current: 13 A", "plug: BS 1363, form: C13, current: 13.1 A"),
    _breaks("processor", "tdp: 200 W, power: {maximum: 200 W}", "tdp: 200 W, power: {maximum: 199 W}"),
    _breaks("power-supply", "inlet: C20", "inlet: C19"),
    # SFF-8201: 69.85 mm broad; a millimetre is left to paint
    _breaks("drive", "size: {width: 70.8 mm, height: 15 mm, depth: 100 mm}", "size: {width: 70.9 mm, height: 15 mm, depth: 100 mm}", "69.85 mm"),
    _breaks("drive", "form: e3.s, size: {width: 7.5 mm, height: 77 mm, depth: 112 mm}", "form: e3.s, size: {width: 7.5 mm, height: 77.1 mm, depth: 112 mm}"),
    _breaks("drive", "size: {width: 14 mm, height: 70.8 mm, depth: 100 mm}", "size: {width: 14 mm, height: 70.9 mm, depth: 100 mm}"),
    _breaks("storage-controller", "raid: [0, 1]", "raid: [0, 1, 0]", "`raid` has `0` twice"),
    _breaks("riser", "brings: {positions: [{name: S1, takes: network-adapter, of: S2}, {name: S2, takes: network-adapter}]}", "brings: {positions: [{name: S1, takes: network-adapter, of: S2}, {name: S2, takes: network-adapter, of: S1}]}", "by way of S2"),
    _breaks("riser", _port("lanes: x4, carries: {pcie: 5}}, {name: P1, lanes: x4, carries: {pcie: 5}"), _port("lanes: x4, carries: {pcie: 5}}, {name: P0..P1, lanes: x4, carries: {pcie: 5}"), "two ports named P0"),
)  # fmt: skip


def _named(kind: str, name: str, within: str, beyond: str) -> Row:
    return Row("SG130", kind, within, beyond, "the name says", name)


CAGED: Final = "ethernet: [{{name: {}, speed: {}, connector: {}, medium: pluggable}}]"
NAMED: Final = (
    _named("power-supply", "Supply 800 W", "outputs: [{from: 100 V, to: 127 V, output: 500 W}, {from: 200 V, to: 240 V, output: 800 W}]", "outputs: [{from: 100 V, to: 127 V, output: 500 W}, {from: 200 V, to: 240 V, output: 801 W}]"),
    _named("memory-module", "DDR5-5600", "speed: 5600 MT/s", "speed: 5200 MT/s"),
    _named("memory-module", "Module 2Rx8", "ranks: 2", "ranks: 1, capacity: 16 GiB"),
    _named("memory-module", "Module 2Rx8", "device_width: 8", "device_width: 4, capacity: 64 GiB"),
    _named("accelerator", "Card PCIe 5.0", "generation: 5", "generation: 4"),
    _named("drive", "Drive PCIe 5.0", "generation: 5", "generation: 4"),
    _named("drive", "Drive SAS-4", "interface: sas, lanes: x1, generation: 4", "interface: sas, lanes: x1, generation: 3"),
    _named("drive", "Drive 3 DWPD", "writes_per_day: 2.7", "writes_per_day: 2.6"),
    _named("drive", "Drive 3 DWPD", "writes_per_day: 3.3", "writes_per_day: 3.4"),
    _named("cable", "Cable 700 mm", "length: 0.7 m", "length: 0.6 m"),
    _named("power-cord", "Cord 2.5 m", "length: 2500 mm", "length: 2 m"),
    _named("transceiver", "Twinax 3 m", "medium: copper, reach: 3 m", "medium: copper, reach: 2 m"),
    _named("storage-controller", "Controller 8 GiB of cache", "cache: 8 GiB", "cache: 4 GiB"),
    _named("accelerator", "Card 80 GiB", "memory: 80 GiB", "memory: 96 GiB"),
    _named("transceiver", "Module 100 Gbit/s", "speed: 100 Gbit/s", "speed: 50 Gbit/s"),
    _named("network-adapter", "Adapter 25 Gbit/s", CAGED.format("A", "25 Gbit/s", "sfp28"), CAGED.format("A", "10 Gbit/s", "sfp28")),
    _named("transceiver", "100GBASE-SR4", "speed: 100 Gbit/s", "speed: 50 Gbit/s"),
    _named("network-adapter", "Adapter 4 x 25 Gbit/s", CAGED.format("A1..A4", "25 Gbit/s", "sfp28"), CAGED.format("A1..A2", "25 Gbit/s", "sfp28")),
    _named("transceiver", "QSFP28 module", "form: qsfp28", "form: qsfp56"),
    _named("network-adapter", "Adapter SFP28", CAGED.format("A", "10 Gbit/s", "sfp28"), CAGED.format("A", "10 Gbit/s", "sfp+")),
    _named("drive", "Drive E3.S", "form: e3.s", "form: 2.5-inch"),
    _named("drive", "Drive E3.S 2T", "form: e3.s-2t", "form: e3.s"),
    _named("drive", "Drive 2.5-inch", "form: 2.5-inch", "form: 3.5-inch"),
    _named("accelerator", "Card double-wide", "places: 2", "places: 1"),
    _named("accelerator", "Card two slots wide", "places: 2", "places: 3"),
    _named("drive", "NVMe M.2 SSD", "interface: nvme", "interface: sata, lanes: x1, generation: 3"),
    _named("drive", "SAS HDD", "medium: hdd, interface: sas, lanes: x1, generation: 4", "medium: hdd, interface: sata, lanes: x1, generation: 3"),
    _named("drive", "HDD", "medium: hdd", "medium: ssd"),
    _named("power-cord", "C19 to the wall", "form: C19, plug: IEC 60320 C20", "form: C13, plug: IEC 60320 C14"),
    _named("power-cord", "Cord to C14", "form: C13, plug: IEC 60320 C14", "form: C13, plug: IEC 60320 C20"),
    _named("power-cord", "Cord CEE 7/7", "form: C13, plug: CEE 7/7", "form: C13, plug: CEE 7/4"),
    _named("power-cord", "Cord NEMA 5-15P", "form: C13, plug: NEMA 5-15P", "form: C13, plug: NEMA L5-15P"),
)  # fmt: skip


class Chassis(NamedTuple):
    """A platform in two versions."""

    code: str
    within: str
    beyond: str
    says: str = ""
    "What the finding, its notes and its help say among other things."


SIZE: Final = "size: {{width: {} mm, height: {} mm, depth: {} mm}}, mass: {}, rack_units: {}"


def _size(within: tuple[object, ...], beyond: tuple[object, ...], code: str = "SG128") -> Chassis:
    """Width, height, depth, mass, rack units."""
    return Chassis(code, SIZE.format(*within), SIZE.format(*beyond))


def _at(field: str, within: str, beyond: str, says: str = "", code: str = "SG130") -> Chassis:
    return Chassis(code, *(f"conditions: {{{field}: {value}}}" for value in (within, beyond)), says)


def _outline(area: str, within: str, beyond: str, code: str = "SG119", also: str = "") -> Chassis:
    """A position, or several, of that area: x, y, width, height and what else is said of each."""
    texts = []
    for outlines in (within, beyond):
        rows = []
        for at, (x, y, width, height, *more) in enumerate(map(str.split, outlines.split(","))):
            outline = f"x: {x} mm, y: {y} mm, width: {width} mm, height: {height} mm"
            outline += "".join(f", depth: {depth} mm" for depth in more)
            rows.append(f"{{name: P{at}, takes: fan, area: {area}, outline: {{{outline}}}}}")
        texts.append(f"positions: [{', '.join(rows)}]{also}")
    return Chassis(code, *texts)


# A chassis of 482 x 43.6 x 700 mm; a millimetre is left to rounding, and half to what lies inside
PLATFORMS: Final = (
    _size((50, 40, 700, "2 kg", 1), (49, 40, 700, "2 kg", 1)),
    # Racks of 23 inches take 584 mm
    _size((600, 40, 700, "20 kg", 1), (601, 40, 700, "20 kg", 1), "SG130"),
    _size((482, 10, 700, "2 kg", 1), (482, 9, 700, "2 kg", 1)),
    # 68 x 44.45 mm = 3022.6 mm
    _size((482, 3000, 700, "200 kg", 68), (482, 3001, 700, "200 kg", 68)),
    _size((482, 40, 100, "1 kg", 1), (482, 40, 99, "1 kg", 1)),
    _size((482, 40, 2000, "20 kg", 1), (482, 40, 2001, "20 kg", 1)),
    _size((100, 20, 500, "0.2 kg", 1), (100, 20, 400, "0.19 kg", 1)),
    _size((482, 2000, 1000, "800 kg", 45), (482, 2000, 1000, "801 kg", 45)),
    _size((600, 1000, 1000, "800 kg", 23), (600, 1000, 1000, "801 kg", 23)),
    # Eight litres: 0.1 to 4 kg each
    _size((400, 40, 500, "0.8 kg", 1), (400, 40, 500, "0.79 kg", 1), "SG130"),
    _size((400, 40, 500, "32 kg", 1), (400, 40, 500, "32.1 kg", 1), "SG130"),
    # EIA/ECA-310-E: a unit is 44.45 mm; a screw's head of 1 mm is none
    _size((482, "45.5", 700, "10 kg", 2), (482, "45.4", 700, "10 kg", 2), "SG130"),
    _size((482, "44.45", 700, "10 kg", 1), (482, "44.46", 700, "10 kg", 1), "SG118"),
    Chassis("SG118", "body_width: 482 mm", "body_width: 482.1 mm"),
    Chassis("SG128", "power: {maximum: 3 kW}", "power: {maximum: 3.01 kW}"),
    # IEC 60898-1, IEC 60059, NEC 240.6(A) (from memory)
    *(_at("circuit", f"{rating} A", f"{rating + 1} A") for rating in (6, 8, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500)),
    *(_at("circuit", f"{rating} A", f"{rating - 1} A") for rating in (15, 30, 35, 45, 60, 70, 90, 110, 150, 175, 225, 300, 350, 450, 600, 700, 800, 1000)),
    _at("circuit", "5.9 A", "61 A", "nearest are 60 A and 63 A"),
    _at("grid_factor", "2", "2.01", "0 to 2"),
    _at("rail_distance: 900 mm, rack_length", "900 mm", "899 mm", code="SG118"),
    _at("rack_depth: 900 mm, rack_length", "900 mm", "899 mm", code="SG118"),
    _at("inlet", "5 degC", "4 degC", "5 degC to 60 degC"),
    _at("rack_opening", "570 mm", "571 mm"),
    _at("rack_units", "60", "61", "up to 60 rack units"),
    Chassis("SG130", "body_width: 241 mm", "body_width: 240.9 mm", "without the ears"),
    _outline("front", "382 0 101 40", "382 0 101.1 40"),
    _outline("front", "0 3.6 100 41", "0 3.6 100 41.1"),
    _outline("rear", "350 0 101 40", "350 0 101.1 40"),  # 450 mm between the posts: EIA/ECA-310-E
    _outline("rear", "330 0 101 40", "330 0 101.1 40", also=", body_width: 430 mm"),
    _outline("inside", "0 600 100 101", "0 600 100 101.1"),
    _outline("front", "0 0 100 40 700", "0 0 100 40 701"),
    _outline("front", "0 0 100 40, 99 0 100 40", "0 0 100 40, 98.9 0 100 40", "SG129"),
    _outline("front", "0 0 100 20, 0 19 100 20", "0 0 100 20, 0 18.9 100 20", "SG129"),
    _outline("inside", "0 0 100 100, 50 0 200 100", "0 0 100 100, 49 0 200 100", "SG129"),
    # Most of four: the chassis is told, once
    _outline("inside", "0 0 9 9, 20 0 9 9, 40 0 9 9, 60 0 9 9", "0 0 9 9, 500 0 9 9, 600 0 9 9, 700 0 9 9"),
    # The project is of 2026: fifteen years are planned, nothing is cited from after it or from sixty years before
    Chassis("SG222", "year: 2041", "year: 2042", "2042 is far from"),
    Chassis("SG222", "year: 1966", "year: 1965"),
    Chassis("SG222", "source: {document: trial, date: 2026-03-02}", "source: {document: trial, date: 2026-03-03}", "later than 2026-03-02"),
    Chassis("SG222", "source: {document: trial, date: 2026-03-01}", "source: {document: trial, date: 2030-01-01}", "is far from"),
    # Eight years after, three before
    Chassis("SG222", "year: 2018, source: {document: trial, date: 2026-01-01}", "year: 2017, source: {document: trial, date: 2026-01-01}"),
    Chassis("SG222", "year: 2029, source: {document: trial, date: 2026-01-01}", "year: 2030, source: {document: trial, date: 2026-01-01}"),
    Chassis("SG222", "source: {document: trial, date: 1966-01-01}", "source: {document: trial, date: 1965-12-31}"),
)  # fmt: skip

ROWS: Final = (*USUAL, *UNITS, *DOUBTS, *CONTRADICTIONS, *NAMED)
ASKED: Final = ("SG118", "SG119", "SG128", "SG129", "SG130", "SG222")


def _id(row: Row) -> str:
    return f"{row.code}-{row.kind}-{row.beyond}"


def _flow(*texts: str, **head: str) -> str:
    """Fields written on one line; the last text that has a field says it."""
    both: dict[str, Any] = dict(head)
    for text in texts:
        both |= yaml.load(f"{{{text}}}", yaml.BaseLoader)  # of texts alone
    said = yaml.dump(both, default_flow_style=True, width=10_000, sort_keys=False)
    return said.replace("'", "")  # that are put round what could be a number or a date


def told(files: Mapping[str, str], wanted: Iterable[str]) -> Iterator[Finding]:
    loaded = load(sources(files))
    assert loaded.findings == (), list(map(_words, loaded.findings))
    return (each for each in told_once(of_definitions(loaded)) if each.code.id in wanted)


@cache
def of_parts() -> Mapping[tuple[int, str], list[Finding]]:
    """What is found in each part, by its row and which of the two it is."""
    lines: dict[int, tuple[int, str]] = {}
    text = ""
    for number, row in enumerate(ROWS):
        for which, fields in (("within", row.within), ("beyond", row.beyond)):
            name = f"{row.name or 'Part'} ({number} {which})"
            head = {"kind": row.kind, "id": f"row-{number}-{which}", "name": name}
            lines[text.count("\n") + 1] = number, which
            text += f"- {_flow(SOUND[row.kind], 'source: {document: trial}', fields, **head)}"
    found: dict[tuple[int, str], list[Finding]] = {}
    for each in told({"specgen.yaml": PROJECT, "catalog/all.yaml": text}, ASKED):
        found.setdefault(lines[each.at.span.line], []).append(each)
    return found


@cache
def of_platforms() -> Mapping[str, list[Finding]]:
    """What is found in each platform, by its file."""
    files = {"specgen.yaml": f"{PROJECT}date: 2026-03-02\n"}
    sound = f"{', '.join(PLATFORM.strip().splitlines()[1:])}, positions: []"
    for number, row in enumerate(PLATFORMS):
        for which, fields in (("within", row.within), ("beyond", row.beyond)):
            id_ = f"row-{number}-{which}"
            head = {"id": id_, "name": f"Bench ({number} {which})"}
            files[f"platforms/{id_}.yaml"] = _flow(sound, fields, f"id: {id_}", **head)
    found: dict[str, list[Finding]] = {}
    for each in told(files, ASKED):
        found.setdefault(each.at.span.file, []).append(each)
    return found


def _words(each: Finding) -> str:
    said = (each.message, each.at.text, *each.notes, each.help, *(at.text for at in each.labels))
    return " | ".join(str(in_english(words)) for words in said if words)


def _judge(row: Row | Chassis, within: list[Finding], beyond: list[Finding]) -> None:
    assert list(map(_words, within)) == []
    assert [each.code.id for each in beyond] == [row.code], list(map(_words, beyond))
    assert row.says in _words(beyond[0])


@pytest.mark.parametrize("number", range(len(ROWS)), ids=[_id(row) for row in ROWS])
def test_a_part_on_the_limit_passes_and_one_beyond_it_does_not(number: int):
    found = of_parts()
    _judge(ROWS[number], *(found.get((number, which), []) for which in ("within", "beyond")))


@pytest.mark.parametrize(
    "number", range(len(PLATFORMS)), ids=[f"{row.code}-{row.beyond}" for row in PLATFORMS]
)
def test_a_platform_on_the_limit_passes_and_one_beyond_it_does_not(number: int):
    found, name = of_platforms(), "platforms/row-{}-{}.yaml"
    both = (found.get(name.format(number, which), []) for which in ("within", "beyond"))
    _judge(PLATFORMS[number], *both)


# Common practice, no source: the least and the most that is usual, and a step beyond each
TAKEN: Final = {
    "rebuild_rate": ("1 MB/s", "0.9 MB/s", "20 GB/s", "20.1 GB/s"),
    "replacement_time": ("1 min", "59 s", "60 d", "61 d"),
    "endurance_span": ("1 y", "364 d", "20 y", "21 y"),
    "read_share": ("1 %", "0.9 %", "100 %", ""),
    "supply_sharing_error": ("0.1 %", "0.09 %", "30 %", "31 %"),
    "board_loss": ("0.1 %", "0.09 %", "25 %", "26 %"),
    "curve_allowance": ("0.01 %", "0.009 %", "10 %", "10.1 %"),
    "cable_space": ("10 mm", "9 mm", "600 mm", "601 mm"),
}


def _assumed(values: Mapping[str, str]) -> list[tuple[str, str]]:
    """Code and field of what is found in a project that takes these for granted."""
    rows = [
        f"  {name}: {{value: {value}, source: {{document: handbook}}}}\n"
        for name, value in values.items()
    ]
    found = told({"specgen.yaml": f"{PROJECT}assumptions:\n{''.join(rows)}"}, ASKED)
    first = PROJECT.count("\n") + 2
    return [(each.code.id, [*values][each.at.span.line - first]) for each in found]


@pytest.mark.parametrize("at", [0, 2], ids=["least", "most"])
def test_what_is_taken_for_granted_has_limits(at: int):
    assert _assumed({name: row[at] for name, row in TAKEN.items()}) == []
    beyond = {name: row[at + 1] for name, row in TAKEN.items() if row[at + 1]}
    assert _assumed(beyond) == [("SG130", name) for name in beyond]


@pytest.mark.arithmetic(
    "limits of definitions", "a year has 365 or 366 x 24 hours, a share is 100 %"
)
@pytest.mark.parametrize(
    ("field", "within", "beyond"),
    [
        ("year", "8760 h", "8759 h"), ("year", "8784 h", "8785 h"),
        *((name, "100 %", "101 %") for name in ("read_share",)),
        ("rebuild_rate", "1 MB/s", "0 MB/s"), ("endurance_span", "1 y", "0 y"),
    ],
)  # fmt: skip
def test_what_is_taken_for_granted_can_be(field: str, within: str, beyond: str):
    assert _assumed({field: within}) == []
    assert _assumed({field: beyond}) == [("SG118", field)]
