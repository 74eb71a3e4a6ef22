"""What limits propose under stated racks, floors and circuits passes the checks under the same."""

import shutil
from pathlib import Path
from typing import Final

import pytest

from specgen.cli.one_build import asked
from specgen.limits.limit_tables import table_of
from specgen.limits.objectives import objectives_of
from specgen.pipeline import Survey, case_of, read
from tests.timing import first

RACK: Final = ("circuit=16 A", "rise=15 K", "rack_units=42", "floor_load_rating=10 kN/m2")
STATED: Final = {
    # each with ratings that bind: lighter servers than the platform could be, or narrower fans
    "pocket": (*RACK, "rack_depth=600 mm", "rail_distance=450 mm", "rack_load_rating=9.5 kg"),
    "lantern": (*RACK, "rack_depth=900 mm", "rail_distance=700 mm", "rack_load_rating=440 kg"),
    "beacon": (*RACK, "rack_depth=1000 mm", "rail_distance=800 mm", "rack_load_rating=320 kg"),
    "boathouse": (*RACK, "rack_depth=1000 mm", "rail_distance=800 mm", "rack_load_rating=400 kg"),
    "capstan": (*RACK, "rack_depth=1000 mm", "rail_distance=940 mm", "rack_load_rating=240 kg"),
}
QUICK: Final = ("drives", "mass")
"""Objectives of the run that is not slow."""


def _example_builds_pass(demo: Survey, folder: Path, copy: Path, name: str, keys) -> None:
    definitions = demo.definitions
    assert definitions is not None
    at = asked(STATED[name])
    limits = table_of(definitions, definitions.platforms[name], keys, at)
    shutil.copytree(folder, copy)
    for limit in limits:
        assert limit.build is not None, limit.key
        path = copy / "configured" / f"{limit.build.id}.yaml"
        path.write_text(limit.text, encoding="utf-8")
    ids = {limit.build.id for limit in limits if limit.build is not None}
    changed = read(copy).definitions
    assert changed is not None
    for each in ids:
        case = case_of(changed, changed.builds[each])
        assert case is not None
        errors = [finding for finding in case.findings if finding.severity == "error"]
        assert errors == [], each
        conditions = case.assembly.conditions
        assert (conditions.circuit, conditions.rack_load_rating) == (
            at.circuit,
            at.rack_load_rating,
        )


@pytest.mark.parametrize("name", first(2, STATED))
def test_examples_pass_the_check_under_the_same_conditions(demo, demo_folder, tmp_path, name):
    _example_builds_pass(demo, demo_folder, tmp_path / "builds", name, QUICK)


@pytest.mark.slow
@pytest.mark.parametrize("name", STATED)
def test_all_examples_pass_the_check_under_the_same_conditions(demo, demo_folder, tmp_path, name):
    keys = tuple(objectives_of(demo.definitions))
    _example_builds_pass(demo, demo_folder, tmp_path / "builds", name, keys)


def test_every_platform_is_asked(demo):
    assert set(STATED) == set(demo.definitions.platforms)
