"""What a rule rests on: the kinds, positions, parts and facts that its conditions name."""

from collections.abc import Iterable
from typing import Final

from specgen.expressions import nodes
from specgen.expressions.types import TypeSort
from specgen.frozen import frozen


@frozen
class Reads:
    """All that the trees of a rule ask a system for.

    `facts` are those without whose value nothing can be said; a fact that is compared with None
    is not among them. `it` is whether the part that the rule is declared on is asked.
    """

    kinds: frozenset[str]
    positions: frozenset[str]
    parts: frozenset[str]
    facts: frozenset[str]
    conditions: frozenset[str]
    it: bool


def reads_of(trees: Iterable[nodes.Expression]) -> Reads:
    """Gathers from whole trees."""
    kinds: set[str] = set()
    positions: set[str] = set()
    parts: set[str] = set()
    facts: set[str] = set()
    conditions: set[str] = set()
    optional: set[str] = set()
    it = False
    for node in (each for root in trees for each in nodes.walk(root)):
        match node:
            case nodes.Collection():
                kinds.update(node.kinds)
            case nodes.PartIn():
                positions.add(node.position)
            case nodes.Placed():
                positions.update(node.positions)
            case nodes.Has():
                parts.add(node.part)
            case nodes.FactRef():
                facts.add(node.key)
            case nodes.ConditionRef():
                conditions.add(node.name)
            case nodes.It():
                it = True
            case nodes.Compare(left=left, right=right):
                if TypeSort.NOTHING in (left.type.sort, right.type.sort):
                    optional |= {e.key for e in (left, right) if isinstance(e, nodes.FactRef)}
    return Reads(
        frozenset(kinds),
        frozenset(positions),
        frozenset(parts),
        frozenset(facts - optional),
        frozenset(conditions),
        it,
    )


NOTHING_READ: Final = reads_of(())
