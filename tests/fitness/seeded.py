"""Platforms at random, of positions that ask for much and parts that meet some of it."""

import random

from specgen.model import Definitions
from tests.limits.small import COMMON, HEAD, PROJECT, defined


def platform(seed: int) -> Definitions:
    """The definitions with one platform `small`; which of its parts fit is left to chance."""
    dice = random.Random(seed)
    positions, parts = _positions(dice), _parts(dice)
    named = [part.split("id: ")[1].split(",")[0] for part in parts]
    text = HEAD + "positions:\n" + "".join(f"  - {{{each}}}\n" for each in positions)
    if dice.random() < 0.5:
        text += f"lists: [{', '.join(dice.sample(named, len(named) // 2))}]\n"
    project = PROJECT.replace("inlet: 25", f"inlet: {dice.choice([20, 25, 30])}").replace(
        "line: 230 V",
        f"line: {dice.choice([110, 230])} V, outlet: {dice.choice(['IEC 60320 C13', 'CEE 7/3'])}"
        + _some(dice, "rack_depth: 760 mm | 800 mm", "rail_distance: 600 mm | 750 mm"),
    )
    return defined(
        {
            "specgen.yaml": project % "none",
            "platforms/small.yaml": text,
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in parts),
        }
    )


def _some(dice: random.Random, *fields: str) -> str:
    """Each field or not, with one of its values behind the bar."""
    found = []
    for field in fields:
        name, _, values = field.partition(": ")
        if dice.random() < 0.6:
            found.append(f", {name}: {dice.choice(values.split(' | '))}")
    return "".join(found)


def _positions(dice: random.Random) -> list[str]:
    slot = ["form: card | [card, ocp]", "height: low | full", "connector: x8 | x16"]
    return [
        "name: CPU1, takes: processor, socket: tern-a" + _some(dice, "tdp: 80 W | 120 W"),
        "name: CPU2, takes: processor, fixed: cpu-0",
        "name: HS 1, takes: heat-sink, cools: CPU1" + _some(dice, "height: low", "key: a"),
        "name: HS 2, takes: heat-sink, cools: CPU2" + _some(dice, "socket: tern-a | tern-b"),
        "name: DIMM 1, takes: memory-module, of: CPU2" + _some(dice, "form: rdimm | udimm"),
        "name: SLOT 1, takes: [accelerator, network-adapter], power: 75 W" + _some(
            dice, *slot, "length: half | full", "neighbour: SLOT 2"
        ),
        "name: SLOT 2, takes: [accelerator, riser]" + _some(dice, *slot, "power: 25 W | 75 W"),
        "name: SLOT 3, takes: accelerator, form: card, connector: x16, power: 225 W",
        "name: BAY 1, takes: drive" + _some(dice, "interface: nvme | [sas, sata]", "swap: hot"),
        "name: PSU 1, takes: power-supply, must: true, outline: {x: 1 mm, y: 1 mm, width: 60 mm, "
        "height: 40 mm}" + _some(dice, "form: m-crps-60"),
        "name: CORD 1, takes: power-cord, of: PSU 1" + _some(dice, "form: C13 | [C13, C19]"),
        "name: FAN 1, takes: fan, blank: cover" + _some(dice, "form: fan-40 | fan-60"),
        "name: RAILS, takes: rail-kit",
        "name: ARM, takes: cable-arm",
    ]  # fmt: skip


