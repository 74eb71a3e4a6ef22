"""Up to which inlet temperature declared rules hold for a system: found by asking them.

A rule may compare the inlet with anything, in `when` as well as in what it requires. Where it
turns is then at a temperature that it is compared with, and every such temperature is asked about,
with one between each two. Where a rule reckons with the inlet, or reads facts that rest on it, it
is held against the system at every tenth of a degree.
"""

from collections.abc import Callable, Iterator
from dataclasses import field, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import lru_cache
from itertools import pairwise
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.expressions import nodes
from specgen.expressions.evaluate import Bindings, Evaluator, FittedPart, TooLong
from specgen.facts import ledger_of
from specgen.facts.fact import Declared, Fact, Facts
from specgen.facts.inputs import Context
from specgen.facts.resting import rests_on
from specgen.facts.rule_book import CompiledRule, rule_book
from specgen.facts.rule_limits import RuleLimit
from specgen.frozen import state
from specgen.messages import Words, say
from specgen.model import Definitions, Project
from specgen.quantity import Temperature

TENTH: Final = Decimal("0.1")
COLDEST: Final = Decimal(-20)
INLET: Final = "inlet"
OWN: Final = frozenset({"cooling.inlet_limit", "cooling.inlet_limit_by", "cooling.inlet_margin"})
"""Facts that are worked out of what is found here: a rule that reads one is left out."""


def limits(context: Context, most: Temperature) -> Iterator[RuleLimit]:
    """The rules that break below `most`, each with the highest temperature up to which it holds."""
    assembly = context.assembly
    for rule in rules_on_inlet(assembly.definitions):
        if rule.concerns(assembly):
            try:
                limit = _highest(_Asked(assembly, rule, _standing(context)), most.amount)
            except TooLong:  # a check says so
                continue
            if limit is None or limit < most.amount:
                allowed = None if limit is None else Temperature.of(limit, "degC")
                yield RuleLimit(allowed, _reason(rule), _stated(rule))


def _reason(rule: CompiledRule) -> Words:
    """Why, for readers: they know no codes of rules. Its code stands in the pedigree."""
    if rule.rule.because:
        return rule.rule.because.rstrip(".")
    owner = rule.owner
    return say("a rule of {name}", name=owner.title if isinstance(owner, Project) else owner.name)


def _stated(rule: CompiledRule) -> Declared:
    because = rule.rule.because or rule.must.cut(rule.must.tree)
    return Declared(rule.code.id, because, rule.must.place)


@lru_cache(maxsize=8)
def rules_on_inlet(definitions: Definitions) -> tuple[CompiledRule, ...]:
    """The rules that forbid something by the inlet."""
    rules = (rule for rule in rule_book(definitions).rules if rule.rule.severity == "error")
    return tuple(rule for rule in rules if _reads_inlet(definitions, rule))


def _reads_inlet(definitions: Definitions, rule: CompiledRule) -> bool:
    if INLET in rule.reads.conditions:
        return True
    resting = (rests_on(definitions, key, INLET) for key in rule.reads.facts)
    return not OWN & rule.reads.facts and any(resting)


@state
class _Watching(Evaluator):
    """Notes every temperature that the inlet is compared with."""

    met: set[Decimal] = field(default_factory=set)

    def _compared(self, node: nodes.Compare, items: Bindings) -> bool:
        for one, other in ((node.left, node.right), (node.right, node.left)):
            if _is_inlet(one):
                self._meet(self.value(other, items))
        return Evaluator._compared(self, node, items)  # `super` does not know a class with slots

    def _meet(self, value: object) -> None:
        if isinstance(value, Temperature):
            self.met.add(value.amount)


