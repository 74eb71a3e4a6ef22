"""A small system of our own for tests of drawings, and what reads a picture back."""

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree import ElementTree

from specgen.assembly import Assembly, resolve
from specgen.drawings import Drawing, LayoutEngine, draw, topology
from specgen.model import Definitions
from specgen.pipeline import read

SOURCE = "{document: sample, date: 2026-01-01}"
SVG = "{http://www.w3.org/2000/svg}"

PROJECT = """
title: Sample
publisher: {name: Quillmere Works}
families: [{id: f, name: F, summary: S}]
"""

PARTS = f"""
- kind: processor
  common: {{source: {SOURCE}, socket: tern-a, cores: 16, threads: 32, base_clock: 2 GHz,
    max_clock: 3 GHz, tdp: 100 W, memory_technology: ddr5, memory_channels: 2,
    memory_speed: {{1: 4800 MT/s}}, together: 2}}
  parts:
    - id: cpu
      name: Corvane C16
      brings:
        ports:
          - {{name: P0..P2, lanes: x16, carries: {{pcie: 5}}, splits: [8+8, 4+4+4+4]}}
          - {{name: P3, lanes: x4, carries: {{pcie: 3}}}}
- {{kind: memory-module, id: module, name: Module 64 GiB, source: {SOURCE}, technology: ddr5,
   form: rdimm, capacity: 64 GiB, speed: 4800 MT/s, ranks: 2, device_width: 4}}
- {{kind: drive, id: nvme, name: NVMe drive 3.84 TB, source: {SOURCE}, medium: ssd,
   form: e3.s, interface: nvme, capacity: 3.84 TB, swap: hot, lanes: x4, generation: 5}}
- {{kind: drive, id: sata, name: SATA drive 480 GB, source: {SOURCE}, medium: ssd,
   form: 2.5-inch, interface: sata, capacity: 480 GB, swap: cold, lanes: x1, generation: 3}}
- kind: storage-controller
  id: hub
  name: Storage hub
  form: board
  source: {SOURCE}
  brings: {{ports: [{{name: S0, lanes: x8, carries: {{sata: 3}}, form: slimsas-8i}}]}}
- kind: network-adapter
  id: nic
  name: Network adapter, two ports
  source: {SOURCE}
  lanes: x8
  generation: 4
  connector: x8
  ethernet: [{{name: PORT 1..2, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}}]
  brings: {{positions: [{{name: .PORT 1..2, takes: transceiver, form: sfp28}}]}}
- {{kind: transceiver, id: optic, name: Optical transceiver, source: {SOURCE}, form: sfp28,
   speed: 25 Gbit/s, medium: fibre}}
- kind: accelerator
  id: wide
  name: Wide card
  source: {SOURCE}
  lanes: x8
  generation: 5
  connector: x16
  places: 2
- kind: riser
  id: riser
  name: Riser of two slots
  source: {SOURCE}
  brings:
    positions:
      - {{name: SLOT 1, takes: [network-adapter, accelerator], connector: x16, from: .A,
         lanes: x16, neighbour: SLOT 2}}
      - {{name: SLOT 2, takes: [network-adapter, accelerator], connector: x16, from: .B,
         lanes: x8, generation: 4}}
- kind: backplane
  id: front
  name: Front of four bays
  source: {SOURCE}
  brings:
    positions:
      - {{name: .J0..J1, takes: cable, form: mcio-8i}}
      - {{name: BAY 0..1, takes: drive, form: e3.s, swap: hot, from: .J0, lanes: x4}}
      - {{name: BAY 2..3, takes: drive, form: e3.s, swap: hot, from: .J1, lanes: x4}}
- {{kind: cable, id: cable, name: Cable MCIO, source: {SOURCE}, form: mcio-8i, far_form: mcio-8i,
   lanes: x8, carries: {{pcie: 5}}}}
"""