def _parts(dice: random.Random) -> list[str]:
    aging = ("life: {status: discontinued} | {status: planned}", "inlet_limit: 22 degC | 28 degC")
    parts = [
        f"kind: processor, id: cpu-{number}, name: Processor {number}, socket: "
        f"{dice.choice(['tern-a', 'tern-b'])}, cores: 8, threads: 8, base_clock: 2 GHz, "
        f"max_clock: 3 GHz, tdp: {dice.choice([70, 90, 130])} W, memory_technology: "
        f"{dice.choice(['ddr4', 'ddr5'])}, memory_channels: 2, memory_speed: {{1: 4800 MT/s}}"
        for number in range(4)
    ]
    parts += [
        f"kind: heat-sink, id: sink-{number}, name: Sink {number}, socket: tern-a, "
        f"tdp_limit: {dice.choice([80, 100, 140])} W"
        + _some(dice, "height: full", "key: b | [a, b]")
        for number in range(3)
    ]
    parts += [
        f"kind: memory-module, id: module-{number}, name: Module {number}, technology: "
        f"{dice.choice(['ddr4', 'ddr5'])}, form: {dice.choice(['rdimm', 'udimm'])}, "
        "capacity: 16 GiB, speed: 4800 MT/s, ranks: 1, device_width: 8"
        for number in range(2)
    ]
    parts += [
        f"kind: accelerator, id: wide-{number}, name: Accelerator {number}, power: {{maximum: "
        f"{dice.choice([20, 60, 110, 250])} W}}, form: {dice.choice(['card', 'ocp'])}"
        + _some(
            dice,
            "height: low | full",
            "length: half | full",
            "connector: x8 | x16",
            "needs: [{resource: pcie-8-pin}]",
            "places: 2",
        )
        for number in range(4)
    ]
    parts += [
        f"kind: network-adapter, id: net-{number}, name: Adapter {number}, ethernet: [{{name: "
        f"PORT 1, speed: {dice.choice([10, 25])} Gbit/s, connector: sfp28, medium: pluggable}}], "
        "brings: {positions: [{name: .PORT 1, takes: transceiver"
        + _some(dice, "form: sfp28 | [sfp28, sfp+]")
        + "}]}"
        for number in range(2)
    ]
    parts += [
        f"kind: transceiver, id: optic-{number}, name: Optic {number}, form: "
        f"{dice.choice(['sfp28', 'sfp+', 'qsfp28'])}, speed: {dice.choice([10, 25])} Gbit/s, "
        "medium: fibre"
        for number in range(3)
    ]
    parts += [
        f"kind: drive, id: drive-{number}, name: Drive {number}, medium: ssd, form: 2.5-inch, "
        f"interface: {dice.choice(['nvme', 'sas', 'sata'])}, swap: {dice.choice(['hot', 'cold'])}, "
        "generation: 4, capacity: 1 TB"
        for number in range(3)
    ]
    parts += [
        f"kind: power-supply, id: supply-{number}, name: Supply {number}, size: {{width: "
        f"{60 + 20 * (number % 2)} mm, height: 50 mm, depth: {40 + 60 * (number % 2)} mm}}, form: "
        f"{dice.choice(['m-crps-60', 'm-crps-73'])}, inlet: {dice.choice(['C14', 'C20'])}, "
        "outputs: "
        f"[{{from: {dice.choice([90, 200])} V, to: 240 V, output: 2000 W}}]"
        for number in range(3)
    ]
    parts += [
        f"kind: power-cord, id: cord-{number}, name: Cord {number}, form: "
        f"{dice.choice(['C13', 'C19'])}, plug: "
        f"{dice.choice(['IEC 60320 C14', 'CEE 7/7', 'NEMA 5-15P'])}, current: 10 A"
        + _some(dice, "rated_voltage: 125 V | 250 V")
        for number in range(4)
    ]
    parts += [
        f"kind: fan, id: fan-{number}, name: Fan {number}, form: fan-{dice.choice([40, 60])}"
        for number in range(2)
    ]
    parts += [
        f"kind: riser, id: riser-{number}, name: Riser {number}, brings: {{positions: [{{name: "
        f".S {number}, takes: accelerator" + _some(dice, "form: card", "power: 50 W | 75 W") + "}]}"
        for number in range(2)
    ]
    parts += [
        f"kind: rail-kit, id: rails-{number}, name: Rails {number}"
        + _some(dice, "adjusts_from: 580 mm | 620 mm", "adjusts_to: 700 mm | 900 mm")
        for number in range(3)
    ]
    parts += [
        f"kind: cable-arm, id: arm-{number}, name: Arm {number}"
        + _some(dice, "adds_depth: 40 mm | 60 mm | 120 mm")
        for number in range(2)
    ]
    parts += [
        "kind: blank, id: cover, name: Cover, form: fan-40",
        "kind: blank, id: cap, name: Cap, form: fan-40",
    ]
    soldered, *others = parts  # that one is in every system, so it is told by itself
    aged = (part + _some(dice, *aging) if dice.random() < 0.4 else part for part in others)
    return [soldered, *aged]
