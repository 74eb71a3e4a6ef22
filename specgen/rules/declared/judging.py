"""Declared rules held against one system."""

from collections.abc import Iterator

from specgen.assembly import Assembly, State
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.expressions.evaluate import Evaluator, FittedPart, TooLong
from specgen.facts import Facts
from specgen.facts.rule_book import CompiledRule, RuleBook
from specgen.frozen import frozen
from specgen.messages import say
from specgen.rules.places import unsettled_kinds


def declared(assembly: Assembly, facts: Facts, book: RuleBook) -> Iterator[Finding]:
    """A finding for every declared rule that a build breaks; none for a bare platform."""
    build = assembly.build
    if build is None or not book.rules:
        return
    evaluator = Evaluator(assembly, facts)
    context = _RuleContext(assembly, evaluator, unsettled_kinds(assembly))
    for rule in book.general:
        if rule.concerns(assembly):
            yield from _judged(context, rule, [])
    held: dict[str, list[FittedPart]] = {}
    for fitted in evaluator.members(_holders(assembly, book)) if book.of_parts else ():
        held.setdefault(fitted.part.id, []).append(fitted)
    for name, seats in held.items():
        for rule in book.of_parts.get(name, ()):
            if rule.concerns(assembly):
                yield from _judged(context, rule, seats)


def _holders(assembly: Assembly, book: RuleBook) -> tuple[str, ...]:
    """The kinds of the parts that have rules of their own."""
    parts = assembly.definitions.parts
    return tuple(sorted({parts[name].kind for name in book.of_parts if name in parts}))


@frozen
class _RuleContext:
    """What all rules of a system are judged with."""

    assembly: Assembly
    evaluator: Evaluator
    unsettled: frozenset[str]


def _judged(
    context: _RuleContext, rule: CompiledRule, seats: list[FittedPart]
) -> Iterator[Finding]:
    """One rule; `seats` are the positions with its part. Those of one line are told as one."""
    if _unsettled(context, rule):
        return
    asked = seats if rule.reads.it else seats[:1]
    lines: dict[Span | None, list[FittedPart]] = {}
    context.evaluator.begin()
    try:
        if not asked and rule.broken(context.evaluator, None):
            lines[None] = []
        for fitted in asked:
            if rule.broken(context.evaluator, fitted):
                lines.setdefault(fitted.place.at, []).append(fitted)
    except TooLong:
        yield _too_long(rule)
        return
    if lines:
        from specgen.rules.declared.broken import broken  # only where one is
    for line, own in lines.items():
        alike = own if rule.reads.it else [each for each in seats if each.place.at == line]
        yield broken(context.assembly, context.evaluator, rule, alike)


def _unsettled(context: _RuleContext, rule: CompiledRule) -> bool:
    """Whether the rule rests on what is not known: parts nobody defines, facts without a value.

    Findings have said so of the parts, and a fact without a value shows what it lacks.
    """
    reads, facts = rule.reads, context.evaluator.facts
    if any(facts.value(key) is None for key in reads.facts):
        return True
    if not context.unsettled:
        return False
    parts, places = context.assembly.definitions.parts, context.assembly.places
    kinds = reads.kinds | {parts[name].kind for name in reads.parts if name in parts}
    absent = {entry.name for entry in context.assembly.absent}
    lost = (State.UNKNOWN, State.UNUSABLE, State.BLOCKED)  # the latter for want of the former
    return bool(reads.facts or kinds & context.unsettled or reads.positions & absent) or any(
        name in places and places[name].state in lost for name in reads.positions
    )


def _too_long(rule: CompiledRule) -> Finding:
    return Finding(
        codes.RULE_TOO_LARGE,
        say("`{rule}` takes too many steps on a system", rule=rule.code.id),
        Label(rule.must.place(), say("runs within runs multiply")),
        help=say("run over a smaller collection, or split the rule"),
    )
