# ruff: noqa: E501 (a table reads best with one row a line)
"""Every limit of one small platform, added up on paper from its YAML alone."""

from functools import cache
from typing import Final

import pytest

from specgen.limits.limit import Limit, Status
from specgen.limits.limit_tables import choices, table_of
from specgen.limits.objectives import OBJECTIVES, printed
from specgen.limits.solve import Solver
from specgen.model import Definitions
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity
from tests.limits.small import COMMON, HEAD, PROJECT, defined

pytestmark = [pytest.mark.arithmetic("limits of a platform", "sums on paper")]

CPU: Final = (
    "socket: tern-a, base_clock: 2 GHz, max_clock: 3 GHz, memory_technology: ddr5, memory_channels: 2, "
    "memory_speed: {1: 4800 MT/s}, memory_limit: 48 GiB, together: 2, brings: {ports: [{name: P0, lanes: x4, "
    "carries: {sata: 3}}, {name: P1, lanes: x8, carries: {pcie: 4}}, {name: P2, lanes: x4, carries: {pcie: 4}}]}"
)
MODULE: Final = "kind: memory-module, technology: ddr5, form: rdimm, speed: 4800 MT/s, ranks: 1, device_width: 8"
CARD: Final = "connector: x8, lanes: x8, generation: 4, length: half"
PARTS: Final = (
    f"kind: processor, id: cpu-8, name: Eight cores, cores: 8, threads: 8, tdp: 60 W, power: {{maximum: 60 W}}, mass: 0.1 kg, {CPU}",
    f"kind: processor, id: cpu-12, name: Twelve cores, cores: 12, threads: 12, tdp: 90 W, power: {{maximum: 90 W}}, mass: 0.2 kg, {CPU}",
    f"{MODULE}, id: ram-16, name: Sixteen, capacity: 16 GiB, power: {{maximum: 5 W}}, mass: 0.04 kg",
    f"{MODULE}, id: ram-32, name: Thirty-two, capacity: 32 GiB, power: {{maximum: 7 W}}, mass: 0.05 kg",
    "kind: drive, id: ssd, name: Drive, medium: ssd, interface: sata, generation: 3, form: 2.5-inch, swap: hot, capacity: 2 TB, power: {maximum: 8 W}, mass: 0.1 kg",
    "kind: drive, id: m2, name: Stick, medium: ssd, interface: nvme, lanes: x4, generation: 4, form: m.2-2280, swap: cold, capacity: 1 TB, power: {maximum: 5 W}, mass: 0.01 kg",
    f"kind: network-adapter, id: nic, name: Adapter, {CARD}, height: low, power: {{maximum: 20 W}}, mass: 0.15 kg, ethernet: [{{name: A1..A2, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}}, {{name: B, speed: 10 Gbit/s, connector: rj45, medium: copper}}, {{name: C, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}}]",
    f"kind: accelerator, id: card, name: Card, {CARD}, height: full, memory: 16 GiB, power: {{maximum: 70 W}}, mass: 0.6 kg",
    "kind: fan, id: fan, name: Fan, form: fan-40, power: {maximum: 6 W}, mass: 0.3 kg",
    "kind: blank, id: blank, name: Fan blank, form: fan-40, mass: 0.05 kg",
    "kind: power-supply, id: psu, name: Supply, form: own, inlet: C14, mass: 1 kg, outputs: [{from: 200 V, to: 240 V, output: 500 W}], curve_at: 230 V, curve: [{load: 0.01, efficiency: 0.9, power_factor: 1}, {load: 1, efficiency: 0.9, power_factor: 1}]",
    "kind: power-cord, id: cord, name: Cord, form: C13, plug: IEC 60320 C14, current: 10 A, mass: 0.2 kg",
)  # fmt: skip
POSITIONS: Final = """
positions:
  - {name: CPU1, takes: processor, socket: tern-a, must: true}
  - {name: CPU2, takes: processor, socket: tern-a}
  - {name: DIMM A1, takes: memory-module, form: rdimm, of: CPU1, channel: A}
  - {name: DIMM A2, takes: memory-module, form: rdimm, of: CPU1, channel: B}
  - {name: DIMM B1, takes: memory-module, form: rdimm, of: CPU2, channel: C}
  - {name: BAY 0..1, takes: drive, area: front, form: 2.5-inch, interface: sata, swap: hot, from: CPU1.P0, lanes: x1}
  - {name: SSD, takes: drive, form: m.2-2280, interface: nvme, swap: cold, from: CPU1.P2, lanes: x4}
  - {name: SLOT 1, takes: [network-adapter, accelerator], form: card, area: rear, height: full, length: half, connector: x8, from: CPU1.P1, lanes: x8, power: 75 W}
  - {name: SLOT 2, takes: [network-adapter, accelerator], form: card, area: rear, height: low, length: half, connector: x8, from: CPU2.P1, lanes: x8, power: 75 W}
  - {name: FAN 1..2, takes: fan, form: fan-40, blank: blank}
  - {name: PSU 1, takes: power-supply, form: own, area: rear, must: true}
  - {name: PSU 2, takes: power-supply, form: own, area: rear}
  - {name: CORD 1..2, takes: power-cord, area: rear, of: PSU 1..2}
"""
LOSS: Final = "assumptions: {board_loss: {value: 8 %, source: {document: handbook}}}\n"

