"""What the supplies connect to, as an input of calculators."""

from functools import partial
from typing import Any

from specgen.facts.fact import Rests, Trail
from specgen.facts.inputs import Condition, Context
from specgen.frozen import frozen


@frozen
class Line:
    """The voltage of the line, and whether it is AC or DC."""

    def read(self, context: Context) -> tuple[Any, Rests]:
        _, volts = Condition("line").read(context)
        value, said = Condition("line_type").read(context)
        rests = (volts, said) if value is not None else (volts,)
        return context.assembly.conditions.supply_line, partial(_trail_of, rests)


def _trail_of(rests: tuple[Rests, ...]) -> Trail:
    return tuple(entry for rest in rests for entry in (rest() if callable(rest) else rest))
