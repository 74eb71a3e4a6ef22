"""Values of every demo build, worked out a second time from the YAML alone (`apart_reader`)."""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest

from specgen.pipeline import Survey
from specgen.quantity import Quantity
from tests.facts.apart_reader import System, builds, expanded, number, parts, project

pytestmark = [
    pytest.mark.arithmetic("every demo build", "worked out apart, from the YAML alone"),
]
Rows = Iterator[tuple[str, str, float]]
"""A key, the unit that the value is asked for in (empty for a bare number), and the value."""

STATES = ("idle", "typical", "maximum")


def _interpolated(curve: list[dict[str, Any]], at: float, what: str) -> float:
    points = [(float(point["load"]), float(point[what])) for point in curve]
    for (low, first), (high, second) in pairwise(points):
        if low <= at <= high:
            return first + (second - first) * (at - low) / (high - low)
    raise AssertionError(at)


def power(system: System) -> Rows:
    conditions, line = system.conditions, number(system.conditions["line"])
    draw = {
        state: sum(number(part.get("power", {}).get(state, 0)) for part in system.fitted)
        + number(system.platform["power"][state])
        for state in STATES
    }
    supplies = [*system.of_kind("power-supply").values()]
    supply, count = supplies[0], len(supplies)
    output = next(
        each
        for each in supply["outputs"]
        if min(number(each["from"]), number(each["to"]))
        <= line
        <= max(number(each["from"]), number(each["to"]))
    )
    rated = number(output["output"])
    least, most = sorted((number(output["from"]), number(output["to"])))
    own = least <= number(supply["curve_at"]) <= most
    curve = output.get("curve") or (supply["curve"] if own else None)
    redundancy = conditions.get("redundancy", "none")
    spare = 0 if redundancy == "none" else int(redundancy.split("+")[1])
    yield "power.headroom", "W", rated * (count - spare) - draw["maximum"]
    inputs = {}
    for state in STATES:
        yield f"power.{state}", "W", draw[state]
        share = draw[state] / count / rated
        yield f"power.{state}.share", "%", share * 100
        if curve is None:
            continue
        efficiency = _interpolated(curve, share, "efficiency")
        factor = 1 if line < 0 else _interpolated(curve, share, "power_factor")
        inputs[state] = draw[state] / efficiency
        yield f"power.{state}.efficiency", "%", efficiency * 100
        yield f"power.{state}.input", "W", inputs[state]
        if line > 0:  # no direct current, which is written negative
            yield f"power.{state}.apparent", "VA", inputs[state] / factor
        yield f"power.{state}.current", "A", inputs[state] / factor / abs(line)
    if curve is None:
        return
    # On DC the supplies draw their worst current at the end of their input range
    volts = line if line > 0 else min(abs(number(output["from"])), abs(number(output["to"])))
    worst, cord = 0.0, 0.0
    for failed in range(spare + 1):  # the worst of every number of failures that is promised
        left = count - failed
        share = draw["maximum"] / left / rated
        drawn = draw["maximum"] / _interpolated(curve, share, "efficiency")
        factor = 1 if line < 0 else _interpolated(curve, share, "power_factor")
        worst, cord = max(worst, drawn), max(cord, drawn / factor / volts / left)
    yield "power.input", "W", worst
    yield "power.cord_current", "A", cord
    yield "cooling.heat", "W", worst
    yield "cooling.heat_btu", "BTU/h", worst * 3600 / 1055.05585262
    yield "power.rack_input", "W", worst * conditions["per_rack"]
    yield "energy.year", "kWh", inputs["typical"] * 8.76
    allowed = number(conditions["circuit"]) * (
        0.8 if conditions.get("circuit_rule") == "nec" else 1
    )
    yield "power.circuit_share", "%", cord / allowed * 100
    metres, inlet = number(conditions["altitude"]), number(conditions["inlet"])
    pressure = 101325 * (1 - 2.25577e-5 * metres) ** 5.25588
    density = pressure / (287.05287 * (inlet + 273.15))
    needed = worst / (density * 1006 * number(conditions["rise"]))
    yield "cooling.airflow_needed", "m3/h", needed * 3600
    moved = [number(fan["airflow"]) for fan in system.of_kind("fan").values()]
    yield "cooling.airflow_left", "m3/h", (sum(moved) - max(moved)) * 3600


def mechanics(system: System) -> Rows:
    conditions = system.conditions
    mass = number(system.platform["mass"]) + sum(
        number(part.get("mass", 0)) for part in system.fitted
    )
    yield "mechanics.mass", "kg", mass
    floor = mass * conditions["per_rack"] + number(conditions["rack_mass"])
    area = number(conditions["rack_width"]) * number(conditions["rack_length"])
    yield "mechanics.floor_load", "kg", floor
    yield "mechanics.floor_pressure", "kN/m2", floor * 9.80665 / area / 1000
    for id_ in {part["id"] for part in system.fitted}:
        yield f"parts.{id_}", "", sum(part["id"] == id_ for part in system.fitted)
    sounds = [part for part in system.fitted if "noise" in part]
    if len({part["noise_edition"] for part in sounds}) == 1:
        levels = sum(10 ** number(part["noise"]) for part in sounds)
        yield "noise.sound_power", "B", math.log10(levels)