# All that draws: board 20, two of 90, modules 7 + 5 and 7 (48 GiB a processor), drives 2 x 8 + 5,
# accelerator 70 in the full slot, adapter 20 in the low one, fans 2 x 6
MOST: Final = 20 + 2 * 90 + 7 + 5 + 7 + 2 * 8 + 5 + 70 + 20 + 2 * 6
# What must be there: board 20, one of 60 with one module of 5
LEAST: Final = 20 + 60 + 5
BY_HAND: Final[dict[str, int | Quantity]] = {
    "cores": 24,
    "memory": DataSize.of(80, "GiB"),
    "drives": 2,  # the M.2 module is in no bay
    "bays": 2,
    "raw": DataSize.of(5, "TB"),
    "slots": 2,
    "slots-full": 1,
    "slots-low": 1,
    "accelerators": 1,
    "accelerator-memory": DataSize.of(16, "GiB"),
    "ports": 6,  # three of each adapter, without its management port
    "line-rate": DataRate.of(120, "Gbit/s"),
    "power": Power.of("410.4"),  # 342 x 1.08 / 0.9
    "power-least": Power.of(102),  # 85 x 1.08 / 0.9
    "dc-load": Power.of("369.36"),  # 342 x 1.08
    # 5, processors 0.4, modules 0.14, drives 0.21, cards 0.6 + 0.15, fans 0.6, supplies 2, cords 0.4
    "mass": Mass.of("9.5"),
    # 5, processor 0.1, module 0.04, two blanks 0.1, supply 1; cords may come from elsewhere
    "mass-least": Mass.of("6.24"),
}


@cache
def definitions() -> Definitions:
    return defined({
        "specgen.yaml": PROJECT % "none" + LOSS,
        "platforms/small.yaml": HEAD + POSITIONS,
        "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in PARTS),
    })  # fmt: skip


@cache
def limits() -> dict[str, Limit]:
    found = table_of(definitions(), definitions().platforms["small"])
    return dict(zip(OBJECTIVES, found, strict=True))


def test_what_is_drawn_is_added_up():
    assert (MOST, LEAST) == (342, 85)


@pytest.mark.parametrize("key", OBJECTIVES)
def test_a_limit_added_up_on_paper(key: str):
    limit = limits()[key]
    assert (limit.value, limit.status) == (BY_HAND[key], Status.PROVED)


