"""A build that a buyer would take, in place of the first that shows what can be reached."""

from collections.abc import Callable, Iterable
from typing import Any, Final

from specgen.limits.build_text import fills_of
from specgen.limits.learnt import hold
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.solver import Goal
from specgen.limits.sums import BoolVar
from specgen.limits.tidiness import as_filled, in_order, uniform, untidy
from specgen.model import Drive, MemoryModule, Part

TIDY_WORK: Final = 0.25
"""Of the counted work for one run: a limit is proved before."""
SLACK: Final = 1
"""Parts more than the fewest at which a build is tidy enough."""


def tidied(
    solver: Solver,
    found: FoundBuild,
    name: str,
    where: Iterable[BoolVar] = (),
    hold_to: Callable[[Any], None] = lambda _: None,
    full: bool = False,
) -> FoundBuild:
    """A tidier build for which the same literals hold, and what `hold_to` tells the model.

    Of one model for each kind of part and with bays filled from the first on, if there is such a
    build, of one that must be `full` of parts one model for memory and drives alone; else of few.
    Where the counted work does not do for the tidiest, that is sought once more among builds that
    fill the same positions.
    """
    held, kinds = tuple(where), (MemoryModule, Drive) if full else (Part,)
    alike = True
    for polished in (False, True):
        model = solver.model(held, started=False)
        hold_to(model)
        hold(solver.builds, solver.learnt, model)
        if alike:
            uniform(solver.builds, model, kinds)
            in_order(solver.builds, model)
        if polished:
            as_filled(solver.builds, model, fills_of(found.build))
        goal = Goal(untidy(solver.builds, model), most=False, slack=SLACK, sums=False)
        for index, value in found.answer.holds.items():
            model.add_hint(model.get_int_var_from_proto_index(index), value)
        better = solver.seek(model, goal, name, work=TIDY_WORK)
        alike = isinstance(better, FoundBuild)
        if isinstance(better, FoundBuild):
            found = better
            if better.answer.value - better.answer.bound <= SLACK:
                break
    return found