def processors(system: System) -> Rows:
    fitted = system.of_kind("processor")
    yield "processors.cores", "", sum(each["cores"] for each in fitted.values())
    yield "processors.threads", "", sum(each["threads"] for each in fitted.values())
    yield "processors.tdp", "W", sum(number(each["tdp"]) for each in fitted.values())
    peak = 0.0
    for each in fitted.values():
        doubles = each.get("operations_per_cycle")
        doubles = doubles or each["vector_units"] * each["vector_width"] / 64 * 2
        clock = number(each.get("vector_clock") or each["base_clock"])
        peak += each["cores"] * doubles * clock
    yield "processors.peak", "GFLOP/s", peak / 1e9
    modules = system.of_kind("memory-module")
    yield "memory.capacity", "GiB", sum(number(m["capacity"]) for m in modules.values()) / 2**30
    rates, used = [], 0
    for cpu, each in fitted.items():
        channels: dict[str, list[dict[str, Any]]] = {}
        for at, module in modules.items():
            row = system.positions[at][0]
            if row["of"] == cpu:
                channels.setdefault(row["channel"], []).append(module)
        used += len(channels)
        most = max(map(len, channels.values()))
        ranks = max(sum(module["ranks"] for module in fill) for fill in channels.values())
        rates += [number(module["speed"]) for fill in channels.values() for module in fill]
        rates.append(number(each["memory_speed"][most]))
        rates.append(number(system.platform.get("memory_speed", each["memory_speed"])[most]))
        if "memory_speed_by_ranks" in each:
            rates.append(number(each["memory_speed_by_ranks"][ranks]))
    yield "memory.speed", "MT/s", min(rates) / 1e6
    yield "memory.bandwidth", "GB/s", min(rates) * 8 * used / 1e9


def _usable(level: int, members: int, groups: int, each: float) -> float:
    data = {0: members, 1: 1, 5: members - 1, 6: members - 2, 10: members / 2}
    data |= {50: members - groups, 60: members - 2 * groups}
    return data[level] * each


def _to_data_loss(level: int, members: int, groups: int, between: float, repair: float) -> float:
    """Chen, Lee, Gibson, Katz, Patterson, ACM Computing Surveys 26(2), 1994 (from memory)."""
    n = members // groups
    match level:
        case 0:
            return between / members
        case 1:
            return between**2 / (2 * repair)
        case 10:
            return between**2 / (members * repair)
        case 5 | 50:
            return between**2 / (n * (n - 1) * repair) / groups
    return between**3 / (n * (n - 1) * (n - 2) * repair**2) / groups


def storage(system: System) -> Rows:
    drives = system.of_kind("drive")
    yield "storage.raw", "TB", sum(number(drive["capacity"]) for drive in drives.values()) / 1e12
    assumed = project()["assumptions"]
    for volume in system.build.get("volumes", []):
        members, spares = expanded(volume["drives"]), "spares" in volume
        level, groups = volume["level"], volume.get("groups", 1)
        least = min(number(drives[at]["capacity"]) for at in members)
        usable = _usable(level, len(members), groups, least)
        yield f"storage.{volume['name']}.usable", "GB", usable / 1e9
        yield f"storage.{volume['name']}.usable_binary", "GiB", usable / 2**30
        if level == 1 and len(members) > 2:
            continue
        repair = least / number(assumed["rebuild_rate"]["value"]) / 3600
        repair += 0 if spares else number(assumed["replacement_time"]["value"])
        between = min(number(drives[at]["mean_time_between_failures"]) for at in members)
        hours = _to_data_loss(level, len(members), groups, between, repair)
        yield f"storage.{volume['name']}.data_loss", "%", -math.expm1(-8760 / hours) * 100
    expected = [
        -math.expm1(-8760 / number(drive["mean_time_between_failures"]))
        for drive in drives.values()
    ]
    yield "storage.failures", "", sum(expected)
    for drive in drives.values():
        gigabytes = number(drive["capacity"]) / 1e9
        if gigabytes <= 8000:  # IDEMA LBA1-02
            sectors = 97_696_368 + 1_953_504 * (gigabytes - 50)
            yield f"drives.{drive['id']}.sectors", "", sectors


def network(system: System) -> Rows:
    ports = [
        port
        for id_ in system.at.values()
        for port in parts()[id_].get("ethernet", [])
        for _ in expanded(port["name"])
        if not port.get("management")
    ]
    yield "network.ports", "", len(ports)
    yield "network.line_rate", "Gbit/s", sum(number(port["speed"]) for port in ports) / 1e9
    cards = system.of_kind("accelerator").values()
    yield "accelerators.count", "", len(cards)
    if cards:
        yield "accelerators.memory", "GiB", sum(number(card["memory"]) for card in cards) / 2**30


@pytest.mark.parametrize("subject", [power, mechanics, processors, storage, network])
@pytest.mark.parametrize("build", builds())
def test_a_value_worked_out_apart_is_the_same(demo: Survey, build: str, subject: Any):
    facts = demo.cases[build].facts
    wrong, rows = [], [*subject(System(build))]
    for key, unit, expected in rows:
        value = facts.value(key)
        found = float(value.in_unit(unit)) if isinstance(value, Quantity) else float(value)
        if found != pytest.approx(expected, rel=2e-6):
            wrong.append((key, expected, found))
    assert rows
    assert wrong == []


def test_many_values_are_worked_out_apart():
    subjects = (power, mechanics, processors, storage, network)
    assert sum(len([*each(System(name))]) for name in builds() for each in subjects) > 2000
