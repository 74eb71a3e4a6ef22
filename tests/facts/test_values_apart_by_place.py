"""More values of every demo build, worked out a second time from the YAML alone: by place, and what
is stated of the system, its rack and its room. Words and links of three builds stand here as read
off their definitions."""

import math
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest

from specgen.pipeline import Survey
from specgen.quantity import Quantity
from tests.facts.apart_reader import System, builds, expanded, number, project
from tests.facts.english import in_english

pytestmark = [
    pytest.mark.arithmetic("every demo build", "worked out apart, from the YAML alone"),
]
Rows = Iterator[tuple[str, str | None, Any]]
"""A key, the unit that the value is asked for in (None for words), and the value."""


def _in_order(system: System, kind: str) -> tuple[str, ...]:
    """The names of parts of a kind, each once, in the order of the platform's positions."""
    fitted = system.of_kind(kind)
    return tuple(dict.fromkeys(fitted[at]["name"] for at in system.positions if at in fitted))


def processors(system: System) -> Rows:
    fitted = system.of_kind("processor")
    yield "processors.models", None, _in_order(system, "processor")
    yield (
        "processors.max_clock",
        "GHz",
        min(number(p["max_clock"]) for p in fitted.values()) / 1e9,
    )
    for at, part in fitted.items():
        yield f"processors.{at}.cores", "", part["cores"]
        yield f"processors.{at}.threads", "", part["threads"]
        yield f"processors.{at}.base_clock", "GHz", number(part["base_clock"]) / 1e9
        yield f"processors.{at}.max_clock", "GHz", number(part["max_clock"]) / 1e9
        yield f"processors.{at}.tdp", "W", number(part["tdp"])
        yield f"processors.{at}.cache", "MiB", number(part["cache"]) / 2**20


def memory(system: System) -> Rows:
    modules = system.of_kind("memory-module")
    yield "memory.kinds", None, _in_order(system, "memory-module")
    slots = {
        at: row for at, (row, _) in system.positions.items() if row["takes"] == "memory-module"
    }
    yield "memory.slots", "", len(slots)
    yield "memory.modules", "", len(modules)
    for cpu, part in system.of_kind("processor").items():
        own = [at for at in modules if slots[at]["of"] == cpu]
        on = Counter(slots[at]["channel"] for at in own)
        ranks: Counter[str] = Counter()
        for at in own:
            ranks[slots[at]["channel"]] += modules[at]["ranks"]
        wired = {row["channel"] for row in slots.values() if row["of"] == cpu}
        fitted = sum(number(modules[at]["capacity"]) for at in own) / 2**30
        yield f"memory.{cpu}.channels", "", min(part["memory_channels"], len(wired))
        yield f"memory.{cpu}.channels_used", "", len(on)
        yield f"memory.{cpu}.modules_per_channel", "", max(on.values())
        yield f"memory.{cpu}.ranks_per_channel", "", max(ranks.values())
        yield f"memory.{cpu}.capacity", "GiB", fitted
        if "memory_mode" not in system.build:
            yield f"memory.{cpu}.visible", "GiB", fitted
    for at, part in system.of_kind("accelerator").items():
        yield f"accelerators.{at}.memory", "GiB", number(part["memory"]) / 2**30
        yield f"accelerators.{at}.memory_bandwidth", "GB/s", number(part["memory_bandwidth"]) / 1e9
        yield f"accelerators.{at}.power", "W", number(part["power"]["maximum"])


def volumes(system: System) -> Rows:
    drives = system.of_kind("drive")
    yield "storage.endurance_span", "h", number(project()["assumptions"]["endurance_span"]["value"])
    for volume in system.build.get("volumes", []):
        key = f"storage.{volume['name']}"
        members = [drives[at] for at in expanded(volume["drives"])]
        yield f"{key}.raw_binary", "GiB", sum(number(each["capacity"]) for each in members) / 2**30
        for what, field in (("member_reads", "random_reads"), ("member_writes", "random_writes")):
            yield f"{key}.{what}", "", min(each[field] for each in members)
        for what, field in (("member_read", "read"), ("member_write", "write")):
            yield f"{key}.{what}", "MB/s", min(number(each[field]) for each in members) / 1e6


