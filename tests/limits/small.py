"""Small random platforms, and all their builds one by one, judged by the ordinary checks alone."""

import random
from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Final

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Severity
from specgen.facts import Facts, facts_of
from specgen.fitness import around, goes_in
from specgen.load.definitions import load
from specgen.model import Build, Definitions, Fill
from specgen.rules import CHECKS, findings
from specgen.rules.judged import breaches, judged
from tests.projects import sources

PROJECT = """
title: Small machines
publisher: {name: Quillmere Works}
date: 2026-03-02
families: [{id: coast, name: Coast, summary: Servers}]
conditions: {line: 230 V, inlet: 25 degC, altitude: 100 m, redundancy: %s}
documents: [sheet]
"""

HEAD = """
id: small
name: Small
family: coast
source: {document: drawing}
summary: A small machine
rack_units: 1
size: {width: 482 mm, height: 43.6 mm, depth: 712 mm}
mass: 5 kg
power: {idle: 10 W, typical: 15 W, maximum: 20 W}
operating_class: A2
"""

AUXILIARY = (
    "resources: {pcie-8-pin: 1}\n",
    "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 1}]\n",
    "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: [SLOT 2, TPM]}]\n",
)

NOTHING: Final[dict[str, Fill]] = {}
COMMON = "source: {document: table}"


def platform(seed: int) -> Definitions:
    """The definitions with one platform `small`, of a few positions and parts."""
    return defined(files_of(seed))


def files_of(seed: int) -> dict[str, str]:
    """The files of a project with that platform."""
    dice = random.Random(seed)
    parts, positions, rules = _processors(dice)
    more = ""
    for piece in dice.sample(PIECES[:5] if seed < PLAIN else PIECES, 2):
        for own, found in zip((parts, positions, rules), piece(dice), strict=True):
            own.extend(found)
        if piece is _memory and dice.random() < 0.5:
            more = "population:\n  - {of: CPU1, order: [DIMM A1, DIMM A2]}\n"
        if piece is _bays and dice.random() < 0.5:
            width = dice.choice([4, 8])
            more += f"leads: {{EDGE 1: {{from: CPU1.P0, lanes: x{width}, form: mcio-8i}}}}\n"
        if piece is _slots and dice.random() < 0.5:
            more += AUXILIARY[seed % len(AUXILIARY)]
        if piece is _slots and seed % 2:
            positions.append("name: TPM, takes: tpm, needs: [{resource: pcie-8-pin}]")
            parts.append("kind: tpm, id: tpm, name: TPM, form: spi, mass: 0.01 kg")
    if not any(each.startswith("name: CPU2") for each in positions):
        positions = [each.replace("CPU2.", "CPU1.") for each in positions]
    text = HEAD + "positions:\n" + "".join(f"  - {{{each}}}\n" for each in positions) + more
    chosen = [rule for rule in rules if dice.random() < 0.6]
    if chosen:
        coded = (f"  - {{code: QW-{n}, {rule}}}\n" for n, rule in enumerate(chosen, 1))
        text += "rules:\n" + "".join(coded)
    catalog = "".join(f"- {{{each}, {COMMON}}}\n" for each in parts)
    project = PROJECT % dice.choice(["none", "none", "1+1"])
    if seed % 3 == 1:
        project += "assumptions:\n  board_loss: {value: 8 %, source: {document: handbook}}\n"
    return {
        "specgen.yaml": project,
        "platforms/small.yaml": text,
        "catalog/parts.yaml": catalog,
    }


def defined(files: Mapping[str, str]) -> Definitions:
    loaded = load(sources(files))
    assert loaded.definitions is not None
    assert loaded.findings == (), loaded.findings
    return loaded.definitions


Pieces = tuple[list[str], list[str], list[str]]


