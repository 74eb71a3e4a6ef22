"""What is proposed stands the checks, whatever conditions of room, rack, floor and circuit it is
asked for under: completed builds, the nearest builds, examples of limits."""

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest

from specgen.limits.limit_tables import table_of
from specgen.limits.nearest_builds import Proposal, completed, nearest
from specgen.limits.objectives import objectives_of
from specgen.load.decode import decode
from specgen.model import Build, Conditions, Definitions, Fill
from specgen.pipeline import Survey, case_of
from specgen.source import YamlMapping, read_tree
from tests.consistency.at_random import conditions
from tests.timing import first

PLATFORMS = ("pocket", "lantern", "beacon", "boathouse", "capstan")
QUICK = first(1, (("pocket", 4), ("lantern", 1)))
SEEDS = range(100, 106)
MOST_LIMITS = 3
SHARE = 0.2
"""How often each condition is stated: with many at once no build is left."""


@pytest.fixture(scope="module")
def definitions(demo: Survey) -> Definitions:
    assert demo.definitions is not None
    return demo.definitions


def _builds(definitions: Definitions, platform: str) -> list[Build]:
    return [each for each in definitions.builds.values() if each.platform == platform]


def _read_again(build: Build, text: str) -> Build:
    """A proposal as its file says it."""
    tree, problems = read_tree(text, "configured/proposal.yaml")
    assert problems == ()
    assert isinstance(tree, YamlMapping)
    again, problems = decode(Build, tree)
    assert again is not None, problems
    assert again.id
    return replace(build, fit=again.fit)


def _refused(
    definitions: Definitions, proposals: tuple[Proposal, ...], at: Conditions
) -> Iterator[str]:
    for each in proposals:
        for build in (each.build, _read_again(each.build, each.text)):
            case = case_of(definitions, build, at)
            assert case is not None
            yield from (
                f"{finding.code.id} {finding.message}"
                for finding in case.findings
                if finding.severity == "error"
            )
            assert case.sound


def _completed(definitions: Definitions, platform: str, seed: int) -> tuple[int, list[str]]:
    """A build with some of its parts gone, filled up again."""
    dice = random.Random(seed)
    whole = dice.choice(_builds(definitions, platform))
    lost = dice.sample(sorted(whole.fit), min(3, len(whole.fit)))
    left = replace(whole, volumes=(), fit={n: f for n, f in whole.fit.items() if n not in lost})
    at = conditions(dice, SHARE)
    made = completed(definitions, left, dice.choice(["parts", "power", "mass"]), None, at)
    found = () if made is None else (made,)
    return len(found), list(_refused(definitions, found, at))


def _nearest(definitions: Definitions, platform: str, seed: int) -> tuple[int, list[str]]:
    """A build with a part exchanged and another gone, and what comes near it."""
    dice = random.Random(seed)
    whole = dice.choice(_builds(definitions, platform))
    fit = dict(whole.fit)
    fit.pop(dice.choice(sorted(fit)))
    name = dice.choice(sorted(fit))
    old = definitions.parts[fit[name].part]
    kind = sorted(each.id for each in definitions.parts.values() if each.kind == old.kind)
    fit[name] = Fill(part=dice.choice(kind), to=fit[name].to)
    at = conditions(dice, SHARE)
    found = nearest(definitions, replace(whole, fit=fit), at=at)
    return len(found), list(_refused(definitions, found, at))


def _limits(definitions: Definitions, platform: str, seed: int) -> tuple[int, list[str]]:
    """The builds that reach some limits."""
    dice = random.Random(seed)
    keys = tuple(dice.sample(sorted(objectives_of(definitions)), MOST_LIMITS))
    at = conditions(dice, SHARE)
    found = table_of(definitions, definitions.platforms[platform], keys, at)
    builds = [each.build for each in found if each.build is not None]
    wrong = []
    for build in builds:
        case = case_of(definitions, build, at)
        assert case is not None
        wrong += [f"{f.code.id} {f.message}" for f in case.findings if f.severity == "error"]
        assert case.sound
    return len(builds), wrong


ASKED = (_completed, _nearest, _limits)


@pytest.mark.parametrize("ask", ASKED)
@pytest.mark.parametrize("case", QUICK)
def test_what_is_proposed_is_not_refused(definitions, ask, case):
    platform, seed = case
    proposed, wrong = ask(definitions, platform, seed)
    assert wrong == []
    assert proposed


@pytest.mark.slow
@pytest.mark.parametrize("ask", ASKED)
@pytest.mark.parametrize("platform", PLATFORMS)
def test_nothing_that_is_proposed_is_refused(definitions, ask, platform):
    proposed = 0
    for seed in SEEDS:
        count, wrong = ask(definitions, platform, seed)
        assert wrong == [], seed
        proposed += count
    assert proposed


def test_every_platform_is_asked(definitions):
    assert set(PLATFORMS) == set(definitions.platforms)