PLATFORM = f"""
id: sample
name: Sample platform
family: f
source: {SOURCE}
summary: S
rack_units: 1
size: {{width: 400 mm, height: 43 mm, depth: 700 mm}}
mass: 10 kg
operating_class: A2
leads:
  EDGE 1: {{from: CPU1.P2, lanes: x8, form: mcio-8i}}
  EDGE 2: {{from: CPU1.P2, lanes: x8, form: mcio-8i}}
positions:
  - {{name: CPU1..CPU2, takes: processor, socket: tern-a}}
  - {{name: DIMM A1..A2, takes: memory-module, of: CPU1, channel: A}}
  - {{name: DIMM B1..B2, takes: memory-module, of: CPU1, channel: B}}
  - {{name: DIMM C1..C2, takes: memory-module, of: CPU2, channel: C}}
  - name: RISER
    takes: riser
    leads: {{A: {{from: CPU1.P0, lanes: x16}}, B: {{from: CPU1.P1, lanes: x8}}}}
  - {{name: FRONT, takes: backplane}}
  - {{name: OCP, takes: network-adapter, from: CPU2.P0, lanes: x16}}
  - {{name: HUB, takes: storage-controller, from: CPU1.P3, lanes: x4, fixed: hub}}
  - {{name: DISK 0..3, takes: drive, form: 2.5-inch, interface: sata, from: HUB.S0, lanes: x1}}
  - {{name: FAN 1..4, takes: fan}}
"""

FULL: Mapping[str, object] = {
    "CPU1..CPU2": "cpu",
    "DIMM A1": "module",
    "DIMM B1": "module",
    "DIMM C1": "module",
    "RISER": "riser",
    "SLOT 1": "nic",
    "SLOT 1.PORT 1": "optic",
    "FRONT": "front",
    "FRONT.J0": {"part": "cable", "to": "EDGE 1"},
    "FRONT.J1": {"part": "cable", "to": "EDGE 2"},
    "BAY 0..3": "nvme",
    "OCP": "nic",
    "DISK 0..1": "sata",
}
HALF: Mapping[str, object] = {
    "CPU1": "cpu",
    "DIMM A1": "module",
    "RISER": "riser",
    "SLOT 1": "wide",
    "FRONT": "front",
    "FRONT.J0": {"part": "cable", "to": "EDGE 1"},
    "BAY 0": "nvme",
}


@cache
def definitions() -> Definitions:
    with TemporaryDirectory() as name:
        root = Path(name)
        for path, text in {
            "specgen.yaml": PROJECT,
            "catalog/parts.yaml": PARTS,
            "platforms/sample.yaml": PLATFORM,
            "configured/full.yaml": build("full", FULL),
            "configured/half.yaml": build("half", HALF),
        }.items():
            (root / path).parent.mkdir(exist_ok=True)
            (root / path).write_text(text, "utf-8")
        loaded = read(root).loaded
    assert not loaded.findings, loaded.findings
    assert loaded.definitions is not None
    return loaded.definitions


def build(id_: str, fit: Mapping[str, object]) -> str:
    return json.dumps(
        {"id": id_, "name": f"Build {id_}", "platform": "sample", "summary": "S", "fit": fit}
    )


def system(id_: str = "full", names: Mapping[str, str] | None = None) -> Assembly:
    """A build of the sample; `names` gives parts other names."""
    found = definitions()
    parts = dict(found.parts)
    for part, name in (names or {}).items():
        parts[part] = replace(parts[part], name=name)
    found = replace(found, parts=parts)
    assembly = resolve(found, found.builds[id_])
    assert assembly is not None
    return assembly


ENGINE = LayoutEngine()


def drawn(assembly: Assembly, prefix: str = "p", **more: object) -> Drawing:
    at = assembly.platform.origin.at()
    return draw(topology(assembly), at=at, prefix=prefix, engine=ENGINE, **more)  # type: ignore[arg-type]


def squashed(text: str) -> str:
    """Text without spaces: a picture breaks lines where words have one."""
    return re.sub(r"\s", "", text)


def shown_text(svg: str) -> str:
    """All that can be read in a picture, its tooltips included, its description not."""
    root = ElementTree.fromstring(svg)
    texts = [
        "".join(element.itertext())
        for element in root.iter()
        if element.tag in (f"{SVG}text", f"{SVG}title")
    ]
    return squashed("".join(texts))


def breadths(svg: str) -> dict[str, float]:
    """The breadth of each ribbon by its tooltip, in points."""
    made = {}
    for group in ElementTree.fromstring(svg).iter(f"{SVG}g"):
        title = group.find(f"{SVG}title")
        strokes = [
            float(path.attrib["stroke-width"])
            for path in group.findall(f"{SVG}path")
            if path.attrib["class"].startswith("ribbon ")
        ]
        if title is not None and strokes:
            made[title.text or ""] = max(strokes)
    return made