def _processors(dice: random.Random) -> Pieces:
    parts = []
    for name in ("one", "two"):
        tdp, cores = dice.choice([60, 90, 120]), dice.choice([8, 12, 16])
        parts.append(
            f"kind: processor, id: cpu-{name}, name: Processor {name}, socket: tern-a, "
            f"cores: {cores}, threads: {cores}, base_clock: 2 GHz, max_clock: 3 GHz, "
            f"tdp: {tdp} W, power: {{maximum: {tdp} W}}, memory_technology: ddr5, "
            f"memory_channels: 2, memory_speed: {{1: 4800 MT/s}}, together: {dice.choice([1, 2])}, "
            f"memory_limit: {dice.choice([32, 64])} GiB, mass: 0.1 kg, "
            "brings: {ports: [{name: P0..P1, lanes: x8, carries: {pcie: 5}, splits: [4+4]}]}"
        )
    positions = [f"name: CPU1, takes: processor, socket: tern-a, tdp: {dice.choice([100, 130])} W, "
                 "must: true"]  # fmt: skip
    if dice.random() < 0.6:
        positions.append("name: CPU2, takes: processor, socket: tern-a, of: CPU1")
    rules = ["require: 'sum(p.tdp for p in processors) <= \"180 W\"'"]
    return parts, positions, rules


def _memory(dice: random.Random) -> Pieces:
    parts = []
    for size in (16, 32):
        ranks = dice.choice([1, 2])
        parts.append(
            f"kind: memory-module, id: module-{size}, name: Module {size}, technology: ddr5, "
            f"form: rdimm, capacity: {size} GiB, speed: 4800 MT/s, ranks: {ranks}, "
            "device_width: 8, power: {maximum: 5 W}, mass: 0.04 kg"
        )
    channel = dice.choice(["A1", "A2"])
    positions = [
        "name: DIMM A1, takes: memory-module, of: CPU1, channel: A1",
        f"name: DIMM A2, takes: memory-module, of: CPU1, channel: {channel}",
    ]
    rules = [
        "when: 'memory_modules.count == 2', require: 'part(\"CPU1\").tdp <= \"90 W\"'",
        'forbid: \'has("module-16") and has("module-32")\'',
    ]
    return parts, positions, rules


def _bays(dice: random.Random) -> Pieces:
    lanes = dice.choice([4, 8])
    parts = [
        "kind: backplane, id: bays, name: Bays, mass: 0.5 kg, power: {maximum: 2 W}, "
        "brings: {positions: [{name: .J0, takes: cable, form: mcio-8i}, {name: BAY 0..1, "
        "takes: drive, from: .J0, lanes: x4, blank: cover}]}",
        f"kind: cable, id: cable, name: Cable, form: mcio-8i, far_form: mcio-8i, lanes: x{lanes}, "
        "carries: {pcie: 5}, mass: 0.05 kg",
        "kind: blank, id: cover, name: Cover, form: bay, mass: 0.02 kg",
    ]
    for interface in dice.choice([("nvme",), ("nvme", "sata")]):
        parts.append(  # noqa: PERF401
            f"kind: drive, id: drive-{interface}, name: Drive {interface}, medium: ssd, "
            f"form: 2.5-inch, interface: {interface}, swap: hot, lanes: x{dice.choice([2, 4])}, "
            f"generation: {4 if interface == 'nvme' else 3}, "
            f"capacity: {dice.choice([1, 2])} TB, power: {{maximum: 9 W}}, mass: 0.1 kg"
        )
    positions = ["name: FRONT, takes: backplane, area: front"]
    rules = ["when: 'drives.count > 1', require: 'processors.count == 2'"]
    return parts, positions, rules


def _slots(dice: random.Random) -> Pieces:
    aux = "needs: [{resource: pcie-8-pin}], " if dice.random() < 0.5 else ""
    places = dice.choice([1, 2])
    parts = [
        "kind: riser, id: riser, name: Riser, mass: 0.2 kg, brings: {positions: ["
        "{name: SLOT 1, takes: [accelerator, network-adapter], form: card, height: full, "
        "connector: x16, from: .A, lanes: x8, neighbour: SLOT 2, power: 75 W}, "
        "{name: SLOT 2, takes: [accelerator, network-adapter], form: card, height: low, "
        "connector: x16, from: .A, lanes: x4, power: 75 W}]}",
        f"kind: accelerator, id: wide, name: Accelerator, {aux}height: full, connector: x16, "
        f"lanes: x8, places: {places}, power: {{maximum: {dice.choice([60, 90])} W}}, mass: 0.9 kg",
        "kind: network-adapter, id: net, name: Adapter, height: low, connector: x8, lanes: x4, "
        "power: {maximum: 12 W}, mass: 0.1 kg, ethernet: [{name: PORT 1..2, speed: 25 Gbit/s, "
        "connector: sfp28, medium: pluggable}]",
    ]
    lanes = dice.choice([8, 4])
    positions = [f"name: RISER, takes: riser, leads: {{A: {{from: CPU1.P1, lanes: x{lanes}}}}}"]
    rules = ['forbid: \'filled("SLOT 1") and filled("SLOT 2")\'']
    return parts, positions, rules


