"""What the checks accept under conditions of room, rack, floor and circuit, the solver allows."""

from dataclasses import replace
from typing import Final

import pytest

from specgen.cli.one_build import asked
from specgen.limits.build_text import fills_of
from specgen.limits.nearest_builds import _held
from specgen.limits.solve import Solver
from specgen.limits.solver import Answer, run
from specgen.model import ANYWHERE, CONDITIONS, Build, Conditions, Definitions
from specgen.pipeline import Survey, case_of
from tests.rules.test_cables_by_hand import cabled

PLATFORMS: Final = ("pocket", "lantern", "beacon", "boathouse", "capstan")
ASKED: Final = (
    "",
    "rack_depth=800 mm;rail_distance=700 mm",
    "rack_depth=1200 mm",
    "floor_load_rating=5 kN/m2;rack_width=600 mm;rack_length=1000 mm",
    "rack_load_rating=300 kg;per_rack=4",
    "rack_units=10;per_rack=8",
    "rack_opening=430 mm",
    "circuit=10 A",
    "circuit=20 A;circuit_rule=nec;line=120 V",
    "outlet=C13",
    "line=400 V",
    "altitude=3000 m",
    "altitude=2000 m;inlet=25 degC",
    "inlet=35 degC",
    "rise=12 K;inlet=30 degC",
    "redundancy=1+1;feeds=2",
    "redundancy=2+2;feeds=2",
)
"""Conditions with bounds that some builds of the demo keep and others do not."""
QUICK: Final = (
    "pocket",
    ("inlet=35 degC", "circuit=20 A;circuit_rule=nec;line=120 V", "rise=12 K;inlet=30 degC"),
)


def _conditions(text: str) -> Conditions:
    return asked(tuple(text.split(";")) if text else ())


def _allowed(definitions: Definitions, build: Build, at: Conditions) -> bool:
    """Whether the model has an answer in which each position is filled as in a build."""
    stated = {name: getattr(at, name) for name in CONDITIONS if getattr(at, name) is not None}
    conditions = replace(build.conditions, **stated)
    platform = definitions.platforms[build.platform]
    solver, fills = Solver(definitions, platform, conditions, (), build.published), fills_of(build)
    held = [
        literal
        for name, fill in fills.items()
        if (literal := _held(solver, name, fill)) is not None
    ]
    empty = (seat.sits.negated() for seat in solver.free if seat.node.name not in fills)
    if len(held) < len(fills):
        return False
    return isinstance(run(solver.logic, solver.model([*held, *empty], started=False)), Answer)


def _judged(survey: Survey, platform: str, asked_for: tuple[str, ...]) -> list[tuple[str, str]]:
    """Each sound build under each of some conditions, with those that the model refuses."""
    definitions = survey.definitions
    assert definitions is not None
    builds = [each for each in definitions.builds.values() if each.platform == platform]
    sound, refused = set(), []
    for text in asked_for:
        at = _conditions(text)
        for build in builds:
            case = case_of(definitions, build, at)
            assert case is not None
            if case.sound:
                sound.add((text, build.id))
                if not _allowed(definitions, build, at):
                    refused.append((text, build.id))
    assert 0 < len(sound) < len(builds) * len(asked_for)  # the conditions part the builds
    return refused


def test_a_build_that_the_checks_accept_is_allowed(demo: Survey):
    assert _judged(demo, *QUICK) == []


@pytest.mark.slow
@pytest.mark.parametrize("platform", PLATFORMS)
def test_each_build_that_the_checks_accept_is_allowed(demo: Survey, platform: str):
    assert _judged(demo, platform, ASKED) == []


def test_every_platform_is_asked(demo: Survey):
    assert demo.definitions is not None
    assert set(PLATFORMS) == set(demo.definitions.platforms)


@pytest.mark.parametrize(
    ("to", "card", "sound"),
    [
        ("RISER.IN 1.C0", "card", True),
        ("RISER.IN 1.C0", "", True),  # a cable that waits for its card
        ("RISER.IN 1.C9", "card", False),
        ("RISER.CAGE.B", "card", False),
    ],
)
def test_where_a_cable_may_go_the_solver_lets_it(to: str, card: str, sound: bool):
    definitions = cabled(to, card).loaded.definitions
    assert definitions is not None
    build = definitions.builds["trial"]
    case = case_of(definitions, build)
    assert case is not None
    assert (case.sound, _allowed(definitions, build, ANYWHERE)) == (sound, sound)
