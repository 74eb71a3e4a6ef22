"""Declared rules as truths of the solver; what cannot be put so is left to the checker.

A value is a domain: what it may be, each with the literal under which it is that, and absent
otherwise. Counts and sums are sums. What a rule says of one part is known before solving.
"""

from collections.abc import Iterator
from contextlib import suppress
from decimal import Decimal
from functools import partial
from typing import Any, cast

from specgen.assembly import Assembly
from specgen.expressions import nodes, types
from specgen.expressions.evaluate import Evaluator, FittedPart
from specgen.facts import facts_of
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.input_power import DIVIDED, input_beyond, supply_choices
from specgen.limits.objectives import INPUT
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.sums import ONE, BoolVar, Sum
from specgen.limits.totals import TOTALS
from specgen.messages import Capital, Words, say
from specgen.model import Part
from specgen.quantity import Quantity
from specgen.rules.declared import CompiledRule, rule_book
from specgen.rules.declared.phrasing import statement_in_words

Domain = list[tuple[Any, BoolVar]]


class NotLinear(Exception):
    """A piece of a rule that the solver is not told."""


def rules_of(bare: Assembly, severities: tuple[str, ...] = ("error",)) -> Iterator[CompiledRule]:
    """The declared rules that hold for a platform on the day of its project; errors alone, or
    those of other `severities` too."""
    day = bare.definitions.project.date
    for rule in rule_book(bare.definitions).rules:
        covered = rule.scope == "part" or rule.covers(bare.platform)
        if rule.rule.severity in severities and covered and rule.in_force(day):
            yield rule


def state(builds: BuildModel) -> None:
    """Tells the solver the declared errors, but for those that it cannot be told."""
    for rule in rules_of(builds.bare):
        why = builds.logic.because(ReasonKind.RULE, partial(reason_of, rule))
        with why, suppress(NotLinear):
            for broken in breaches(builds, rule):
                builds.logic.never(*broken)


def reason_of(rule: CompiledRule) -> Reason:
    """A rule as a statement; one of a part says whose it is."""
    because = rule.rule.because
    words: Words = Capital(statement_in_words(rule)) if because is None else because.rstrip(".")
    if isinstance(rule.owner, Part):
        words = say("{part}: {statement}", part=rule.owner.name, statement=words)
    return Reason(ReasonKind.RULE, words, rule.at, rule.code.id)


def breaches(builds: BuildModel, rule: CompiledRule) -> list[list[BoolVar]]:
    """The ways to break a rule, each what then holds together. Raises `NotLinear`."""
    if rule.scope != "part":
        return [_RuleEncoder(builds, None).broken(rule)]
    owner = getattr(rule.owner, "id", "")
    seats = [seat for seat in builds.working(Part) if seat.part.id == owner]
    return [[seat.works, *_RuleEncoder(builds, seat).broken(rule)] for seat in seats]


def cases(builds: BuildModel, rule: CompiledRule) -> BoolVar:
    """Whether a rule's case arises: its part works, its condition holds. Raises `NotLinear`."""
    logic = builds.logic
    if rule.scope != "part":
        return _RuleEncoder(builds, None).arises(rule)
    owner = getattr(rule.owner, "id", "")
    return logic.either(
        logic.both([seat.works, _RuleEncoder(builds, seat).arises(rule)])
        for seat in builds.working(Part)
        if seat.part.id == owner
    )


def truth_of(builds: BuildModel, tree: nodes.Expression) -> BoolVar:
    """A statement about the system as a literal. Raises `NotLinear`."""
    return _RuleEncoder(builds, None).truth(tree)


def sum_asked(builds: BuildModel, node: nodes.Compare) -> Sum | None:
    """The sum that is nothing or more where a comparison holds, if it is one of a sum."""
    if not (_is_sum(node.left) or _is_sum(node.right)):
        return None
    return amount_asked(builds, node)


def amount_asked(builds: BuildModel, node: nodes.Compare) -> Sum:
    """The same of any two amounts: of a field of one part too, which counts nothing where it is
    absent. Raises `NotLinear`."""
    encoder = _RuleEncoder(builds, None)
    apart = encoder.amount(node.left).plus(encoder.amount(node.right), -1)
    return apart.times(-ONE) if node.order in ("<", "<=") else apart