def room(system: System) -> Rows:
    conditions, platform = system.conditions, system.platform
    count = conditions["per_rack"]
    mass = number(platform["mass"]) + sum(number(part.get("mass", 0)) for part in system.fitted)
    yield "mechanics.chassis_mass", "kg", number(platform["mass"])
    yield "mechanics.width", "mm", number(platform["size"]["width"]) * 1e3
    yield "mechanics.depth", "mm", number(platform["size"]["depth"]) * 1e3
    yield "mechanics.body_width", "mm", number(platform["body_width"]) * 1e3
    opening = number(conditions["rack_opening"]) - number(platform["body_width"])
    yield "mechanics.width_spare", "mm", opening * 1e3
    rails = [*system.of_kind("rail-kit").values()]
    for rail in rails:
        yield "mechanics.rails_least", "mm", number(rail["adjusts_from"]) * 1e3
        yield "mechanics.rails_most", "mm", number(rail["adjusts_to"]) * 1e3
        yield "mechanics.rails_rating", "kg", number(rail["load_rating"])
        load = mass - number(rail["mass"])
        yield "mechanics.rails_load", "kg", load
        yield "mechanics.rails_headroom", "kg", number(rail["load_rating"]) - load
        yield "mechanics.rails_fit", None, "yes"
    yield "mechanics.rail_distance", "mm", number(conditions["rail_distance"]) * 1e3
    yield "mechanics.rack_height", "", conditions["rack_units"]
    yield "mechanics.rack_units_wanted", "", count * platform["rack_units"]
    yield "mechanics.rack_units_free", "", conditions["rack_units"] - count * platform["rack_units"]
    yield "mechanics.rack_rating", "kg", number(conditions["rack_load_rating"])
    yield "mechanics.rack_load", "kg", mass * count
    yield "mechanics.rack_headroom", "kg", number(conditions["rack_load_rating"]) - mass * count
    yield "mechanics.rack_empty", "kg", number(conditions["rack_mass"])
    rating = float(conditions["floor_load_rating"].split()[0])
    area = number(conditions["rack_width"]) * number(conditions["rack_length"])
    wanted = (mass * count + number(conditions["rack_mass"])) * 9.80665 / area / 1000
    yield "mechanics.floor_rating", "kN/m2", rating
    yield "mechanics.floor_wanted", "kN/m2", wanted
    yield "mechanics.floor_headroom", "kN/m2", rating - wanted
    # ISO 11228-1:2021, ISO 11228 team factor and NIOSH as in `facts/constants.py`
    yield "mechanics.lifting_persons", "", 1 if mass <= 20 else math.ceil(mass / (20 * 0.85))
    reached = [each.split()[0] for each in ("20 kg", "23 kg", "25 kg") if mass >= number(each)]
    yield "mechanics.lifting_reached", None, tuple(reached)
    metres = number(conditions["altitude"])
    yield "cooling.pressure", "hPa", 1013.25 * (1 - 2.25577e-5 * metres) ** 5.25588
    yield "cooling.rise", "K", number(conditions["rise"])
    limits = [number(part["inlet_limit"]) for part in system.fitted if "inlet_limit" in part]
    # Source: ASHRAE TC 9.9, 5th edition, table 2.1: A2 to 35, A3 to 40 degC, less above 900 m
    assert metres <= 900 or platform["operating_class"] in ("A2", "A3")
    highest, slope = {"A2": (35, 300), "A3": (40, 175)}[platform["operating_class"]]
    highest -= max(0, metres - 900) / slope
    yield "cooling.inlet_of_parts", "degC", min([highest, *limits])
    yield "conditions.line", "V", number(conditions["line"])
    yield "conditions.altitude", "m", metres
    yield "conditions.inlet", "degC", number(conditions["inlet"])
    yield "conditions.redundancy", None, conditions["redundancy"]
    yield "conditions.operating_class", None, platform["operating_class"]


def electricity(system: System, facts: Any) -> Rows:
    """From the loads that `test_values_apart` holds, what follows from them."""
    conditions = system.conditions
    supplies = [*system.of_kind("power-supply").values()]
    yield "power.supplies", "", len(supplies)
    yield "power.board_loss_share", "%", 0
    yield "power.circuit", "A", number(conditions["circuit"])
    yield "power.supply_rating", "A", min(number(part["input_current"]) for part in supplies)
    for state in ("idle", "typical", "maximum"):
        drawn = facts.value(f"power.{state}.input")
        if drawn is None:
            continue
        load = float(facts.value(f"power.{state}.load").in_unit("W"))
        current = float(facts.value(f"power.{state}.current").in_unit("A"))
        yield f"power.{state}.loss", "W", float(drawn.in_unit("W")) - load
        yield f"power.{state}.current_each", "A", current / len(supplies)
    typical = facts.value("power.typical.input")
    if typical is not None:
        watts = float(typical.in_unit("W"))
        yield "power.rack_typical", "W", watts * conditions["per_rack"]
        yield "cooling.heat_typical_btu", "BTU/h", watts * 3600 / 1055.05585262