def _fans(dice: random.Random) -> Pieces:
    parts = [
        "kind: fan, id: fan-slow, name: Fan, form: fan-40, airflow: 20 CFM, mass: 0.1 kg, "
        "power: {maximum: 8 W}",
        "kind: fan, id: fan-fast, name: Fast fan, form: fan-40, airflow: 40 CFM, mass: 0.15 kg, "
        "power: {maximum: 16 W}",
    ]
    needs = ", needs: [{position: FAN 2, because: air}]" if dice.random() < 0.5 else ""
    positions = [
        "name: FAN 1, takes: fan, must: true",
        "name: FAN 2, takes: fan",
        f"name: RAILS, takes: rail-kit{needs}",
    ]
    parts.append("kind: rail-kit, id: rails, name: Rails, mass: 1.5 kg")
    rules = [
        "when: 'any(p.tdp > \"80 W\" for p in processors)', "
        "require: 'all(f.airflow >= \"30 CFM\" for f in fans)'",
        "require: 'min(f.airflow for f in fans) == max(f.airflow for f in fans)'",
    ]
    return parts, positions, rules


def _supplies(dice: random.Random) -> Pieces:
    parts = []
    for watts in (dice.choice([120, 160]), 300):
        parts.append(  # noqa: PERF401
            f"kind: power-supply, id: supply-{watts}, name: Supply {watts}, form: m-crps-60, "
            f"inlet: C14, outputs: [{{from: 200 V, to: 240 V, output: {watts} W}}], mass: 0.7 kg, "
            "curve: [{load: 0, efficiency: 0.8, power_factor: 0.9}, {load: 0.5, efficiency: 0.95, "
            "power_factor: 0.98}, {load: 1, efficiency: 0.91, power_factor: 0.99}], "
            f"input_current: {dice.choice(['0.55 A', '2 A'])}"
        )
    positions = ["name: PSU 1..2, takes: power-supply"]
    return parts, positions, ["when: 'has(\"supply-300\")', require: 'line >= \"200 V\"'"]


def _sinks(dice: random.Random) -> Pieces:
    parts = [
        f"kind: heat-sink, id: sink-{watts}, name: Sink {watts}, socket: tern-a, "
        f"tdp_limit: {watts} W, mass: 0.{watts} kg"
        for watts in (70, 130)
    ]
    must = ", must: true" if dice.random() < 0.5 else ""
    positions = [
        f"name: HS 1, takes: heat-sink, socket: tern-a, of: CPU1, cools: CPU1{must}",
        "name: DUCT, takes: air-duct, needs: [{kind: heat-sink}]",
    ]
    parts.append("kind: air-duct, id: duct, name: Duct, mass: 0.4 kg")
    return parts, positions, ["when: 'filled(\"DUCT\")', require: 'has(\"sink-130\")'"]


def _soldered(dice: random.Random) -> Pieces:
    parts = [
        "kind: network-adapter, id: lan, name: Adapter on the board, form: board, lanes: x2, "
        "power: {maximum: 7 W}, mass: 0.02 kg, ethernet: [{name: PORT 1, speed: 10 Gbit/s, "
        "connector: rj45, medium: copper}, {name: PORT 2, speed: 25 Gbit/s, connector: sfp28, "
        "medium: pluggable}], brings: {positions: [{name: .PORT 2, takes: transceiver}]}",
    ]
    for speed in (10, 25):
        parts.append(  # noqa: PERF401
            f"kind: transceiver, id: optic-{speed}, name: Optic {speed}, "
            f"form: {'sfp28' if speed == 25 else 'sfp+'}, speed: {speed} Gbit/s, "
            f"medium: fibre, power: {{maximum: {speed // 10} W}}, mass: 0.0{speed} kg"
        )
    owner = dice.choice(["CPU1", "CPU2"])
    positions = [f"name: LAN, takes: network-adapter, from: {owner}.P0, lanes: x2, fixed: lan"]
    return parts, positions, ["when: 'has(\"optic-25\")', require: 'processors.count == 2'"]


