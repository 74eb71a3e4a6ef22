"""What a judgement says of its value for the solver is true: it worsens with a sum, all else equal.

Seeded small machines, and the builds of the demo; each with one part less than it has.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import islice
from typing import Final

import pytest

from specgen.assembly import Assembly, assemble
from specgen.facts import Fact, Facts, facts_of
from specgen.fitness import field_of
from specgen.model import ANYWHERE, Conditions, Definitions, Part
from specgen.pipeline import Survey
from specgen.quantity import Current, Length, Mass, Pressure, Quantity, TemperatureDifference
from specgen.rules.judged import JUDGEMENTS
from specgen.rules.judgement import NOT_ABOVE_ONE, NOT_BELOW_ZERO, Judgement
from tests.limits.small import all_builds, platform
from tests.timing import first

ROWS: Final = tuple(row for row in JUDGEMENTS if row.grows_with)
STATED: Final = {
    "circuit": Current.of("0.6"),
    "rise": TemperatureDifference.of(12),
    "rack_load_rating": Mass.of(60),
    "floor_load_rating": Pressure.of("0.8", "kPa"),
    "rack_width": Length.of("0.6"),
    "rack_length": Length.of("1"),
    "rack_mass": Mass.of(20),
    "per_rack": 8,
}
SILENT: Final = (
    *("power.feed_kept", "power.uneven_share"),  # no feeds and no such assumption in these machines
    *("mechanics.rack_headroom", "mechanics.floor_headroom"),  # of all that has a mass, so of all
)
"""Rows of which these machines say nothing."""
SHOWN: Final = ("lantern-office", "capstan-eyes", "pocket-lamp-room")
SEEDS: Final = range(1, 13)
MOST_BUILDS: Final = first(1, (8, 40))


def _number(fact: Fact | None) -> object:
    value = None if fact is None else fact.value
    return value.amount if isinstance(value, Quantity) else value


def _no_worse(row: Judgement, one: Fact | None, other: Fact | None) -> bool:
    """Whether a value is as good as another, or has none, which is not judged."""
    first, second = _number(one), _number(other)
    if first is None or second is None:
        return True
    if row.must is NOT_BELOW_ZERO:
        return first >= second
    if row.must is NOT_ABOVE_ONE:
        return first <= second
    return row.must.kept(one.value, None) or not row.must.kept(other.value, None)


class System:
    """A build with its values, and with those that it has less one of its parts; for all rows."""

    def __init__(self, assembly: Assembly, at: Conditions = ANYWHERE) -> None:
        self.assembly, self.facts, self._at = assembly, facts_of(assembly), at
        self._less: dict[str, tuple[Assembly, Facts]] = {}

    def less(self, name: str) -> tuple[Assembly, Facts]:
        """Without what is in a position."""
        if name not in self._less:
            build, whole = self.assembly.build, self.assembly
            fewer = {key: fill for key, fill in build.fit.items() if key != name}
            smaller = assemble(
                whole.definitions, whole.platform, replace(build, fit=fewer), self._at
            )
            self._less[name] = smaller, facts_of(smaller)
        return self._less[name]

    def without_one(self, row: Judgement) -> Iterator[Facts]:
        """Its values less one of the parts on which the row says nothing else hangs."""
        assert self.assembly.build is not None
        for name in self.assembly.build.fit:
            place = self.assembly.places.get(name)
            part = None if place is None else place.part
            if part is None or any(field_of(part, field) is not None for field in row.among):
                continue
            smaller, facts = self.less(name)
            if _stating(smaller, row) == _stating(self.assembly, row):
                yield facts


def _stating(assembly: Assembly, row: Judgement) -> list[tuple[str, str]]:
    return sorted(
        (place.name, part.id)
        for place, part in assembly.fitted(Part)
        if any(field_of(part, field) is not None for field in row.among)
    )


def _holds(row: Judgement, system: System) -> int:
    """How often it was asked of a system, a part of which was taken out."""
    asked = 0
    for smaller in system.without_one(row):
        held, before = system.facts.value(row.grows_with), smaller.value(row.grows_with)
        if held is None or before is None or held < before:
            continue  # what takes its place weighs or draws more
        asked += 1
        assert _no_worse(row, smaller.get(row.fact), system.facts.get(row.fact)), (
            row.fact,
            system.assembly.build,
        )
    return asked


def _stated(definitions: Definitions) -> Definitions:
    project = definitions.project
    return replace(
        definitions, project=replace(project, conditions=replace(project.conditions, **STATED))
    )


@cache
def _machines(most: int) -> list[System]:
    """So many builds of each small machine."""
    return [
        System(assembly)
        for seed in SEEDS
        for _, assembly in islice(all_builds(_stated(platform(seed))), most)
    ]


@pytest.mark.parametrize("most", MOST_BUILDS)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.fact)
def test_a_part_more_never_makes_a_value_better_that_is_said_to_grow(row: Judgement, most: int):
    assert sum(_holds(row, each) for each in _machines(most)) or row.fact in SILENT


@pytest.fixture(scope="module")
def of_the_demo(demo: Survey) -> list[System]:
    definitions, at = demo.definitions, Conditions(feeds=2, **STATED)
    assert definitions is not None
    builds = [definitions.builds[name] for name in SHOWN]
    return [
        System(assemble(definitions, definitions.platforms[build.platform], build, at), at)
        for build in builds
    ]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.fact)
def test_it_holds_for_the_builds_of_the_demo(row: Judgement, of_the_demo: list[System]):
    for each in of_the_demo:
        _holds(row, each)