def regulation(system: System) -> Rows:
    """Source: Regulation (EU) 2019/424, annex II, tables 3 and 4, 1.1.1 and 1.1.2."""
    measured = system.build.get("measured", {})
    for key, field, unit in (
        ("idle_warm", "idle_warm", "W"),
        ("maximum", "maximum", "W"),
        ("efficiency_active", "efficiency", ""),
    ):
        if field in measured:
            yield f"regulation.{key}", unit, number(measured[field])
    redundancy = system.conditions["redundancy"]
    spare = 0 if redundancy == "none" else int(redundancy.split("+")[1])
    supplies = [*system.of_kind("power-supply").values()]
    yield "regulation.idle_supplies", "W", 10 * spare
    yield "regulation.idle_drives", "W", 5 * len(system.of_kind("drive"))
    modules = system.of_kind("memory-module")
    capacity = sum(number(each["capacity"]) for each in modules.values()) / 2**30
    yield "regulation.idle_memory", "W", 0.18 * max(capacity - 4, 0)
    used = {
        (row["of"], row["channel"]) for at, (row, _) in system.positions.items() if at in modules
    }
    yield "regulation.idle_channels", "W", 4 * max(len(used) - 8, 0)
    yield "regulation.year", "", system.platform.get("year")
    yield "regulation.deletion", None, system.platform.get("deletion")
    if any(number(each["from"]) < 0 for part in supplies for each in part["outputs"]):
        return  # direct current: the regulation asks nothing of their efficiency
    for load, least in ((0.1, 90), (0.2, 94), (0.5, 96), (1.0, 91)):
        points = [point for part in supplies for point in part["curve"] if point["load"] == load]
        yield (
            f"regulation.efficiency_{load * 100:.0f}",
            "%",
            min(float(point["efficiency"]) * 100 for point in points),
        )
        if any(part.get("several_outputs") == "true" for part in supplies):
            continue
        yield f"regulation.least_efficiency_{load * 100:.0f}", "%", least
    halves = [point for part in supplies for point in part["curve"] if point["load"] == 0.5]
    yield "regulation.power_factor_50", "", min(float(point["power_factor"]) for point in halves)
    yield "regulation.least_power_factor", "", 0.95


def _differ(unit: str | None, found: Any, expected: Any) -> bool:
    if expected is None or found is None:
        return found is not expected
    if unit is None:
        words = in_english(found)
        if isinstance(expected, tuple) and len(expected) == len(words):
            return any(
                not word.startswith(start) for word, start in zip(words, expected, strict=True)
            )
        return bool(words != expected)
    value = float(found.in_unit(unit)) if isinstance(found, Quantity) else float(found)
    return value != pytest.approx(expected, rel=2e-6, abs=1e-9)


@pytest.mark.parametrize("subject", [processors, memory, volumes, room, electricity, regulation])
@pytest.mark.parametrize("build", builds())
def test_a_value_of_a_place_worked_out_apart_is_the_same(demo: Survey, build: str, subject: Any):
    facts, system = demo.cases[build].facts, System(build)
    rows = subject(system, facts) if subject is electricity else subject(system)
    found = [(key, expected, facts.value(key), unit) for key, unit, expected in rows]
    assert found
    wrong = [each[:3] for each in found if _differ(each[3], each[2], each[1])]
    assert wrong == []


