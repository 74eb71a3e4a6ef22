"""Small systems as texts, for tests of values: read, resolved and calculated."""

from specgen.facts import Facts, facts_of
from tests.projects import project

PROJECT = """
title: Trial
publisher: {name: Quillmere Works}
families: [{id: trial, name: Trial, summary: Machines for tests}]
conditions: {line: 230 V, inlet: 25 degC, altitude: 0 m, redundancy: none}
"""

PLATFORM = """
id: bench
name: Bench
family: trial
source: {document: trial platform}
summary: A board and nothing else
rack_units: 1
size: {width: 482 mm, height: 43.6 mm, depth: 700 mm}
mass: 10 kg
operating_class: A2
"""

BUILD = """
id: trial
name: Trial
platform: bench
summary: A trial
"""

ALL_PORTS = "[{name: P0..P3, lanes: x16, carries: {pcie: 6}, splits: [8+8, 4+4+4+4]}]"


def processor(ports: str, channels: int, rate: str) -> str:
    return f"""
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
  memory_channels: {channels}
  memory_speed: {{1: {rate}}}
  together: 2
  brings: {{ports: {ports}}}
"""


def calculated(
    positions: str,
    fit: str,
    *,
    catalog: str = "",
    volumes: str = "[]",
    conditions: str = "{}",
    ports: str = ALL_PORTS,
    channels: int = 8,
    rate: str = "6400 MT/s",
    assumptions: str = "",
    board: str = "",
    project_says: str = "",
) -> Facts:
    """The values of a system with these positions, filled so."""
    found = project(
        {
            "specgen.yaml": f"{PROJECT}{assumptions}{project_says}",
            "catalog/processor.yaml": processor(ports, channels, rate),
            **({"catalog/parts.yaml": catalog} if catalog else {}),
            "platforms/bench.yaml": f"{PLATFORM}{board}positions:\n{positions}\n",
            "configured/trial.yaml": (
                f"{BUILD}conditions: {conditions}\nvolumes: {volumes}\nfit:\n{fit}\n"
            ),
        }
    )
    assert found.loaded.findings == (), found.loaded.findings
    assembly = found.assemblies["trial"]
    assert assembly.findings == (), assembly.findings
    return facts_of(assembly)
