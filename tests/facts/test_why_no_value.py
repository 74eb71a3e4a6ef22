"""A value that is not there is not declared, or does not apply: the two are told apart."""

import pytest

from specgen.facts import facts_of
from specgen.facts.fact_data import fact_record
from tests.facts.english import in_english
from tests.projects import base, edited, project

NOT_DECLARED, DOES_NOT_APPLY = "not declared", "does not apply"


def _said(files: dict[str, str], build: str, key: str) -> str:
    fact = facts_of(project(files).assemblies[build])[key]
    assert fact.value is None
    assert fact_record(fact).shown == in_english(fact.said)
    return in_english(fact.said)


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("accelerators.memory", DOES_NOT_APPLY),  # none is fitted
        ("mechanics.rails_fit", NOT_DECLARED),  # no rack is stated
        ("mechanics.rails_least", DOES_NOT_APPLY),  # no rails are fitted
        ("power.feed_kept", DOES_NOT_APPLY),  # one feed
        ("processors.CPU1.peak_single", NOT_DECLARED),  # of vector units nothing is said
        ("regulation.idle", NOT_DECLARED),  # nothing was measured
        ("noise.sound_power", NOT_DECLARED),  # fans that do not say how loud they are
        ("power.outlet_rating", NOT_DECLARED),
    ],
)
def test_what_this_system_does_not_have_is_not_called_undeclared(key: str, said: str) -> None:
    assert _said(base(), "lantern-small", key) == said


def test_a_field_that_every_part_leaves_out_is_not_declared() -> None:
    assert _said(base(), "lantern-full", "accelerators.memory") == NOT_DECLARED


def _with(supply: str, **edits: str) -> dict[str, str]:
    files = edited("configured/lantern-full.yaml", "PSU 1..2: supply-1300", f"PSU 1..2: {supply}")
    for old, new in edits.items():
        files["catalog/house.yaml"] = files["catalog/house.yaml"].replace(old, new)
    return files


def test_after_a_failure_that_overloads_what_is_left_there_is_no_efficiency() -> None:
    files = _with("supply-800")
    facts = facts_of(project(files).assemblies["lantern-full"])
    assert facts.value("power.maximum.efficiency") is not None
    for key in ("efficiency", "power_factor", "input", "current", "loss"):
        assert _said(files, "lantern-full", f"power.failure.{key}") == DOES_NOT_APPLY, key
    for key in ("power.input", "power.cord_current"):
        assert _said(files, "lantern-full", key) == DOES_NOT_APPLY, key


def test_a_load_that_no_point_of_the_curve_reaches_is_not_declared() -> None:
    files = _with("supply-600", **{"name: Supply 600 W,": f"name: Supply 600 W, curve: {HIGH},"})
    for key in ("power.idle.efficiency", "power.idle.power_factor", "power.idle.input"):
        assert _said(files, "lantern-full", key) == NOT_DECLARED, key


HIGH = "[{load: 0.9, efficiency: 0.9, power_factor: 0.95}, {load: 1, efficiency: 0.9}]"
