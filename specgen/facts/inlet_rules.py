"""Up to which inlet temperature declared rules hold for a system: found by asking them.

A rule may compare the inlet with anything, in `when` as well as in what it requires, or read facts
that rest on it. So it is held against the system at one temperature after the other.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import lru_cache
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.expressions.evaluate import Evaluator, FittedPart, TooLong
from specgen.facts.fact import Declared, Facts, Rests
from specgen.facts.inputs import Context
from specgen.facts.resting import rests_on
from specgen.facts.rule_book import CompiledRule, rule_book
from specgen.frozen import frozen
from specgen.model import Definitions
from specgen.quantity import Temperature

TENTH: Final = Decimal("0.1")
STEP: Final = Decimal(1)
"""Temperatures asked about one after the other, K; where a rule turns, tenths between two."""
COLDEST: Final = Decimal(-20)
INLET: Final = "inlet"
OWN: Final = frozenset({"cooling.inlet_limit", "cooling.inlet_limit_by", "cooling.inlet_margin"})
"""Facts that are worked out of what is found here: a rule that reads one is left out."""


def to_tenth(temperature: Temperature) -> Temperature:
    """A tenth of a degree that is not above it: a limit is never rounded up."""
    return Temperature.of(temperature.amount.quantize(TENTH, ROUND_FLOOR), "degC")


@frozen
class RuleLimit:
    """A rule that breaks above a temperature at the inlet; None where none is allowed."""

    rule: CompiledRule
    limit: Temperature | None


@frozen
class HeldByRules:
    """The limits that declared rules set to the inlet, below that of `most` else."""

    most: str
    """The key of the fact with what holds apart from rules."""

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.most})

    def read(self, context: Context) -> tuple[tuple[RuleLimit, ...] | None, Rests]:
        most = context.facts.value(self.most)
        if not isinstance(most, Temperature):
            return None, (context.facts[self.most],)
        assembly = context.assembly
        found = tuple(_limits(assembly, most)) if assembly.build is not None else ()
        rests = tuple(
            Declared(each.rule.code.id, each.rule.rule.because, each.rule.must.place)
            for each in found
        )
        return found, rests


def _limits(assembly: Assembly, most: Temperature) -> Iterator[RuleLimit]:
    for rule in rules_on_inlet(assembly.definitions):
        if rule.concerns(assembly):
            try:
                limit = _highest(assembly, rule, most.amount)
            except TooLong:  # a check says so
                continue
            if limit is None or limit < most.amount:
                yield RuleLimit(rule, None if limit is None else Temperature.of(limit, "degC"))


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


def _highest(assembly: Assembly, rule: CompiledRule, most: Decimal) -> Decimal | None:
    """The highest inlet temperature up to which a rule holds: from that stated on where it holds
    there, else from the coldest on; None where it holds nowhere."""
    asked = _asking(assembly, rule)
    stated = assembly.conditions.inlet
    start = COLDEST if stated is None else stated.amount
    if start > most or not asked(start):
        holding = [at for at in _steps(COLDEST, min(start, most)) if asked(at)]
        if not holding:
            return None
        start = holding[-1]
    below, above = start, most
    for at in _steps(start, most):
        if not asked(at):
            above = at
            break
        below = at
    else:
        return most
    low = int((below / TENTH).to_integral_value(ROUND_FLOOR))
    high = int((above / TENTH).to_integral_value(ROUND_CEILING))
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if asked(middle * TENTH) else (low, middle)
    return max(below, low * TENTH) if asked(low * TENTH) else below


def _steps(start: Decimal, most: Decimal) -> Iterator[Decimal]:
    at = start
    while at < most:
        yield at
        at = min(at.to_integral_value(ROUND_FLOOR) + STEP, most)
    yield most


def _asking(assembly: Assembly, rule: CompiledRule) -> Callable[[Decimal], bool]:
    """Whether a system keeps a rule with the air so warm; each asked once."""
    known: dict[Decimal, bool] = {}

    def asked(at: Decimal) -> bool:
        if at not in known:
            known[at] = _kept(assembly, rule, Temperature.of(at, "degC"))
        return known[at]

    return asked


def _kept(assembly: Assembly, rule: CompiledRule, inlet: Temperature) -> bool:
    from specgen.facts import facts_of

    at = replace(assembly, conditions=replace(assembly.conditions, inlet=inlet))
    facts: Any = facts_of(at) if rule.reads.facts else Facts.plain(())
    if any(facts.value(key) is None for key in rule.reads.facts):
        return True  # what rests on a fact without a value is not judged
    evaluator = Evaluator(at, facts)
    evaluator.begin()
    seats: tuple[FittedPart | None, ...] = (None,)
    if rule.scope == "part":
        owner = getattr(rule.owner, "id", "")
        kinds = (getattr(rule.owner, "kind", ""),)
        seats = tuple(each for each in evaluator.members(kinds) if each.part.id == owner)
    return not any(rule.broken(evaluator, it) for it in seats)