class _RuleEncoder:
    """Reads the trees of one rule; `it` is where the part that declares it sits."""

    def __init__(self, builds: BuildModel, it: Seat | None) -> None:
        self.builds, self.logic, self.it = builds, builds.logic, it
        seated = None if it is None else FittedPart(it.node.place, it.part)
        self.evaluator = Evaluator(builds.bare, facts_of(builds.bare), seated)

    def broken(self, rule: CompiledRule) -> list[BoolVar]:
        must = self.truth(rule.must.tree)
        found = [must if rule.forbids else must.negated()]
        return found if rule.when is None else [self.truth(rule.when.tree), *found]

    def arises(self, rule: CompiledRule) -> BoolVar:
        return self.logic.TRUE if rule.when is None else self.truth(rule.when.tree)

    def truth(self, node: nodes.Expression) -> BoolVar:
        """The literal of a statement. Raises `NotLinear`."""
        logic = self.logic
        match node:
            case nodes.And():
                return logic.both([self.truth(each) for each in node.parts])
            case nodes.Or():
                return logic.either([self.truth(each) for each in node.parts])
            case nodes.Not():
                return self.truth(node.operand).negated()
            case nodes.Has():
                return logic.either(
                    seat.works for seat in self._members() if seat.part.id == node.part
                )
            case nodes.Placed(state="filled"):
                return logic.both([self.builds.works_at(name) for name in node.positions])
            case nodes.Placed(state="empty"):
                return logic.both([self.builds.works_at(name).negated() for name in node.positions])
            case nodes.Fold(how="any"):
                return logic.either(seat.works for seat in self._where(node, True))
            case nodes.Fold(how="all"):
                return logic.both([seat.works.negated() for seat in self._where(node, False)])
            case nodes.Compare():
                return self._compared(node)
            case nodes.Among():
                domain = self._domain(node.item)
                known = {choice.value for choice in node.choices}
                return logic.either(
                    literal for value, literal in domain if (value in known) is not node.negated
                )
        raise NotLinear

    def _members(self) -> Iterator[Seat]:
        """All that may work; closing parts, which rules count too, are refused elsewhere."""
        return (seat for seat in self.builds.seats.values() if not seat.part.closes)

    def _run(self, node: nodes.Fold) -> Iterator[tuple[Seat, Any]]:
        """The members that a run keeps, each with the value that it has for it."""
        over = node.over
        if not isinstance(over, nodes.Collection):
            raise NotLinear
        inner = (*node.conditions, *(() if node.value is None else (node.value,)))
        if not all(_of_one(each) for root in inner for each in nodes.walk(root)):
            raise NotLinear
        closing = self.builds.bare.definitions.parts.values()
        if any(part.closes and part.kind in over.kinds for part in closing):
            raise NotLinear
        for seat in self._members():
            if seat.part.kind not in over.kinds:
                continue
            items = {node.item: FittedPart(seat.node.place, seat.part)}
            self.evaluator.begin(self.evaluator.it)
            if all(self.evaluator.holds(each, items) for each in node.conditions):
                value = None if node.value is None else self.evaluator.value(node.value, items)
                yield seat, value

    def _where(self, node: nodes.Fold, truth: bool) -> list[Seat]:
        return [seat for seat, value in self._run(node) if (value is True) is truth]

    def _compared(self, node: nodes.Compare) -> BoolVar:
        if types.TypeSort.NOTHING in (node.left.type.sort, node.right.type.sort):
            raise NotLinear
        if isinstance(node.left, nodes.FactRef) and node.left.key == INPUT:
            return self._input(node)
        if _is_sum(node.left) or _is_sum(node.right):
            return self._sums(node.order, self.sum(node.left), self.sum(node.right))
        left, right = self._domain(node.left), self._domain(node.right)
        return self.logic.either(
            self.logic.both([one, two])
            for a, one in left
            for b, two in right
            if _holds(node.order, a, b)
        )

    def _input(self, node: nodes.Compare) -> BoolVar:
        """Input power against a value, where it is the higher the more the parts draw."""
        bound = None if _is_sum(node.right) else self._constant(node.right)
        known = all(each.rises and not each.without_feed for each in supply_choices(self.builds))
        if bound is None or not known or node.order in ("==", "!="):
            raise NotLinear
        most = node.order in (">", ">=")
        if node.order in (">=", "<="):  # as much is enough
            bound *= 1 - DIVIDED if most else 1 + DIVIDED
        return input_beyond(self.builds, TOTALS["power.load"](self.builds), bound, most)

    def _constant(self, node: nodes.Expression) -> Decimal | None:
        """A value that is the same in every build."""
        domain = self._domain(node)
        same = len(domain) == 1 and domain[0][1].index == self.logic.TRUE.index
        return _number(domain[0][0]) if same else None

    def _sums(self, order: str, left: Sum, right: Sum) -> BoolVar:
        logic, apart = self.logic, left.plus(right, -1)
        below = logic.below_or_none(apart)
        above = logic.below_or_none(apart.times(-ONE))
        match order:
            case "<=":
                return below
            case ">=":
                return above
            case ">":
                return below.negated()
            case "<":
                return above.negated()
            case "==":
                return logic.both([below, above])
        return logic.both([below, above]).negated()

    def sum(self, node: nodes.Expression) -> Sum:
        match node:
            case nodes.Fold(how="count"):
                return Sum(tuple((ONE, seat.works) for seat, _ in self._run(node)))
            case nodes.Fold(how="sum"):
                return Sum(
                    tuple(
                        (_number(value), seat.works)
                        for seat, value in self._run(node)
                        if value is not None
                    )
                )
            case nodes.Arithmetic(sign="+" | "-"):
                sign = 1 if node.sign == "+" else -1
                return self.sum(node.left).plus(self.sum(node.right), sign)
            case nodes.FactRef(key=key) if key in TOTALS and key != INPUT:
                return TOTALS[key](self.builds)
        constant = self._constant(node)
        if constant is None:
            raise NotLinear
        return Sum((), constant)

    def amount(self, node: nodes.Expression) -> Sum:
        """A sum, or the value that something is of those that it may be."""
        if _is_sum(node):
            return self.sum(node)
        if (constant := self._constant(node)) is not None:
            return Sum((), constant)
        return Sum(tuple((_number(value), literal) for value, literal in self._domain(node)))

    def _domain(self, node: nodes.Expression) -> Domain:
        if all(_of_one(each) for each in nodes.walk(node)):
            self.evaluator.begin(self.evaluator.it)
            value = self.evaluator.value(node)
            return [] if value is None else [(value, self.logic.TRUE)]
        match node:
            case nodes.Fold(how="min" | "max"):
                return self._extreme(node)
            case nodes.Attribute(of=nodes.PartIn(position=name), name=field):
                found = [
                    (_value(seat, field), seat.works)
                    for seat in self.builds.at_name(name)
                    if not seat.part.closes
                ]
                return [(value, literal) for value, literal in found if value is not None]
        raise NotLinear

    def _extreme(self, node: nodes.Fold) -> Domain:
        """The least or greatest value there is: the first in order that some member has."""
        groups: dict[Any, list[BoolVar]] = {}
        for seat, value in self._run(node):
            if value is not None:
                groups.setdefault(value, []).append(seat.works)
        found: Domain = []
        earlier: list[BoolVar] = []
        for value in sorted(groups, reverse=node.how == "max"):
            some = self.logic.either(groups[value])
            found.append((value, self.logic.both([some, *(e.negated() for e in earlier)])))
            earlier.append(some)
        return found


