"""Comparisons in declared rules that come to the same whatever is fitted: a power of ten too many,
a sign turned round, a part of another platform.

A rule may well be made for parts to come. So a number is doubted only where it lies far beyond all
parts that are there, or where a rule demands what none of them reaches.
"""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from functools import lru_cache
from operator import attrgetter
from typing import Any, Final, NamedTuple

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.expressions import nodes
from specgen.expressions.evaluate import compared, step_of
from specgen.expressions.read import Statement
from specgen.facts.rule_book import CompiledRule, rule_book
from specgen.fitness import field_of
from specgen.messages import AsWritten, Message, Naming, say
from specgen.model import Definitions, Part, Platform, Position
from specgen.model.conditions import BOUNDS
from specgen.quantity import Quantity, Temperature, TemperatureDifference, Voltage
from specgen.rules.definitions.contradicting.contradiction import expanded
from specgen.rules.definitions.unmet import ASKED

ENOUGH: Final = 3
"""So many parts, or platforms, tell what there is."""
FAR: Final = 2
"""So many times the greatest, or a part of the least, is no part to come."""
TEMPERATURES: Final = (Temperature, TemperatureDifference)
_TURNED: Final[Mapping[nodes.Comparator, nodes.Comparator]] = {
    "<": ">",
    "<=": ">=",
    ">": "<",
    ">=": "<=",
    "==": "==",
    "!=": "!=",
}
Bound = Mapping[str, tuple[Any, ...]]
"""What the names of a condition may stand for."""
_ASKED_OF: Final = attrgetter(*ASKED)


def idle_conditions(definitions: Definitions) -> Iterator[Finding]:
    """SG228: comparisons of rules that nothing can make another, parts that go nowhere there."""
    for rule in rule_book(definitions).rules:
        judge = _Judge(definitions, rule)
        for statement in rule.statements:
            needed = statement is rule.must and not rule.forbids
            yield from judge.within(statement, statement.tree, {}, needed=needed)


class _Range(NamedTuple):
    """What an operand can come to."""

    values: tuple[Any, ...]
    sure: bool = True
    """Whether nothing lies beyond: a condition's own limits, numbers of positions."""


