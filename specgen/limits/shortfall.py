"""How far any build comes to a value that a wish asks for, where none comes far enough."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from specgen.expressions import nodes
from specgen.expressions.read import Statement
from specgen.frozen import frozen
from specgen.limits.argument import Wished
from specgen.limits.conflict import FEW, beyond
from specgen.limits.limit import Limit, limit_of
from specgen.limits.near_wish import demands_of
from specgen.limits.objectives import INPUT, objectives_of
from specgen.limits.rule_encoding import NotLinear, sum_asked, truth_of
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.solver import Goal
from specgen.limits.sums import Sum
from specgen.messages import Words, say
from specgen.quantity import Quantity
from specgen.rules.declared.phrasing import value_in_words


@frozen
class Shortfall:
    """A comparison of a wish that no build meets, and the value beyond which none comes.

    `short` is by how much that falls short, in the unit that its quantity keeps.
    """

    node: nodes.Compare
    reached: Quantity | int
    short: Fraction
    limit: Limit | None = None
    """Where it is no sum."""
    rest: tuple[nodes.Expression, ...] = ()
    """What must hold beside, where each could be met without the other."""

    @property
    def of_few(self) -> bool:
        """Whether one sort of positions could hold all of it, were there a few more."""
        return isinstance(self.reached, int) and self.reached < FEW

    @property
    def words(self) -> Words:
        """What is asked for, and what there is."""
        words = say("{what}: no build has more than {reached}")
        if self.rest and self.node.order in ("<", "<="):
            words = say("{what}: no build that meets the rest has less than {reached}")
        elif self.rest:
            words = say("{what}: no build that meets the rest has more than {reached}")
        elif self.node.order in ("<", "<="):
            words = say("{what}: no build has less than {reached}")
        return words.filled(what=value_in_words(self.node.left), reached=self.reached)

    def wished(self, solver: Solver) -> Wished:
        """That a build comes beyond that: what rules that out rules out the wish."""
        rest = tuple(truth_of(solver.builds, each) for each in self.rest)
        if self.limit is not None:
            return replace(beyond(solver, self.limit), beside=rest)
        asked = sum_asked(solver.builds, self.node)
        assert asked is not None
        towards, _ = solver.whole(asked)
        short = Decimal(self.short.numerator) / self.short.denominator
        no_further = solver.logic.below_or_none(asked.plus(Sum((), short)))
        return Wished((no_further.negated(),), towards, rest)


def shortfall(solver: Solver, statement: Statement) -> Shortfall | None:
    """The first of the comparisons that must all hold that no build meets by itself, or else with
    the others."""
    parts = demands_of(statement.tree)
    found = [_of(solver, node) for node in parts]
    if len(parts) > 1 and not any(found):
        found = [
            _of(solver, node, (*parts[:index], *parts[index + 1 :]))
            for index, node in enumerate(parts)
        ]
    return next((each for each in found if each is not None), None)


def _of(
    solver: Solver, node: nodes.Expression, rest: tuple[nodes.Expression, ...] = ()
) -> Shortfall | None:
    if not isinstance(node, nodes.Compare) or not isinstance(node.right, nodes.PlainValue):
        return None
    wanted = node.right.value
    amount = wanted.amount if isinstance(wanted, Quantity) else wanted
    if not isinstance(amount, Decimal) or not isinstance(wanted, Quantity | Decimal):
        return None
    least = node.order in ("<", "<=")
    if isinstance(node.left, nodes.FactRef) and node.left.key == INPUT:
        objective = objectives_of(solver.definitions)["power-least" if least else "power"]
        with_rest = [truth_of(solver.builds, each) for each in rest]
        limit = limit_of(solver, objective, with_rest)
        bound = limit.bound
        if not isinstance(bound, Quantity):
            return None
        short = Fraction(bound.amount) - Fraction(amount)
        return _if_short(Shortfall(node, 0, short if least else -short, limit, rest), wanted)
    try:
        asked = sum_asked(solver.builds, node)
        held = [truth_of(solver.builds, each) for each in rest]
    except NotLinear:
        return None
    if asked is None or not asked.terms:
        return None
    expression, scale = solver.whole(asked)
    found = solver.seek(solver.model(held, started=False), Goal(expression))
    if not isinstance(found, FoundBuild) or not found.exact:
        return None
    return _if_short(Shortfall(node, 0, -Fraction(found.answer.bound) / scale, rest=rest), wanted)


def _if_short(found: Shortfall, wanted: Quantity | Decimal) -> Shortfall | None:
    """A shortfall with the value that is reached; None where it is none."""
    order, short = found.node.order, found.short
    if short < 0 or (short == 0 and order not in ("<", ">")):
        return None
    away = short if order in ("<", "<=") else -short
    if isinstance(wanted, Decimal):
        return replace(found, reached=int(Fraction(wanted) + away))
    exact = Fraction(wanted.amount) + away
    amount = Decimal(exact.numerator) / exact.denominator
    return replace(found, reached=type(wanted).of(amount).to(wanted.unit.symbol))
