"""The valid builds nearest to a wish that no build meets."""

from collections.abc import Sequence
from contextlib import suppress
from decimal import Decimal
from fractions import Fraction
from typing import Final

from specgen.expressions import nodes
from specgen.expressions.evaluate import Evaluator
from specgen.expressions.read import Statement
from specgen.frozen import frozen
from specgen.limits.build_text import text_of
from specgen.limits.input_power import DIVIDED, input_beyond
from specgen.limits.limit import limit_of
from specgen.limits.objectives import INPUT, objectives_of
from specgen.limits.rule_encoding import NotLinear, amount_asked, truth_of
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.solver import Goal
from specgen.limits.sums import ONE, BoolVar, Sum
from specgen.limits.tidied import tidied
from specgen.limits.totals import TOTALS
from specgen.messages import Words, say
from specgen.model import Build
from specgen.quantity import Quantity

MOST_OFFERED: Final = 3
NAME: Final = "near"
LOAD: Final = "power.load"
"""What input power grows with."""


@frozen
class GivenUp:
    """A demand of a wish that a build does not meet, in the words of the wish; what it has of the
    value that is asked for, None where it is no amount or it has none."""

    text: str
    has: Quantity | Decimal | int | None

    @property
    def words(self) -> Words:
        """As a sentence without its end."""
        if self.has is None:
            return say("{demand} is not met", demand=self.text)
        return say("{demand} is not met (reached: {value})", demand=self.text, value=self.has)


@frozen
class NearBuild:
    """A valid build that meets a wish but for what is given up.

    `missing` is what it lacks of each demand, nothing where it meets it.
    """

    build: Build
    text: str
    given_up: tuple[GivenUp, ...]
    missing: tuple[Fraction, ...]


def demands_of(tree: nodes.Expression) -> tuple[nodes.Expression, ...]:
    """What must all hold for a wish to be met."""
    return tuple(tree.parts) if isinstance(tree, nodes.And) else (tree,)


def near_wish(solver: Solver, statement: Statement) -> tuple[NearBuild, ...]:
    """The valid builds nearest to a wish that no build meets.

    One demand after the other is the last to be looked at: all others are met, or come as near as
    can be, before it does. None is offered that lacks as much of each demand as another. A build
    that has nothing of what is wished is near to nothing.
    """
    demands = demands_of(statement.tree)
    orders = (
        (*demands[:index], *demands[index + 1 :], demands[index])
        for index in range(len(demands))[:MOST_OFFERED]
    )
    ways = (_in_order(solver, order) for order in orders)
    found = [_offered(solver, statement, *way) for way in ways if way is not None]
    near: list[NearBuild] = []
    for each in sorted((e for e in found if e is not None), key=lambda each: len(each.given_up)):
        lesser = (zip(other.missing, each.missing, strict=True) for other in near)
        if not any(all(a <= b for a, b in pairs) for pairs in lesser):
            near.append(each)
    return tuple(near)


def _in_order(
    solver: Solver, demands: Sequence[nodes.Expression]
) -> tuple[FoundBuild, tuple[BoolVar, ...]] | None:
    """A build that comes as near as it can to one demand after the other, and what then holds."""
    *first, last = demands
    held = [truth_of(solver.builds, each) for each in first]
    closest = _closest(solver, last, held)
    if closest is not None:  # where all but the last can be met, a run is enough
        return closest[0], (*held, closest[1])
    best: FoundBuild | None = None
    held = []
    for demand in demands:
        truth = truth_of(solver.builds, demand)
        meets = solver.seek(solver.model((*held, truth), started=False), solver.fewest, NAME)
        if isinstance(meets, FoundBuild):
            best = meets
            held.append(truth)
        elif (closest := _closest(solver, demand, held)) is not None:
            best = closest[0]
            held.append(closest[1])
    return None if best is None else (best, tuple(held))


def _offered(
    solver: Solver, statement: Statement, found: FoundBuild, held: Sequence[BoolVar]
) -> NearBuild | None:
    """A build as it is offered; None where it has nothing of what is wished."""
    tidy = tidied(solver, found, NAME, held)
    evaluator = Evaluator(tidy.assembly, tidy.facts)
    demands = demands_of(statement.tree)
    missing = tuple(_missing(evaluator, each) for each in demands)
    given_up = tuple(
        GivenUp(statement.cut(each), _has(evaluator, each))
        for each, lack in zip(demands, missing, strict=True)
        if lack
    )
    if len(given_up) == len(demands) and not any(_number(each.has) for each in given_up):
        return None
    return NearBuild(tidy.build, text_of(tidy.build, solver.at), given_up, missing)