def _cached(dice: random.Random) -> Pieces:
    parts = [
        f"kind: storage-controller, id: raid-{name}, name: Controller {name}, height: low, "
        f"connector: x8, lanes: x4, generation: 4, raid: [0, 1]{more}, "
        f"power: {{maximum: {watts} W}}, mass: 0.15 kg"
        for name, more, watts in (
            ("plain", "", 9),
            ("cache", ", cache: 1 GiB, keeps_cache: cache-protection", 13),
        )
    ]
    parts.append(
        "kind: cache-protection, id: pack, name: Pack, chemistry: capacitor, mass: 0.1 kg, "
        "power: {maximum: 3 W}"
    )
    slots = dice.choice(["SLOT 5", "SLOT 5..6"])
    positions = [
        f"name: {slots}, takes: storage-controller, form: card, height: low, connector: x8, "
        "from: CPU1.P1, lanes: x4, power: 25 W",
        "name: PACK 1, takes: cache-protection",
    ]
    return parts, positions, ['require: \'empty("PACK 1") or has("raid-cache")\'']


def _switched(dice: random.Random) -> Pieces:
    parts = [
        "kind: riser, id: riser-switch, name: Riser with a switch, mass: 0.3 kg, "
        "power: {maximum: 6 W}, brings: {positions: [{name: SLOT 7..8, takes: accelerator, "
        "form: card, height: full, connector: x16, from: .X1..X2, lanes: x8, power: 75 W}], "
        "ports: [{name: X1..X2, lanes: x8, carries: {pcie: 5}, behind: .A}]}",
        "kind: riser, id: riser-direct, name: Riser without one, mass: 0.2 kg, brings: "
        "{positions: [{name: SLOT 7, takes: accelerator, form: card, height: full, "
        "connector: x16, from: .A, lanes: x8, power: 75 W}]}",
        "kind: accelerator, id: thin, name: Thin, height: full, connector: x16, lanes: x8, "
        "power: {maximum: 60 W}, mass: 0.5 kg",
    ]
    positions = [
        f"name: TOWER, takes: riser, leads: {{A: {{from: CPU1.P1, lanes: x{dice.choice([4, 8])}}}}}"
    ]
    return parts, positions, ["forbid: 'accelerators.count == 2 and processors.count == 1'"]


PLAIN = 20
"""Seeds below have the pieces that the first of these lists ends with."""
PIECES = [_memory, _bays, _slots, _fans, _supplies, _sinks, _soldered, _cached, _switched]


UNJUDGED = tuple(check for check in CHECKS if check is not judged)


def sound_builds(definitions: Definitions) -> Iterator[tuple[Build, Assembly, Facts]]:
    """Every build of the platform in which the checks find no error; none of them allows any.

    Of a value that cannot be, nobody reads here how it is worded and what it rests on.
    """
    for build, assembly in all_builds(definitions):
        facts = facts_of(assembly)
        severities = chain(
            (each.severity for each in findings(assembly, facts, UNJUDGED)),
            (each.row.code.severity for each in breaches(facts)),
        )
        if Severity.ERROR not in severities:
            yield build, assembly, facts


def all_builds(
    definitions: Definitions, fit: dict[str, Fill] = NOTHING, done: frozenset[str] = frozenset()
) -> Iterator[tuple[Build, Assembly]]:
    """All ways to go on filling; each position is decided on once, in the order of the system."""
    small = definitions.platforms["small"]
    build = Build(id="x", name="x", platform="small", summary="x", fit=fit)
    system = assemble(definitions, small, build)
    waiting = (each for each in system.places.values() if each.name not in done)
    while (place := next(waiting, None)) is not None:
        done |= {place.name}
        for part in definitions.parts.values():
            if not goes_in(place, part, around(system, place)):
                continue
            ends = [None] if part.kind != "cable" else list(small.leads)
            for end in ends:
                fill = {**fit, place.name: Fill(part=part.id, to=end)}
                yield from all_builds(definitions, fill, done)
    yield build, system
