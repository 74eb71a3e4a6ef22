"""What a condition comes to on one system.

Pure and total: the value of a tree depends on the system alone, nothing raises but the budget,
and since no step changes anything, the order of the steps does not matter.

What is absent (a field that is not declared, the part of an empty position) is None. None never
compares: `==`, `!=`, `<`, `in` and `not in` are all False beside it, unless the rule writes
`None` itself. In sums and the like it is left out; arithmetic with it is None.
"""

from collections.abc import Iterator, Mapping
from dataclasses import field
from decimal import Decimal
from typing import Any, Final, Protocol

from specgen.assembly import Assembly, Place, State
from specgen.expressions import nodes
from specgen.expressions.types import TypeSort
from specgen.frozen import frozen, state
from specgen.model import Part
from specgen.quantity import Quantity
from specgen.quantity.printing import InWords
from specgen.quantity.units import EXACT

MOST_STEPS: Final = 50_000
"""Steps of one expression on one system, at about 1 µs each; the demo's dearest rule takes 174."""


class TooLong(Exception):
    """A condition takes more steps on a system than a check may take."""


@frozen
class FittedPart:
    """A part in a position."""

    place: Place
    part: Part


def working(assembly: Assembly) -> Iterator[FittedPart]:
    """Every part that works in its position, and what closes positions, in their order."""
    for place in assembly.places.values():
        part = place.part if place.filled else place.closed_by
        if part is not None:
            yield FittedPart(place, part)


class Values(Protocol):
    """The values of facts by key; None where one has none."""

    def value(self, key: str, /) -> Any: ...


Bindings = Mapping[str, Any]
NO_BINDINGS: Final[Bindings] = {}


@state
class Evaluator:
    """Works expressions out on one system.

    `it` is the part that an expression on a part speaks of, `subject` what stands for the braces
    in keys of facts. What the system is asked for goes through the methods `fact`, `condition`,
    `field`, `position` and `counted`, so that a subclass can watch it.
    """

    assembly: Assembly
    facts: Values
    it: FittedPart | None = None
    subject: str = ""
    steps: int = 0
    _members: dict[tuple[str, ...], tuple[FittedPart, ...]] = field(default_factory=dict)

    def begin(self, it: FittedPart | None = None) -> None:
        """Starts on another rule, with all steps to go."""
        self.it, self.steps = it, 0

    def holds(self, node: nodes.Expression, items: Bindings = NO_BINDINGS) -> bool:
        """Whether a statement holds."""
        return self.value(node, items) is True

    def value(self, node: nodes.Expression, items: Bindings = NO_BINDINGS) -> Any:
        """The value of any node: None where it is absent. Raises `TooLong`."""
        self.steps += 1
        if self.steps > MOST_STEPS:
            raise TooLong
        match node:
            case nodes.PlainValue():
                return node.value
            case nodes.And():
                return all(self.holds(each, items) for each in node.parts)
            case nodes.Or():
                return any(self.holds(each, items) for each in node.parts)
            case nodes.Not():
                return not self.holds(node.operand, items)
            case nodes.Compare():
                return self._compared(node, items)
            case nodes.Among():
                item = self.value(node.item, items)
                found = any(item == choice.value for choice in node.choices)
                return item is not None and found is not node.negated
            case nodes.Contains():
                item = self.value(node.item, items)
                entries = self.value(node.entries, items)
                if item is None or entries is None:
                    return False
                return (item in map(_plain, entries)) is not node.negated
            case nodes.Fold():
                return self._folded(node, items)
            case nodes.Arithmetic():
                return _joined(
                    node.sign, self.value(node.left, items), self.value(node.right, items)
                )
            case nodes.Negative():
                operand = self.value(node.operand, items)
                return None if operand is None else -operand
            case nodes.Attribute() | nodes.Subscript():
                return self._stepped(node, items)
        return self._asked(node, items)

    def _stepped(self, node: nodes.Expression, items: Bindings) -> Any:
        """The value at the end of several steps, each a field or an entry of the one before."""
        path: list[str | int] = []
        while isinstance(node, nodes.Attribute | nodes.Subscript):
            path.insert(0, node.name if isinstance(node, nodes.Attribute) else node.key)
            node = node.of
        self.steps += len(path) - 1
        return self.field(self.value(node, items), tuple(path))

    def _asked(self, node: nodes.Expression, items: Bindings) -> Any:
        """The value of what the system, its facts and its circumstances give."""
        match node:
            case nodes.LoopVariable():
                return items[node.name]
            case nodes.It():
                return self.it
            case nodes.OfPlatform():
                return self.assembly.platform
            case nodes.ConditionRef():
                return self.condition(node.name)
            case nodes.FactRef():
                head, brace, tail = node.key.partition("{")
                return self.fact(head + self.subject + tail.partition("}")[2] if brace else head)
            case nodes.PartIn():
                self.position(node.position)
                return self.fitted_part(node.position)
            case nodes.Placed():
                return self._placed(node)
            case nodes.Has():
                return any(True for _ in self.holding(node.part))
            case nodes.Collection():
                return self.members(node.kinds)
        raise AssertionError(node)

    def fact(self, key: str) -> Any:
        """The value of a fact."""
        return _plain(self.facts.value(key))

    def condition(self, name: str) -> Any:
        """A circumstance of the system."""
        return _plain(getattr(self.assembly.conditions, name))

    def field(self, holder: Any, path: tuple[str | int, ...]) -> Any:
        """What stands at `path` of a part, of the platform, or of an entry of a list."""
        for step in path:
            holder = step_of(holder, step)
        return holder

    def position(self, name: str) -> None:
        """Told of a position of which is asked what sits in it."""

    def counted(self, member: FittedPart) -> None:
        """Told of a part that is counted."""

    def fitted_part(self, position: str) -> FittedPart | None:
        """The working part in a position."""
        place = self.assembly.places.get(position)
        part = place.part if place is not None and place.filled else None
        return None if place is None or part is None else FittedPart(place, part)

    def members(self, kinds: tuple[str, ...]) -> tuple[FittedPart, ...]:
        """All working parts of these kinds, in the order of positions; those that close too."""
        if kinds not in self._members:
            wanted = frozenset(kinds)
            self._members[kinds] = tuple(each for each in self._working if each.part.kind in wanted)
        return self._members[kinds]

    @property
    def _working(self) -> tuple[FittedPart, ...]:
        return self.assembly.once(working, lambda: tuple(working(self.assembly)))

    def holding(self, part: str) -> Iterator[FittedPart]:
        """Where a part of this name works."""
        return (each for each in self._working if each.part.id == part)

    def chosen(
        self, node: nodes.Fold, items: Bindings = NO_BINDINGS
    ) -> Iterator[tuple[Any, Bindings]]:
        """The members that a fold is about, each with the names that its value is read with."""
        for member in self.value(node.over, items) or ():
            self.steps += 1
            inner = {**items, node.item: member} if node.item else items
            if all(self.holds(each, inner) for each in node.conditions):
                if node.value is None and isinstance(member, FittedPart):
                    self.counted(member)
                yield member, inner

    def _folded(self, node: nodes.Fold, items: Bindings) -> Any:
        chosen = self.chosen(node, items)
        if node.value is None:
            return Decimal(sum(1 for _ in chosen))
        values = (self.value(node.value, inner) for _, inner in chosen)
        match node.how:
            case "any":
                return any(value is True for value in values)
            case "all":
                return all(value is True for value in values)
        known = [value for value in values if value is not None]
        if node.how == "sum":
            total = _nothing(node)
            for value in known:
                total = _joined("+", total, value)
            return total
        best = min if node.how == "min" else max
        return best(known, default=None)

    def _placed(self, node: nodes.Placed) -> bool:
        for name in node.positions:
            self.position(name)
        places = [self.assembly.places.get(name) for name in node.positions]
        filled = [place is not None and place.filled for place in places]
        match node.state:
            case "filled":
                return all(filled)
            case "empty":
                return not any(filled)
            case "usable":
                usable = (State.FILLED, State.EMPTY)
                return all(place is not None and place.state in usable for place in places)

    def _compared(self, node: nodes.Compare, items: Bindings) -> bool:
        left, right = self.value(node.left, items), self.value(node.right, items)
        asks = TypeSort.NOTHING in (node.left.type.sort, node.right.type.sort)
        if not asks and (left is None or right is None):
            return False
        return compared(node.order, left, right)