class _Judge:
    """One rule, and the platforms that it may concern."""

    def __init__(self, definitions: Definitions, rule: CompiledRule) -> None:
        self.definitions = definitions
        self.rule = rule
        self.platforms = tuple(each for each in definitions.platforms.values() if rule.covers(each))

    def within(
        self, said: Statement, node: nodes.Expression, items: Bound, *, needed: bool
    ) -> Iterator[Finding]:
        """What a tree holds; `needed` is what the rule demands of all that it is about."""
        match node:
            case nodes.Compare(left=nodes.PlainValue(), right=right):
                yield from self._compared(said, node, _TURNED[node.order], right, items, needed)
            case nodes.Compare(right=nodes.PlainValue()):
                yield from self._compared(said, node, node.order, node.left, items, needed)
            case nodes.Has(part=part):
                yield from self._elsewhere(said, node, part)
            case nodes.Among(item=nodes.Attribute(name="id"), choices=choices):
                for choice in choices:
                    yield from self._elsewhere(said, choice, str(choice.value))
            case nodes.Fold():
                inner = {**items, node.item: self._members(node.over, items) or ()}
                whole = needed and node.how in ("all", "any")
                for each in nodes.children(node):
                    yield from self.within(said, each, inner, needed=whole and each is node.value)
            case nodes.And():
                for each in node.parts:
                    yield from self.within(said, each, items, needed=needed)
            case _:
                for each in nodes.children(node):
                    yield from self.within(said, each, items, needed=False)

    def _compared(
        self,
        said: Statement,
        node: nodes.Compare,
        order: nodes.Comparator,
        asked: nodes.Expression,
        items: Bound,
        needed: bool,
    ) -> Iterator[Finding]:
        constant = node.right if asked is node.left else node.left
        value = constant.value if isinstance(constant, nodes.PlainValue) else None
        if isinstance(value, str) and isinstance(asked, nodes.Attribute) and asked.name == "id":
            yield from self._elsewhere(said, constant, value)
        if not _counts(value):
            return
        found = self._range(asked, items)
        known: list[Any] = (
            [] if found is None else [each for each in found.values if type(each) is type(value)]
        )
        if isinstance(value, Voltage):  # what is below the earth is written with its sign
            known = [each for each in known if each.amount * value.amount > 0]
        if not known or found is None:
            return
        answers = {compared(order, each, value) for each in known}
        least, most = min(known), max(known)
        if order in ("==", "!=") and _is_continuous(asked) and least <= value <= most:
            return
        unmet = needed and answers == {False} and order not in ("==", "!=")
        sure = found.sure and (said is self.rule.when or isinstance(asked, nodes.ConditionRef))
        if len(answers) > 1 or not (sure or unmet or _far(value, least, most)):
            return
        said_so = (
            say("`{text}` is always true") if answers == {True} else say("`{text}` is never true")
        )
        yield Finding(
            codes.IDLE_CONDITION,
            said_so.filled(text=Naming(said.cut(node), _fields(node))),
            Label(said.place(node), say("a digit, a unit or a sign is probably another")),
            notes=(_spread(least, most),),
            help=say("check the number, its unit and the sign, or delete the rule"),
        )

    def _elsewhere(self, said: Statement, node: nodes.Expression, part: str) -> Iterator[Finding]:
        """A part that goes into none of the platforms."""
        there = frozenset[str]().union(
            *(parts_of(self.definitions, each.id) for each in self.platforms)
        )
        own = self.definitions.parts.get(part)
        if own is None or part in there or not self.platforms:
            return
        alike = [each for each in there if self.definitions.parts[each].kind == own.kind]
        owner = self.rule.owner
        where = (
            say("`{part}` goes into no position of {name}", part=part, name=owner.name)
            if isinstance(owner, Platform)
            else say("`{part}` goes into no position of any platform that the rule is about",
                     part=part)
        )  # fmt: skip
        yield Finding(
            codes.IDLE_CONDITION,
            where,
            Label(said.place(node), say("so this never arises")),
            help=question(did_you_mean(part, sorted(alike)))
            or say("name a part that goes in there, or delete the rule"),
        )

    def _range(self, node: nodes.Expression, items: Bound) -> _Range | None:
        match node:
            case nodes.ConditionRef(name=name):
                return _Range((*BOUNDS[name], *_turned(name))) if name in BOUNDS else None
            case nodes.Attribute():
                return self._of_field(node, items)
            case nodes.Fold(how="count", over=nodes.Collection(kinds=kinds)):
                most = max(
                    (_most(self.definitions, each.id, kinds) for each in self.platforms), default=0
                )
                return _Range((*map(Decimal, range(most + 1)),)) if most else None
            case nodes.Fold(how="sum", over=nodes.Collection(kinds=kinds), value=value) if value:
                inner = {**items, node.item: self._parts(kinds)}
                found = self._range(value, inner)
                most = max(
                    (_most(self.definitions, each.id, kinds) for each in self.platforms), default=0
                )
                if found is None or not most:
                    return None
                return _Range((min(found.values) * 0, max(found.values) * most))
            case nodes.Fold(how="min" | "max", value=value) if value is not None:
                inner = {**items, node.item: self._members(node.over, items) or ()}
                return self._range(value, inner)
        return None

    def _of_field(self, node: nodes.Attribute, items: Bound) -> _Range | None:
        holders = self._members(node.of, items)
        if holders is None:
            return None
        values = [step_of(each, node.name) for each in holders]
        known = tuple(each for each in values if each is not None)
        of_platform = bool(holders) and isinstance(holders[0], Platform)
        own = of_platform and isinstance(self.rule.owner, Platform)  # which has no other value
        many = len(holders) >= ENOUGH and len(set(known)) > 1
        return _Range(known, sure=of_platform) if many or own else None

    def _members(self, node: nodes.Expression, items: Bound) -> tuple[Any, ...] | None:
        """All that a node may stand for: parts, platforms, records of these."""
        match node:
            case nodes.LoopVariable(name=name):
                return items.get(name)
            case nodes.OfPlatform():
                return self.platforms
            case nodes.Collection(kinds=kinds):
                return self._parts(kinds)
            case nodes.PartIn():
                return self._parts(node.type.kinds)
            case nodes.Attribute():
                inner = self._members(node.of, items)
                return None if inner is None else tuple(_flat(step_of(x, node.name) for x in inner))
        return None

    def _parts(self, kinds: Iterable[str]) -> tuple[Any, ...]:
        return tuple(each for each in self.definitions.parts.values() if each.kind in kinds)


def _fields(node: nodes.Expression) -> tuple[str, ...]:
    """The fields that a condition asks for."""
    return tuple(each.name for each in nodes.walk(node) if isinstance(each, nodes.Attribute))


def _is_continuous(node: nodes.Expression) -> bool:
    """Whether of a range the ends alone are known: that of a condition, or of a sum."""
    return isinstance(node, nodes.ConditionRef) or (
        isinstance(node, nodes.Fold) and node.how == "sum"
    )


def _turned(name: str) -> tuple[Any, ...]:
    """A line of DC may be below the earth."""
    return tuple(Voltage.of(-each.amount) for each in BOUNDS[name]) if name == "line" else ()


