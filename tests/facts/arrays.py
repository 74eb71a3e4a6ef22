"""Systems with one controller and drives alike, for tests of storage values."""

from specgen.facts import Facts, facts_of
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project

YEAR = "8760 h"
ASSUMED = """
assumptions:
  year: {{value: {year}, source: {{document: trial}}}}
  rebuild_rate: {{value: {rate}, source: {{document: trial}}}}
  replacement_time: {{value: {wait}, source: {{document: trial}}}}
  read_share: {{value: {share}, source: {{document: trial}}}}
  endurance_span: {{value: {span}, source: {{document: trial}}}}
"""

PROCESSOR = """
kind: processor
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
memory_channels: 8
memory_speed: {1: 6400 MT/s}
brings: {ports: [{name: P0..P3, lanes: x16, carries: {pcie: 6}, splits: [8+8, 4+4+4+4]}]}
"""

RATES = "read: 1000 MB/s, write: 500 MB/s, random_reads: 1000, random_writes: 1000"
SLOWER = (
    "read: 100 MB/s, write: 100 MB/s, random_reads: 100, random_writes: 100, "
    "mean_time_between_failures: 100000 h"
)
LEVELS = "[0, 1, 5, 6, 10, 50, 60]"


def array(
    volumes: str,
    *,
    fit: str = "BAY 1..24: drive",
    drive: str = "interface: sas, generation: 4",
    capacity: str = "4 TB",
    rates: str = RATES,
    more: str = "",
    carries: str = "{sas: 4, sata: 3, pcie: 5}",
    slot: str = "lanes: x16, generation: 5",
    port: str = "x32",
    bay: str = "x1",
    expander: str = "",
    controller: str = "",
    year: str = YEAR,
    rate: str = "100 MB/s",
    wait: str = "24 h",
    share: str = "70 %",
    span: str = "5 y",
) -> Facts:
    """The values of bays on port C0 of a controller, or behind an expander on so many lanes.

    `more` are further fields of the drive; `large` is the same drive of 5 TB, `slower` one that
    reads and writes 100 MB/s and fails sooner.
    """
    source = "EXP 1.X0..X23" if expander else "SLOT 1.C0"
    single = f"source: {{document: drives}}, medium: ssd, form: 2.5-inch, swap: hot, {drive}"
    fields = ", ".join(filter(None, (single, rates, more)))
    parts = f"""
- kind: drive
  common: {{{fields}}}
  parts:
    - {{id: drive, name: Drive, capacity: {capacity}}}
    - {{id: large, name: Large, capacity: 5 TB}}
    - {{id: slower, name: Slower, capacity: {capacity}, {SLOWER}}}
- kind: storage-controller
  id: controller
  name: Controller
  source: {{document: controllers}}
  lanes: x16
  generation: 6
  raid: {LEVELS}
  {controller}
  brings: {{ports: [{{name: C0, lanes: {port}, carries: {carries}}}]}}
- kind: backplane
  id: expander
  name: Expander
  source: {{document: expanders}}
  brings: {{ports: [{{name: X0..X23, lanes: x4, carries: {carries}, behind: .}}]}}
"""
    positions = f"""
  - {{name: CPU1, takes: processor}}
  - {{name: SLOT 1, takes: storage-controller, from: CPU1.P0, {slot}}}
  - {{name: EXP 1, takes: backplane, from: SLOT 1.C0, lanes: {expander or "x1"}}}
  - {{name: BAY 1..24, takes: drive, from: {source}, lanes: {bay}}}
"""
    assumed = ASSUMED.format(year=year, rate=rate, wait=wait, share=share, span=span)
    fitted = f"  CPU1: processor\n  SLOT 1: controller\n  EXP 1: expander\n  {fit}"
    found = project(
        {
            "specgen.yaml": PROJECT + assumed,
            "catalog/processor.yaml": PROCESSOR,
            "catalog/parts.yaml": parts,
            "platforms/bench.yaml": f"{PLATFORM}positions:{positions}",
            "configured/trial.yaml": f"{BUILD}volumes: {volumes}\nfit:\n{fitted}\n",
        }
    )
    assert found.loaded.findings == (), found.loaded.findings
    assembly = found.assemblies["trial"]
    assert assembly.findings == (), assembly.findings
    return facts_of(assembly)


def volume(level: int, members: int, *, groups: int = 2, spares: str = "") -> str:
    """One volume named V on the first bays."""
    standing_by = f", spares: {spares}" if spares else ""
    return f"[{{name: V, level: {level}, groups: {groups}, drives: BAY 1..{members}{standing_by}}}]"
