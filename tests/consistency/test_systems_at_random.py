"""What agrees in the demo agrees in projects that nobody wrote, and under any conditions."""

import os
import random
from decimal import Decimal
from pathlib import Path

import pytest

from specgen.diagnostics import Severity
from specgen.document.case import Case
from specgen.facts import Facts
from specgen.pipeline import Survey, case_of
from specgen.quantity import Quantity, Ratio, Temperature, Voltage
from tests.consistency.at_random import conditions, project_at_random
from tests.consistency.printed import Project
from tests.consistency.relations import RELATIONS
from tests.consistency.test_facts_agree import NEAR, NEVER_BELOW, SUMS, WAYS, amount, signed
from tests.consistency.test_values_agree import disagreeing, numbers_of
from tests.timing import first

FEW = (6, 28)
OF_DOCUMENTS = first(1, FEW)
MANY = range(40, 40 + int(os.environ.get("SPECGEN_SEEDS", "8")))


def contradictions(facts: Facts) -> list[str]:
    """What of the facts of one system contradicts itself."""
    found = []
    for greater, smaller in NEVER_BELOW:
        whole, part = amount(facts, greater), amount(facts, smaller)
        if whole is not None and part is not None and whole < part - abs(part) * NEAR:
            found.append(f"{greater} {whole} < {smaller} {part}")
    for total, *summands in SUMS:
        whole, parts = amount(facts, total), [signed(facts, each) for each in summands]
        if whole is not None and None not in parts:
            added = sum(each for each in parts if each is not None)
            if abs(whole - added) > abs(whole) * NEAR + NEAR:
                found.append(f"{total} {whole} is not the sum {added}")
    for both in WAYS:
        one, other = both(facts)
        if one is not None and other is not None and abs(one - other) > abs(one) * NEAR + NEAR:
            found.append(f"{both.__name__}: {one} and {other}")
    return found


def unjudged(case: Case) -> list[str]:
    """Values below nothing, shares of more than all, in a system of which nothing is said."""
    if any(each.severity is not Severity.NOTE for each in case.findings):
        return []
    below = {Temperature, Voltage}  # of which less than nothing can be
    return [
        f"{fact.key} is {fact.value}"
        for fact in case.facts.values()
        if (isinstance(fact.value, Ratio) and fact.value.fraction > 1)
        or (
            isinstance(fact.value, Quantity)
            and type(fact.value) not in below
            and fact.value.amount < 0
        )
        or (isinstance(fact.value, int | Decimal) and fact.value < 0)
    ]


def disagreements(project: Project, *languages: str) -> list[str]:
    """What of a project's documents is not its fact, or contradicts another."""
    found = [line for each in project.documents("en") for line in disagreeing(each)]
    found += [line for find in RELATIONS for each in project.documents("en") for line in find(each)]
    for tag in languages:
        for one, other in zip(project.documents("en"), project.documents(tag), strict=True):
            found += list(disagreeing(other))
            if numbers_of(one) != numbers_of(other):
                found.append(f"{one.name}: other values in {tag}")
    for case in project.cases.values():
        found += [f"{case.thing.id}: {line}" for line in contradictions(case.facts)]
    return found


@pytest.mark.parametrize("seed", OF_DOCUMENTS)
def test_documents_of_a_project_by_chance_print_the_facts(seed: int, tmp_path: Path) -> None:
    assert disagreements(project_at_random(seed, tmp_path), "de") == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_documents_of_many_projects_by_chance_print_the_facts(seed: int, tmp_path: Path) -> None:
    assert disagreements(project_at_random(seed, tmp_path), "de", "ja") == []


def _under_conditions(demo: Survey, seed: int) -> list[Case]:
    assert demo.definitions is not None
    dice = random.Random(seed)
    builds = sorted(demo.definitions.builds)
    made = []
    for name in builds if seed in MANY else dice.sample(builds, 4):
        case = case_of(demo.definitions, demo.definitions.builds[name], conditions(dice))
        assert case is not None
        made.append(case)
    return made


@pytest.mark.parametrize("seed", FEW)
def test_facts_agree_under_conditions_by_chance(demo: Survey, seed: int) -> None:
    for case in _under_conditions(demo, seed):
        found = contradictions(case.facts) + unjudged(case)
        assert found == [], (case.thing.id, case.assembly.conditions)


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_facts_of_all_builds_agree_under_conditions_by_chance(demo: Survey, seed: int) -> None:
    for case in _under_conditions(demo, seed):
        found = contradictions(case.facts) + unjudged(case)
        assert found == [], (case.thing.id, case.assembly.conditions)