def _of_one(node: nodes.Expression) -> bool:
    """Whether a node asks nothing of the system but its circumstances, or one part of it."""
    asks = nodes.PartIn | nodes.Placed | nodes.Has | nodes.Collection | nodes.FactRef
    return not isinstance(node, asks)


def _is_sum(node: nodes.Expression) -> bool:
    return any(
        (isinstance(each, nodes.FactRef) and each.key in TOTALS)
        or (
            isinstance(each, nodes.Fold)
            and each.how in ("count", "sum")
            and isinstance(each.over, nodes.Collection)
        )
        for each in nodes.walk(node)
    )


def _number(value: Any) -> Decimal:
    if isinstance(value, Quantity):
        return value.amount
    if isinstance(value, Decimal):
        return value
    raise NotLinear


def _value(seat: Seat, field: str) -> Any:
    if field == "position":
        return seat.node.name
    if field == "soldered":
        return seat.node.fixed
    value = getattr(seat.part, field, None)
    return Decimal(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _holds(order: str, a: Any, b: Any) -> bool:
    match order:
        case "==":
            return bool(a == b)
        case "!=":
            return bool(a != b)
        case "<":
            return bool(a < b)
        case "<=":
            return bool(a <= b)
        case ">":
            return bool(a > b)
    return cast(bool, a >= b)
