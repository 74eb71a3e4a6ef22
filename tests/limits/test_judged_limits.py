"""Limits under conditions that values are judged by: of all builds one by one, the same answer."""

from dataclasses import replace
from decimal import Decimal

import pytest

from specgen.assembly import assemble
from specgen.limits.limit import Status, limit_of, reached
from specgen.limits.objectives import INPUT, OBJECTIVES
from specgen.limits.solve import Solver
from specgen.model import ANYWHERE, Conditions, Definitions
from specgen.quantity import Current, Length, Quantity, TemperatureDifference
from tests.limits.small import COMMON, HEAD, defined, sound_builds
from tests.timing import first

PROJECT = """
title: Small systems
publisher: {name: Quillmere Works}
date: 2026-03-02
families: [{id: coast, name: Coast, summary: Servers}]
documents: [sheet]
assumptions:
  cable_space: {value: 80 mm, source: {document: rack plan}}
"""
POINTS = (
    "curve: [{load: 0.05, efficiency: 0.88, power_factor: 0.95}, "
    "{load: 0.5, efficiency: 0.94, power_factor: 0.99}, "
    "{load: 1, efficiency: 0.92, power_factor: 0.99}]"
)
PARTS = (
    *(
        f"kind: processor, id: cpu-{watts}, name: Processor {watts}, socket: tern-a, "
        f"cores: {watts // 8}, threads: {watts // 8}, base_clock: 2 GHz, max_clock: 3 GHz, "
        f"tdp: {watts} W, power: {{maximum: {watts} W}}, memory_technology: ddr5, "
        "memory_channels: 2, memory_speed: {1: 4800 MT/s}, together: 2, mass: 0.1 kg"
        for watts in (56, 88, 120)
    ),
    *(
        f"kind: power-supply, id: supply-{watts}, name: Supply {watts}, form: m-crps-60, "
        f"inlet: C14, outputs: [{{from: 200 V, to: 240 V, output: {watts} W, {POINTS}}}], "
        "mass: 0.7 kg"
        for watts in (300, 400)
    ),
    *(
        f"kind: fan, id: fan-{flow}, name: Fan {flow}, form: fan-40, airflow: {flow} m3/h, "
        f"power: {{maximum: {flow // 5} W}}, mass: 0.05 kg"
        for flow in (20, 40)
    ),
)
ONE_FAN = tuple(each for each in PARTS if "id: fan-40" not in each)
"""Where fans are not what is asked about: a quarter of the builds."""
PLATFORM = (
    f"{HEAD}positions:\n"
    "  - {name: CPU1, takes: processor, socket: tern-a, must: true}\n"
    "  - {name: CPU2, takes: processor, socket: tern-a, of: CPU1}\n"
    "  - {name: PSU 1..2, takes: power-supply, must: true}\n"
    "  - {name: FAN 1..2, takes: fan, form: fan-40, must: true}\n"
)
STATED = (
    Conditions(circuit=Current.of("0.5")),
    Conditions(circuit=Current.of("0.6")),
    Conditions(rise=TemperatureDifference.of(9)),
    Conditions(rise=TemperatureDifference.of(14)),
    Conditions(rise=TemperatureDifference.of(14), circuit=Current.of("0.6")),
    Conditions(rack_depth=Length.of("0.6")),
)
KEYS = ("cores", "power", "power-least", "mass")


def stated(at: Conditions, platform: str = PLATFORM, parts: tuple[str, ...] = PARTS) -> Definitions:
    """The project with these conditions, and a line and air for all of them."""
    text = "conditions: {line: 230 V, inlet: 25 degC, altitude: 100 m, redundancy: none}\n"
    definitions = defined(
        {
            "specgen.yaml": PROJECT + text,
            "platforms/small.yaml": platform,
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in parts),
        }
    )
    conditions = definitions.project.conditions
    known = {name: value for name in STATED_NAMES if (value := getattr(at, name)) is not None}
    project = replace(definitions.project, conditions=replace(conditions, **known))
    return replace(definitions, project=project)


STATED_NAMES = ("circuit", "rise", "rack_depth", "feeds")
ON_FEEDS = (
    "feeds: {A: PSU 1..2, B: PSU 3}\n",
    "feeds: {A: PSU 1, B: PSU 2..3}\n",
    "",
)


@pytest.mark.parametrize("at", first(1, (*STATED[4:], *STATED[:4])), ids=str)
def test_a_limit_under_a_condition_is_the_best_of_all_builds_that_bear_it(at):
    is_the_best_of_all(stated(at))


@pytest.mark.parametrize("feeds", first(1, ON_FEEDS))
def test_a_limit_counts_the_loss_of_a_feed_by_the_positions_on_it(feeds):
    platform = PLATFORM.replace("positions:\n", f"{feeds}positions:\n").replace(
        "PSU 1..2, takes: power-supply, must: true}",
        "PSU 1..3, takes: power-supply}",
    )
    is_the_best_of_all(stated(Conditions(feeds=2, circuit=Current.of("0.5")), platform, ONE_FAN))


@pytest.mark.slow
def test_where_the_loss_of_a_feed_stops_the_server_its_input_power_falls():
    # one of 130 W carries up to 130 W alone; above that, the loss of feed A stops the server, and
    # a cord carries less than just below
    platform = PLATFORM.replace("positions:\n", f"{ON_FEEDS[0]}positions:\n").replace(
        "PSU 1..2, takes: power-supply, must: true}",
        "PSU 1..3, takes: power-supply}",
    )
    parts = tuple(each.replace("300", "130") for each in ONE_FAN)
    is_the_best_of_all(stated(Conditions(feeds=2, circuit=Current.of("0.45")), platform, parts))


def is_the_best_of_all(definitions: Definitions) -> None:
    """Of each limit, against every sound build."""
    found: dict[str, list[Decimal]] = {key: [] for key in KEYS}
    for _, assembly, facts in sound_builds(definitions):
        for key in KEYS:
            if OBJECTIVES[key].fact == INPUT and facts.value(INPUT) is None:
                continue
            value = reached(OBJECTIVES[key], assembly, facts)
            found[key].append(value.amount if isinstance(value, Quantity) else Decimal(value))
    solver = Solver(definitions, definitions.platforms["small"])
    for key in KEYS:
        limit = limit_of(solver, OBJECTIVES[key])
        if not found[key]:
            assert limit.status in (Status.NOTHING, Status.UNDECLARED)
            continue
        best = max(found[key]) if OBJECTIVES[key].most else min(found[key])
        value = limit.value.amount if isinstance(limit.value, Quantity) else Decimal(limit.value)
        assert value == best, key
        assert limit.status is Status.PROVED, key


def test_what_is_asked_for_is_what_is_stated():
    at = STATED[0]
    definitions, asked = stated(ANYWHERE), stated(at)
    small = definitions.platforms["small"]
    one = limit_of(Solver(definitions, small, at), OBJECTIVES["power"])
    two = limit_of(Solver(asked, asked.platforms["small"]), OBJECTIVES["power"])
    free = limit_of(Solver(definitions, small), OBJECTIVES["power"])
    assert (one.value, one.status) == (two.value, two.status)
    assert free.value is not None
    assert one.value is not None
    assert one.build is not None
    assert free.value > one.value
    assert assemble(definitions, small, one.build, at).conditions.circuit == at.circuit