def compared(order: nodes.Comparator, left: Any, right: Any) -> bool:
    """Whether one value is to another what a comparison says."""
    match order:
        case "==":
            return bool(left == right)
        case "!=":
            return bool(left != right)
        case _ if type(left) is not type(right):
            return False  # a part of a kind that the position does not take
        case "<":
            return bool(left < right)
        case "<=":
            return bool(left <= right)
        case ">":
            return bool(left > right)
        case ">=":
            return bool(left >= right)


def _nothing(node: nodes.Fold) -> Any:
    quantity = node.type.quantity
    return Decimal(0) if quantity is None else quantity.of(0)


def _plain(value: Any) -> Any:
    """A value of the model as rules see it: whole numbers are exact decimals like all others."""
    if isinstance(value, int) and not isinstance(value, bool):
        return Decimal(value)
    if isinstance(value, tuple):
        return tuple(map(_plain, value))
    return str(value) if isinstance(value, InWords) else value


def step_of(holder: Any, step: str | int) -> Any:
    """The field of what a name stands for, or the entry of a table."""
    if isinstance(holder, Mapping):
        return _plain(holder.get(step))
    if isinstance(holder, FittedPart):
        match step:
            case "position":
                return holder.place.name
            case "soldered":
                return holder.place.how == "fixed"
        holder = holder.part
    return None if holder is None else _plain(getattr(holder, str(step), None))


def _joined(sign: nodes.Sign, left: Any, right: Any) -> Any:
    if left is None or right is None:
        return None
    if isinstance(left, Quantity) or isinstance(right, Quantity):
        left, right = (left, right) if isinstance(left, Quantity) else (right, left)
        match sign:
            case "+":
                return left + right
            case "-":
                return left - right
            case "*":
                return left * right
        by = right.amount if isinstance(right, Quantity) else right
        return left / right if by else None
    match sign:
        case "+":
            return EXACT.add(left, right)
        case "-":
            return EXACT.subtract(left, right)
        case "*":
            return EXACT.multiply(left, right)
    return EXACT.divide(left, right) if right else None
