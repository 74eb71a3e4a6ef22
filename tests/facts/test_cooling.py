"""Fans and inlet limits of systems, and laws of air."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts.calculators.cooling import class_limit, derated
from specgen.facts.calculators.heat import density, flow, pressure_at
from specgen.pipeline import Survey
from specgen.quantity import Length, Power, Temperature, TemperatureDifference, VolumeFlow
from tests.facts.english import in_english
from tests.facts.systems import calculated

CATALOG = """
- {kind: fan, id: weak, name: Weak, source: {document: f}, form: fan-40, airflow: 20 CFM}
- {kind: fan, id: strong, name: Strong, source: {document: f}, form: fan-40, airflow: 40 CFM}
- {kind: fan, id: silent, name: Silent, source: {document: f}, form: fan-40}
- {kind: heat-sink, id: sink, name: Sink, source: {document: h}, socket: tern-a, tdp_limit: 300 W,
   needs: [{part: strong, count: 5}]}
- {kind: bezel, id: mat, name: Mat, source: {document: b}, inlet_limit: 30 degC}
- {kind: bezel, id: mesh, name: Mesh, source: {document: b}, inlet_limit: 38 degC}
"""
POSITIONS = (
    "  - {name: CPU1, takes: processor}\n"
    "  - {name: CPU2, takes: processor, needs: [{position: FAN 3..4}]}\n"
    "  - {name: FAN 1..2, takes: fan, must: true}\n  - {name: FAN 3..6, takes: fan}\n"
    "  - {name: HS, takes: heat-sink}\n  - {name: BEZEL 1..3, takes: bezel}\n"
)


def system(*fit: str, conditions: str = "{}"):
    lines = "\n".join(f"  {line}" for line in ("CPU1: processor", *fit))
    return calculated(POSITIONS, lines, catalog=CATALOG, conditions=conditions)


@pytest.mark.parametrize(
    ("fit", "needed"),
    [
        ((), 2),
        (("CPU2: processor",), 4),
        (("HS: sink",), 5),
        (("CPU2: processor", "HS: sink"), 5),
    ],
)
def test_fans_needed_follow_positions_and_needs(fit, needed):
    assert system("FAN 1..2: weak", *fit).value("cooling.fans_needed") == needed


def test_one_fan_lost_is_the_strongest():
    facts = system("FAN 1: weak", "FAN 2: strong", "FAN 3: weak")
    assert facts.value("cooling.fans") == 3
    assert facts.value("cooling.fans_left") == 2
    assert facts.value("cooling.airflow") == VolumeFlow.of(80, "CFM")
    assert facts.value("cooling.airflow_left") == VolumeFlow.of(40, "CFM")


def test_a_fan_that_declares_no_airflow_leaves_no_sum():
    facts = system("FAN 1: weak", "FAN 2: silent")
    assert facts.value("cooling.airflow") is None
    assert facts.value("cooling.airflow_left") is None


def test_a_system_without_fans_moves_no_air():
    facts = system()
    assert facts.value("cooling.fans") == facts.value("cooling.fans_left") == 0
    assert facts.value("cooling.airflow") is None


def test_the_last_fan_leaves_none_when_it_fails():
    facts = system("FAN 1: weak")
    assert facts.value("cooling.airflow_left") == VolumeFlow.of(0)
    assert facts.value("cooling.airflow_share") is None


@pytest.mark.parametrize(
    ("fit", "altitude", "limit", "named"),
    [
        ((), 0, "35", ("class A2 at 0 m",)),
        ((), 1500, "33", ("class A2 at 1500 m",)),
        (("BEZEL 1: mesh",), 0, "35", ("class A2 at 0 m",)),
        (("BEZEL 1: mat",), 0, "30", ("Mat in BEZEL 1",)),
        (("BEZEL 1: mat",), 3000, "28", ("class A2 at 3000 m",)),
        (("BEZEL 1..2: mat", "BEZEL 3: mesh"), 0, "30", ("Mat in BEZEL 1 to 2",)),
    ],
)
def test_the_inlet_limit_is_the_least_and_says_whose_it_is(fit, altitude, limit, named):
    facts = system(*fit, conditions=f"{{altitude: {altitude} m}}")
    assert facts.value("cooling.inlet_limit") == Temperature.of(limit)
    assert in_english(facts.value("cooling.inlet_limit_by")) == named
    assert facts.value("cooling.inlet_margin") == Temperature.of(limit) - Temperature.of(25)


def test_above_the_highest_elevation_no_limit_is_stated():
    facts = system("BEZEL 1: mat", conditions="{altitude: 4000 m}")
    assert facts.value("cooling.inlet_limit") is None
    assert facts.value("cooling.inlet_limit_by") is None


metres = st.integers(0, 3050)
classes = st.sampled_from(["A1", "A2", "A3", "A4"])
degrees = st.integers(0, 45)


@given(classes, metres, metres)
def test_more_altitude_never_raises_the_inlet_limit(name, one, other):
    low, high = sorted((one, other))
    assert class_limit(name, Length.of(high)) <= class_limit(name, Length.of(low))
    assert derated(name, Length.of(high)) == class_limit(name, Length.of(high))


@given(st.integers(1, 5000), degrees, st.integers(1, 40), metres, metres)
def test_more_altitude_never_lowers_the_airflow_needed(watts, inlet, rise, one, other):
    low, high = sorted((one, other))
    flows = [
        flow(
            Power.of(watts),
            density(pressure_at(Length.of(height)), Temperature.of(inlet)),
            TemperatureDifference.of(rise),
        )
        for height in (low, high)
    ]
    assert flows[0] <= flows[1]


@given(st.integers(1, 5000), st.integers(1, 5000), degrees, st.integers(1, 40))
def test_more_heat_and_less_rise_never_need_less_air(one, other, inlet, rise):
    air = density(Decimal(101325), Temperature.of(inlet))
    low, high = (
        flow(Power.of(watts), air, TemperatureDifference.of(rise)) for watts in sorted((one, other))
    )
    assert low <= high
    assert flow(Power.of(one), air, TemperatureDifference.of(rise + 1)) < flow(
        Power.of(one), air, TemperatureDifference.of(rise)
    )


def test_every_demo_build_has_the_fans_it_needs_and_a_limit_above_its_inlet(demo: Survey):
    for name, case in demo.cases.items():
        facts = case.facts
        assert facts.value("cooling.fans") >= facts.value("cooling.fans_needed") > 0, name
        assert facts.value("cooling.inlet_margin").amount >= 0, name
        assert facts.value("cooling.airflow_needed") < facts.value("cooling.airflow"), name