def _closest(
    solver: Solver, demand: nodes.Expression, held: Sequence[BoolVar]
) -> tuple[FoundBuild, BoolVar] | None:
    """The build that comes closest to a demand where some literals hold, and that one is as close;
    None where the demand is for no amount, or no build is found."""
    if not isinstance(demand, nodes.Compare):
        return None
    if isinstance(demand.left, nodes.FactRef) and demand.left.key == INPUT:
        return _closest_input(solver, demand, held)
    with suppress(NotLinear):
        sides = _sides(solver, demand)
        found = [each for each in (_at_least(solver, *side, held) for side in sides) if each]
        if found:
            _, build, as_close = min(found, key=lambda each: each[0])
            return build, as_close
    return None


def _sides(solver: Solver, demand: nodes.Compare) -> tuple[tuple[Sum, tuple[BoolVar, ...]], ...]:
    """What is missing to a demand, and what holds where it is as much. Raises `NotLinear`.

    What shall be as much as something can be below it or above.
    """
    over = amount_asked(solver.builds, demand)
    missing, below = over.times(-ONE), solver.logic.below_or_none
    match demand.order:
        case "==":
            return (missing, (below(over),)), (over, (below(missing),))
        case "!=":
            return ()
    return ((missing, ()),)


def _at_least(
    solver: Solver, missing: Sum, where: Sequence[BoolVar], held: Sequence[BoolVar]
) -> tuple[Fraction, FoundBuild, BoolVar] | None:
    """The least that is missing, the build for it, and that no more is missing."""
    expression, scale = solver.whole(missing)
    model = solver.model((*held, *where), started=False)
    found = solver.seek(model, Goal(expression, most=False), NAME)
    if not isinstance(found, FoundBuild):
        return None
    least = Fraction(found.answer.value) / scale
    reached = Decimal(least.numerator) / least.denominator
    as_close = solver.logic.below_or_none(missing.plus(Sum((), reached), -1))
    return least, found, solver.logic.both((*where, as_close))


def _closest_input(
    solver: Solver, demand: nodes.Compare, held: Sequence[BoolVar]
) -> tuple[FoundBuild, BoolVar] | None:
    """The same for input power, which is no sum."""
    most = demand.order in (">", ">=")
    objective = objectives_of(solver.definitions)["power" if most else "power-least"]
    limit = limit_of(solver, objective, held)
    if not isinstance(limit.value, Quantity):
        return None
    value = limit.value.amount * (1 - DIVIDED if most else 1 + DIVIDED)
    as_close = input_beyond(solver.builds, TOTALS[LOAD](solver.builds), value, most)
    found = solver.seek(solver.model((*held, as_close), started=False), solver.fewest, NAME)
    return (found, as_close) if isinstance(found, FoundBuild) else None


def _has(evaluator: Evaluator, demand: nodes.Expression) -> Quantity | Decimal | int | None:
    """What a system has of the amount that a demand is about, if it is about one."""
    if not isinstance(demand, nodes.Compare):
        return None
    written_first = isinstance(demand.left, nodes.PlainValue)
    has = evaluator.value(demand.right if written_first else demand.left)
    known = isinstance(has, Quantity | Decimal | int) and not isinstance(has, bool)
    return has if known else None


def _missing(evaluator: Evaluator, demand: nodes.Expression) -> Fraction:
    """How far a system is from a demand: one where it is about no amount that it has."""
    if evaluator.holds(demand):
        return Fraction(0)
    if _has(evaluator, demand) is None or not isinstance(demand, nodes.Compare):
        return Fraction(1)
    one, two = (_number(evaluator.value(each)) for each in (demand.left, demand.right))
    return Fraction(abs(one - two)) or Fraction(1)


def _number(has: Quantity | Decimal | int | None) -> Decimal:
    return has.amount if isinstance(has, Quantity) else Decimal(has or 0)