# Read off the definitions: Gen 4 x16 is 16 x 16 GT/s x 128/130 / 8 = 31.50769 GB/s, x8 half of
# it; Gen 3 x4 is 3.93846, Gen 4 x4 7.87692; SAS at 12 Gbit/s is 1.2 GB/s by 8b/10b, at 22.5 Gbit/s
# 2.4 GB/s by 128b/150b. SFP28 carries one lane of 25, a jack of ours 10 Gbit/s.
X16 = 16 * 16 * 128 / 130 / 8
SFP28 = {
    "network.10 Gbit/s rj45.speed": ("Gbit/s", 10),
    "network.25 Gbit/s sfp28.speed": ("Gbit/s", 25),
    "network.10 Gbit/s rj45.lanes": (None, "1 x 10 Gbit/s"),
    "network.25 Gbit/s sfp28.lanes": (None, "1 x 25 Gbit/s"),
    "network.10 Gbit/s rj45.connector_rate": ("Gbit/s", 10),
    "network.25 Gbit/s sfp28.connector_rate": ("Gbit/s", 25),
    "expansion.BOOT.takes": (None, "boot module's card"),
    "expansion.OCP.takes": (None, "OCP NIC 3.0 SFF"),
    "expansion.BOOT.fitted": (None, "Boot module, two M.2 SSDs mirrored"),
    "expansion.BOOT.attached": ("", 2),  # two sticks at Gen 4 x4
    "expansion.BOOT.demand": ("GB/s", X16 / 2),
}
OF_SLOTS = {
    "boathouse-tiers": {
        **SFP28,
        "expansion.slots": ("", 3),
        "expansion.slots_used": ("", 1),
        "expansion.slots_free": ("", 2),
        "expansion.slots_unusable": ("", 0),
        "expansion.SLOT 2.fitted": (None, "empty"),
        "expansion.SLOT 1.takes": (None, "low profile, half length"),
        "expansion.SLOT 1.owner": (None, "CPU1.P1"),
        "expansion.SLOT 1.attached": ("", 6),
        "expansion.SLOT 1.demand": ("GB/s", 6 * 1.2),
        "expansion.HUB.attached": ("", 0),
        "expansion.HUB.demand": ("GB/s", 0),
        "storage.SLOT 1.host_bandwidth": ("GB/s", X16),
        "storage.HUB.host_bandwidth": ("GB/s", X16 / 8),
        "storage.Store.random_mixed_limit": (None, "drives"),
        "power.path_rating": ("A", 10),
        "power.path_limited_by": (None, "the inlet"),
        "power.C14.uncorded": ("", 0),
    },
    "capstan-eyes": {
        **SFP28,
        "expansion.slots_used": ("", 9),
        "expansion.slots_free": ("", 0),
        "expansion.SLOT 8.fitted": (None, "Inference card, full height, 32 GiB"),
        "expansion.SLOT 8.takes": (None, "full height, full length"),
        "expansion.RISER 1.A.attached": ("", 4),
        "expansion.RISER 1.A.demand": ("GB/s", 4 * X16),
        "expansion.RISER 1.A.uplink": ("GB/s", 2 * X16),
        "expansion.SLOT 9.attached": ("", 5),
        "expansion.SLOT 9.demand": ("GB/s", 5 * 2.4),
        "accelerators.SLOT 8.host_bandwidth": ("GB/s", X16),
        "accelerators.host_bandwidth": ("GB/s", 8 * X16),
        "storage.SLOT 9.host_bandwidth": ("GB/s", X16 / 2),
        "storage.Finds.random_mixed_limit": (None, "drives"),
        "power.path_rating": ("A", 12.5),
        "power.path_limited_by": (None, "the power supply"),
        "power.C20.uncorded": ("", 0),
    },
    "pocket-lamp-room": {
        # Typical: B8 46; modules 2 x 2; stick 4.2 + hub 3; LAN 4; fans 3 x 4; board 12 + controller
        # 4 + security module 0.05
        "power.processors.typical": ("W", 46),
        "power.memory.typical": ("W", 4),
        "power.storage.typical": ("W", 7.2),
        "power.network.typical": ("W", 4),
        "power.cooling.typical": ("W", 12),
        "power.board.typical": ("W", 16.05),
        "power.accelerators.typical": ("W", 0),
        "power.other.typical": ("W", 0),
        "expansion.slots_used": ("", 0),
        "expansion.slots_unusable": ("", 0),
    },
}


@pytest.mark.parametrize("build", OF_SLOTS)
def test_links_slots_and_the_way_of_current_as_read_off_the_definitions(demo: Survey, build: str):
    facts = demo.cases[build].facts
    wrong = [
        (key, expected, facts.value(key))
        for key, (unit, expected) in OF_SLOTS[build].items()
        if _differ(unit, facts.value(key), expected)
    ]
    assert wrong == []
