"""Cards wider than the slots that lie side by side: the solver knows, and proposes none."""

from dataclasses import replace

import pytest

from specgen.limits.limit import Status, limit_of
from specgen.limits.objectives import OBJECTIVES
from specgen.limits.solve import Solver
from specgen.model import Accelerator, Definitions
from specgen.pipeline import Survey


def _with_cards(definitions: Definitions, places: int) -> Definitions:
    """A project whose accelerators all cover so many slots."""
    parts = {
        name: replace(part, places=places) if isinstance(part, Accelerator) else part
        for name, part in definitions.parts.items()
    }
    return replace(definitions, parts=parts)


@pytest.mark.parametrize(("places", "most"), [pytest.param(2, 4, marks=pytest.mark.slow), (3, 0)])
def test_what_is_too_wide_for_its_riser_is_never_proposed(demo: Survey, places: int, most: int):
    assert demo.definitions is not None
    definitions = _with_cards(demo.definitions, places)
    solver = Solver(definitions, definitions.platforms["capstan"])
    limit = limit_of(solver, OBJECTIVES["accelerators"])
    assert (limit.value, limit.status) == (most, Status.PROVED)
    assert limit.rounds == 1  # none was proposed that the checks refuse
