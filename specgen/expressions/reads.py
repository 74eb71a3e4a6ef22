"""What a rule rests on: the kinds, positions, parts and facts that its conditions name."""

from collections.abc import Iterable

from specgen.expressions import tree
from specgen.expressions.types import Sort
from specgen.frozen import frozen


@frozen
class Reads:
    """All that the trees of a rule ask a machine for.

    `facts` are those without whose value nothing can be said; a fact that is compared with None
    is not among them. `it` is whether the part that the rule is declared on is asked.
    """

    kinds: frozenset[str]
    positions: frozenset[str]
    parts: frozenset[str]
    facts: frozenset[str]
    conditions: frozenset[str]
    it: bool


def reads_of(trees: Iterable[tree.Node]) -> Reads:
    """Gathers from whole trees."""
    kinds: set[str] = set()
    positions: set[str] = set()
    parts: set[str] = set()
    facts: set[str] = set()
    conditions: set[str] = set()
    optional: set[str] = set()
    it = False
    for node in (each for root in trees for each in tree.walk(root)):
        match node:
            case tree.Collection():
                kinds.update(node.kinds)
            case tree.PartIn():
                positions.add(node.position)
            case tree.Placed():
                positions.update(node.positions)
            case tree.Has():
                parts.add(node.part)
            case tree.Figure():
                facts.add(node.key)
            case tree.Condition():
                conditions.add(node.name)
            case tree.It():
                it = True
            case tree.Compare(left=left, right=right):
                if Sort.NOTHING in (left.type.sort, right.type.sort):
                    optional |= {e.key for e in (left, right) if isinstance(e, tree.Figure)}
    return Reads(
        frozenset(kinds),
        frozenset(positions),
        frozenset(parts),
        frozenset(facts - optional),
        frozenset(conditions),
        it,
    )
