"""Limits that the reason of a rule gives, and its condition gives otherwise: 28 °C and `32 degC`.

A reason may tell of other values as well, so only what stands there as a limit is held against the
condition: "above 205 W", "27 °C or less", "supplies of 2000 W".
"""

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.expressions import nodes
from specgen.expressions.nodes import walk
from specgen.expressions.read import Statement
from specgen.facts.rule_book import CompiledRule, rule_book
from specgen.messages import AsWritten, say
from specgen.model import Definitions
from specgen.quantity import Quantity, parse_any
from specgen.rules.definitions.records import rules_of, things

_AMOUNT: Final = re.compile(
    r"(?<![\w.,/-])(\d+(?:\.\d+)?)\s?"
    r"(°C|k?W|k?V|A|mm|cm|k?m|CFM|[MG]Hz|[GT]i?B|kg|MT/s|Gbit/s)(?![\w/])"
)
_BEFORE: Final = re.compile(
    r"(?:\b(?:above|below|beyond|exceeding|over|under|up to|than|at least|at most|from)"
    r"(?: [^\W\d]+){0,3}|\b(?:of|than|from|to)) $",
    re.IGNORECASE,
)
_BEHIND: Final = re.compile(r" (?:or|and) (?:less|more|below|above|over|under|longer|shorter)\b")


class _Amount(NamedTuple):
    """An amount of a reason."""

    amount: Quantity
    text: str
    limits: bool


def told_of_rules(definitions: Definitions) -> Iterator[Finding]:
    """SG227 for reasons whose limits are none of their conditions."""
    if not definitions.project.language.startswith("en"):
        return
    book = rule_book(definitions).by_code
    for thing in things(definitions):
        for path, rules in rules_of(thing):
            for at, rule in enumerate(rules):
                if rule.because and rule.code in book and book[rule.code].rule is rule:
                    place = thing.origin.at(*path, at, "because")
                    yield from _of(book[rule.code], str(rule.because), place)


def _of(rule: CompiledRule, reason: str, place: Span) -> Iterator[Finding]:
    amounts = [*_amounts(reason)]
    stated = [
        (statement, node, node.value)
        for statement in rule.statements
        for node in walk(statement.tree)
        if isinstance(node, nodes.PlainValue) and isinstance(node.value, Quantity)
    ]
    for dimension in dict.fromkeys(type(each.amount) for each in amounts):
        words = [each for each in amounts if isinstance(each.amount, dimension)]
        own = [each for each in stated if isinstance(each[2], dimension)]
        odd = _odd(words, own)
        if odd is not None:
            amount, (statement, node, value) = odd
            yield Finding(
                codes.TOLD_OTHERWISE,
                say("the reason says {text}, and the condition {value}",
                    text=amount.text, value=AsWritten(value)),
                Label(place),
                labels=(Label(statement.place(node), say("the condition")),),
                help=say("say the same in both"),
            )  # fmt: skip
            return


InCondition = tuple[Statement, nodes.PlainValue, Quantity]


def _odd(words: list[_Amount], own: list[InCondition]) -> tuple[_Amount, InCondition] | None:
    """An amount of the reason without its like, where the condition has one without its like: as
    many in both, or none that is in both."""
    kept = {each[2] for each in own}
    amounts = {each.amount for each in words}
    alone = [each for each in words if each.limits and each.amount not in kept]
    left = [each for each in own if each[2] not in amounts]
    if len(alone) != 1 or not left or len({each[2] for each in left}) != 1:
        return None
    apart = amounts.isdisjoint(kept)
    return (alone[0], left[0]) if apart or len(amounts) == len(kept) else None


def _amounts(text: str) -> Iterator[_Amount]:
    for match in _AMOUNT.finditer(text):
        before, behind = text[: match.start()], text[match.end() :]
        limits = bool(_BEFORE.search(before) or _BEHIND.match(behind))
        yield _Amount(parse_any(f"{match[1]} {match[2].replace('°C', 'degC')}"), match[0], limits)
