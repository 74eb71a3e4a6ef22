"""Whether any system of a platform can break a rule, as far as the platform itself settles that."""

from collections.abc import Collection
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.expressions import nodes
from specgen.expressions.evaluate import Evaluator
from specgen.facts.fact import Facts
from specgen.facts.rule_book import CompiledRule

BOTH: Final = frozenset({True, False})
SETTLED: Final = (
    nodes.PlainValue
    | nodes.OfPlatform
    | nodes.Attribute
    | nodes.Subscript
    | nodes.Arithmetic
    | nodes.Negative
    | nodes.Compare
    | nodes.Among
    | nodes.Contains
)
"""What asks nothing of parts, positions or circumstances."""

Truths = frozenset[bool]


def can_break(rule: CompiledRule, bare: Assembly, parts: Collection[str]) -> bool:
    """Whether a system with some of these parts may break a rule.

    False only where none can: its case never arises, or what it asks for always holds. What hangs
    on circumstances, on what is fitted and on facts is taken to be either way.
    """
    open_ = _Open(bare, frozenset(parts))
    if rule.scope == "part" and getattr(rule.owner, "id", "") not in open_.parts:
        return False
    if rule.when is not None and True not in open_.truths(rule.when.tree):
        return False
    return rule.forbids in open_.truths(rule.must.tree)


class _Open:
    """What statements may come to on a platform with whatever fitted."""

    def __init__(self, bare: Assembly, parts: frozenset[str]) -> None:
        known = bare.definitions.parts
        self.parts = parts
        self.kinds = {known[part].kind for part in parts if part in known}
        facts: Any = Facts.plain(())
        self.evaluator = Evaluator(bare, facts)

    def truths(self, node: nodes.Expression) -> Truths:
        match node:
            case nodes.And():
                found = [self.truths(each) for each in node.parts]
                return frozenset(
                    ({True} if all(True in each for each in found) else set())
                    | ({False} if any(False in each for each in found) else set())
                )
            case nodes.Or():
                found = [self.truths(each) for each in node.parts]
                return frozenset(
                    ({True} if any(True in each for each in found) else set())
                    | ({False} if all(False in each for each in found) else set())
                )
            case nodes.Not():
                return frozenset(not each for each in self.truths(node.operand))
            case nodes.Has():
                return BOTH if node.part in self.parts else frozenset({False})
            case nodes.Fold(how="any" | "all", over=nodes.Collection(kinds=kinds)):
                none = self.kinds.isdisjoint(kinds)
                return frozenset({node.how == "all"}) if none else BOTH
        if all(isinstance(each, SETTLED) for each in nodes.walk(node)):
            self.evaluator.begin()
            return frozenset({self.evaluator.holds(node)})
        return BOTH