@state
class _Asked:
    """Whether a system keeps a rule with the air so warm; each asked once.

    `met` are the temperatures that the inlet was compared with on the way.
    """

    assembly: Assembly
    rule: CompiledRule
    standing: Callable[[str], Fact | None]
    known: dict[Decimal, bool] = field(default_factory=dict)
    met: set[Decimal] = field(default_factory=set)

    def __call__(self, at: Decimal) -> bool:
        if at not in self.known:
            self.known[at] = self._kept(Temperature.of(at, "degC"))
        return self.known[at]

    def _kept(self, inlet: Temperature) -> bool:
        rule = self.rule
        at = replace(self.assembly, conditions=replace(self.assembly.conditions, inlet=inlet))
        facts: Any = Facts.plain(())
        if rule.reads.facts:
            facts = ledger_of(at.definitions).calculate(at, standing=self.standing)
        if any(facts.value(key) is None for key in rule.reads.facts):
            return True  # what rests on a fact without a value is not judged
        evaluator = _Watching(at, facts)
        evaluator.begin()
        seats: tuple[FittedPart | None, ...] = (None,)
        if rule.scope == "part":
            owner = getattr(rule.owner, "id", "")
            kinds = (getattr(rule.owner, "kind", ""),)
            seats = tuple(each for each in evaluator.members(kinds) if each.part.id == owner)
        kept = not any(rule.broken(evaluator, it) for it in seats)
        self.met |= evaluator.met
        return kept


def _standing(context: Context) -> Callable[[str], Fact | None]:
    """The facts of the system that do not change with the inlet."""
    definitions = context.assembly.definitions

    def look(key: str) -> Fact | None:
        return None if _rests_on_inlet(definitions, key) else context.facts.get(key)

    return look


@lru_cache(maxsize=4096)
def _rests_on_inlet(definitions: Definitions, key: str) -> bool:
    return rests_on(definitions, key, INLET)


def _highest(asked: _Asked, most: Decimal) -> Decimal | None:
    """The highest inlet temperature up to which a rule holds: from that stated on where it holds
    there, else from the coldest on; None where it holds nowhere."""
    stated = asked.assembly.conditions.inlet
    start = COLDEST if stated is None else min(stated.amount, most)
    points = _points(asked, most)
    if not asked(start):
        holding = [at for at in points if at <= start and asked(at)]
        if not holding:
            return None
        start = holding[-1]
    for at in points:
        if at > start and not asked(at):
            return _last(asked, start, at)
        start = max(start, at)
    return most


def _last(asked: _Asked, holding: Decimal, broken: Decimal) -> Decimal:
    """Between one that holds and the next that does not: the first, or a tenth after it."""
    tenth = (broken / TENTH).to_integral_value(ROUND_CEILING) * TENTH - TENTH
    return tenth if tenth > holding and asked(tenth) else holding


def _points(asked: _Asked, most: Decimal) -> list[Decimal]:
    """The temperatures up to `most` that say where a rule turns."""
    if _compares_only(asked.assembly.definitions, asked.rule):
        return _turns(asked, most)
    return _tenths(asked, most)


def _compares_only(definitions: Definitions, rule: CompiledRule) -> bool:
    """Whether a rule does no more with the inlet than compare it with something else."""
    if any(_rests_on_inlet(definitions, key) for key in rule.reads.facts):
        return False
    trees = [each.tree for each in (rule.when, rule.must) if each is not None]
    reads = sum(_is_inlet(node) for tree in trees for node in nodes.walk(tree))
    compared = sum(
        _is_inlet(node.left) is not _is_inlet(node.right)
        for tree in trees
        for node in nodes.walk(tree)
        if isinstance(node, nodes.Compare)
    )
    return reads == compared


def _turns(asked: _Asked, most: Decimal) -> list[Decimal]:
    """Every temperature at which a rule can turn, and one between each two.

    What is not compared on the way to an answer does not change it; so the answer is the same
    between two temperatures, once all that it was found with are known.
    """
    while True:
        ends = sorted({COLDEST, most, *(at for at in asked.met if COLDEST < at < most)})
        between = [(low + high) / 2 for low, high in pairwise(ends)]
        points = sorted({*ends, *between})
        for at in points:
            asked(at)
        if all(at in ends or not COLDEST < at < most for at in asked.met):
            return points


def _tenths(asked: _Asked, most: Decimal) -> list[Decimal]:
    """Every tenth of a degree, and the temperature that is stated."""
    stated = asked.assembly.conditions.inlet
    first = int((COLDEST / TENTH).to_integral_value(ROUND_FLOOR))
    last = int((most / TENTH).to_integral_value(ROUND_FLOOR))
    own = set() if stated is None or stated.amount > most else {stated.amount}
    return sorted({*(step * TENTH for step in range(first, last + 1)), most, *own})


def _is_inlet(node: nodes.Expression) -> bool:
    return isinstance(node, nodes.ConditionRef) and node.name == INLET