def _flat(values: Iterable[Any]) -> Iterator[Any]:
    for each in values:
        yield from each if isinstance(each, tuple) else () if each is None else (each,)


def _counts(value: object) -> bool:
    return isinstance(value, Quantity | Decimal) and not isinstance(value, bool)


def _far(value: Any, least: Any, most: Any) -> bool:
    """Whether a number lies far beyond all others; of temperatures there is no twice."""
    if isinstance(value, TEMPERATURES) or not _amount(least) > 0:
        return False
    size = _amount(value)
    return bool(size >= FAR * _amount(most) or FAR * size <= _amount(least))


def _amount(value: Any) -> Any:
    return value.amount if isinstance(value, Quantity) else value


def _spread(least: Any, most: Any) -> Message:
    least, most = (AsWritten(x) if isinstance(x, Quantity) else str(x) for x in (least, most))
    if str(least) == str(most):
        return say("there it comes to {most}", most=most)
    return say("it comes to {least} to {most}", least=least, most=most)


@lru_cache(maxsize=64)
def parts_of(definitions: Definitions, platform: str) -> frozenset[str]:
    """The parts that go into some position of a platform, by kind and by the words of the project:
    its own positions, and those that such parts bring."""
    found: set[str] = set()
    waiting = [*definitions.platforms[platform].positions]
    asked = set[Any]()
    while waiting:
        position = waiting.pop()
        found.update(each for each in (position.fixed, position.blank) if each)
        signature = _signature(position)
        if signature in asked:
            continue
        asked.add(signature)
        for part in _meeting(definitions, signature):
            found.add(part.id)
            waiting += part.brings.positions
    return frozenset(found)


Signature = tuple[Any, ...]
"""What decides which parts go into a position: its kinds, what is soldered in, what it asks for."""


def _signature(position: Position) -> Signature:
    return position.takes, position.fixed, *_ASKED_OF(position)


@lru_cache(maxsize=256)  # positions ask for the same by the dozen
def _meeting(definitions: Definitions, signature: Signature) -> tuple[Part, ...]:
    """What is soldered in, else the parts of kinds that declare nothing else than what is asked
    for."""
    kinds, fixed, *asked = signature
    if fixed is not None:
        return (definitions.parts[fixed],) if fixed in definitions.parts else ()
    others = {
        part
        for name, wanted in zip(ASKED, map(_words, asked), strict=True)
        for part, has in (_stating(definitions, name) if wanted else ())
        if wanted.isdisjoint(has)
    }
    by_kind = _by_kind(definitions)
    return tuple(part for kind in kinds for part in by_kind.get(kind, ()) if part.id not in others)


@lru_cache(maxsize=64)
def _stating(definitions: Definitions, name: str) -> tuple[tuple[str, frozenset[str]], ...]:
    """The parts that declare words under a field, with these."""
    found = ((part.id, _words(field_of(part, name))) for part in definitions.parts.values())
    return tuple(each for each in found if each[1])


@lru_cache(maxsize=4)
def _by_kind(definitions: Definitions) -> Mapping[str, list[Part]]:
    found: dict[str, list[Part]] = {}
    for part in definitions.parts.values():
        found.setdefault(part.kind, []).append(part)
    return found


def _words(value: object) -> frozenset[str]:
    if isinstance(value, str):
        return frozenset((value,))
    return frozenset(value) if isinstance(value, tuple) else frozenset()


@lru_cache(maxsize=256)
def _most(definitions: Definitions, platform: str, kinds: tuple[str, ...]) -> int:
    """No more parts of these kinds than this: every position that takes one holds one, and
    whatever brings most of them is everywhere it goes."""
    return sum(
        _held(definitions, each, kinds, 0) for each in definitions.platforms[platform].positions
    )


DEEPEST: Final = 4
"""Parts that bring positions for parts that bring positions."""


def _held(definitions: Definitions, position: Position, kinds: tuple[str, ...], depth: int) -> int:
    own = not set(kinds).isdisjoint(position.takes)
    brought = _brought(definitions, _signature(position), kinds, depth) if depth < DEEPEST else 0
    return len(expanded(position.name)) * (own + brought)


@lru_cache(maxsize=1024)
def _brought(
    definitions: Definitions, signature: Signature, kinds: tuple[str, ...], depth: int
) -> int:
    """The most that a part brings which goes into such a position."""
    return max(
        (
            sum(_held(definitions, each, kinds, depth + 1) for each in part.brings.positions)
            for part in _meeting(definitions, signature)
            if part.brings.positions
        ),
        default=0,
    )