@pytest.mark.parametrize(
    ("axis", "key", "rows"),
    [
        ("processors", "cores", [("1 processor", 12), ("2 processors", 24)]),
        (
            "processors",
            "memory",
            [("1 processor", DataSize.of(48, "GiB")), ("2 processors", DataSize.of(80, "GiB"))],
        ),
        # Two supplies, so never two of four to spare; 369.36 W on one of 500 W
        (
            "supplies",
            "dc-load",
            [
                ("Supply, redundancy none", Power.of("369.36")),
                ("Supply, redundancy 1+1", Power.of("369.36")),
            ],
        ),
        # ASHRAE TC 9.9, class A2: up to 35 degC
        ("inlet", "bays", [("inlet 25 degC", 2), ("inlet 30 degC", 2), ("inlet 35 degC", 2)]),
        ("risers", "bays", []),
    ],
)
def test_limits_for_each_choice(axis: str, key: str, rows: list[tuple[str, int | Quantity]]):
    solver = Solver(definitions(), definitions().platforms["small"])
    found = [(each.choice, each.limits[0].value) for each in choices(solver, axis, (key,))]
    assert found == rows


LABELS: Final = (
    *("Cores", "Memory", "Drives", "Drive bays", "Raw capacity", "Card slots"),
    *("Full-height slots", "Low-profile slots", "Accelerators", "Accelerator memory"),
    *("Ethernet ports", "Line rate of all ports"),
    *("Input power, worst case, max.", "Input power, worst case, min."),
    "Load of the power supplies, maximum",  # with the loss before the parts, and no least of it
    *("Weight, max.", "Weight, min."),
)


def test_limits_are_called_what_they_are():
    assert tuple(str(each.label) for each in OBJECTIVES.values()) == LABELS


def test_pages_print_those_that_take_no_long_search():
    asked_for = {"power", "power-least", "dc-load", "mass"}
    found = printed(definitions(), definitions().platforms["small"])
    assert found == tuple(key for key in BY_HAND if key not in asked_for)


def test_limits_shared_out_over_processes_are_the_same_in_their_order():
    keys = ("mass", "drives", "slots-low")
    small = definitions().platforms["small"]
    found = table_of(definitions(), small, keys, jobs=2)
    assert [(each.key, each.value) for each in found] == [(key, BY_HAND[key]) for key in keys]


KINDS: Final = "".join(
    f"- {{id: {id_}, title: {title}, plural: {title}s, description: A kind of its own, subsystem: "
    "mechanics, fields: [{name: form, type: text, required: true}]}\n"
    for id_, title in (("clip", "Clip"), ("cores", "Core"), ("hook", "Hook"))
)


def test_pages_print_the_numbers_of_own_kinds_that_something_takes():
    """A clip goes into the platform, a core into the clip, and a hook nowhere."""
    found = defined({
        "specgen.yaml": PROJECT % "none",
        "kinds/own.yaml": KINDS,
        "platforms/small.yaml": f"{HEAD}positions: [{{name: CLIP 1..2, takes: clip}}]\n",
        "catalog/parts.yaml": f"- {{kind: clip, id: clip, name: Clip, form: a, {COMMON}, brings: {{positions: [{{name: .CORE 1..3, takes: cores}}]}}}}\n- {{kind: cores, id: core, name: Core, form: a, {COMMON}}}\n",
    })  # fmt: skip
    asked = printed(found, found.platforms["small"])
    # a limit is called "cores" already
    assert [key for key in asked if key not in OBJECTIVES] == ["clip", "cores-count"]
    table = table_of(found, found.platforms["small"], ("clip", "cores-count"))
    assert [each.value for each in table] == [2, 6]


def test_a_supply_whose_curve_nobody_states_takes_no_part_in_input_power():
    plain = (
        PARTS[-2]
        .partition(", curve_at")[0]
        .replace("id: psu, name: Supply", "id: plain, name: Plain")
    )
    found = defined({
        "specgen.yaml": PROJECT % "none" + LOSS,
        "platforms/small.yaml": HEAD + POSITIONS,
        "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in (*PARTS, plain)),
    })  # fmt: skip
    asked = table_of(found, found.platforms["small"], ("power", "power-least"))
    assert [each.value for each in asked] == [BY_HAND["power"], BY_HAND["power-least"]]
