"""A limit is the best of all builds: small systems with every build enumerated and checked."""

from decimal import Decimal

import pytest

from specgen.limits.limit import Amount, Status, limit_of, reached
from specgen.limits.objectives import INPUT, OBJECTIVES
from specgen.limits.solve import Solver
from specgen.quantity import Quantity
from tests.limits.small import platform, sound_builds
from tests.timing import first

SYSTEMS = 80


def number(value: Amount | None) -> Decimal:
    if isinstance(value, Quantity):
        return value.amount
    return Decimal(value or 0)


QUICK = 2
"""So many are tried with every run, all of them by CI."""
SEEDS = first(QUICK, range(SYSTEMS))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_limit_is_the_best_of_all_builds(seed):
    definitions = platform(seed)
    values: dict[str, list[Decimal]] = {key: [] for key in OBJECTIVES}
    for _, assembly, facts in sound_builds(definitions):
        for key, objective in OBJECTIVES.items():
            if objective.fact != INPUT or facts.value(INPUT) is not None:
                values[key].append(number(reached(objective, assembly, facts)))
    solver = Solver(definitions, definitions.platforms["small"])
    for key, objective in OBJECTIVES.items():
        found, limit = values[key], limit_of(solver, objective)
        if not found:
            assert limit.status in (Status.NOTHING, Status.UNDECLARED)
            continue
        extreme = max(found) if objective.most else min(found)
        assert number(limit.value) == extreme, key
        assert number(limit.bound) == extreme, key
        assert limit.status is Status.PROVED, key
