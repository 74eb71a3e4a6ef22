"""What the checks refuse, the solver knows beforehand: it proposes no build that they refuse, but
for values that cannot be, which it learns of from the first build that has one."""

import pytest

from specgen.limits.limit import limit_of
from specgen.limits.objectives import OBJECTIVES
from specgen.limits.solve import Solver
from tests.limits.small import platform
from tests.timing import first

KEYS = ("cores", "memory", "drives", "slots", "accelerators", "ports", "mass-least", "dc-load")


@pytest.mark.parametrize("seed", first(24, range(120)))
def test_no_build_is_proposed_that_the_checks_refuse(seed: int):
    definitions = platform(seed)
    solver = Solver(definitions, definitions.platforms["small"])
    for key in KEYS:
        limit = limit_of(solver, OBJECTIVES[key])
        assert limit.rounds <= 1 or solver.learnt, key
