"""Parts that a wish is about and that no build of a platform can have, and why."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any, Final

from specgen.assembly import assemble
from specgen.expressions import nodes
from specgen.expressions.evaluate import Evaluator, FittedPart
from specgen.expressions.read import Statement
from specgen.facts import facts_of
from specgen.fitness import Refusal, around, refusals
from specgen.frozen import frozen
from specgen.limits.closure import PositionNode, TooLarge, closure
from specgen.limits.solve import Solver
from specgen.limits.spare_positions import declared_name
from specgen.messages import Words, listed, say
from specgen.model import Definitions, Part, Platform, places
from specgen.quantity import Quantity

NAMED: Final = 3
"""Parts that are named; of more the number is told."""


@frozen
class LeftOut:
    """Parts that would count, and why no position takes them; positions that would, by platform."""

    parts: tuple[Part, ...]
    why: Words
    elsewhere: tuple[tuple[str, Words], ...] = ()

    @property
    def words(self) -> Words:
        """As a sentence without its end."""
        names: list[Words] = [each.name for each in self.parts[:NAMED]]
        if len(self.parts) > NAMED:
            names = [*names[:-1], say("{count} others", count=len(self.parts) - NAMED + 1)]
        found = say("{parts}: {why}", parts=listed(names, "and"), why=self.why)
        if not self.elsewhere:
            return found
        would = [say("{places} of {platform}", places=p, platform=n) for n, p in self.elsewhere]
        return say(
            "{found}; positions that would: {places}", found=found, places=listed(would, "and")
        )


def left_out(solver: Solver, statement: Statement) -> tuple[LeftOut, ...]:
    """Of each count, sum and choice of a wish, the parts that say more than all that are in reach.

    What cannot be ordered, or does not work at the conditions asked for, is told with the reason;
    what goes into no position where nothing else counts either.
    """
    found: dict[str, Refusal | None] = {}  # by part
    for node in nodes.walk(statement.tree):
        found |= {part.id: why for part, why in _beyond(solver, node) if part.id not in found}
    return _by_reason(solver, found)


def left_out_of_required(solver: Solver) -> tuple[LeftOut, ...]:
    """Of positions that must be filled and that no part can fill, the parts that are kept out."""
    filled = {seat.node.index for seat in solver.builds.seats.values() if not seat.part.closes}
    kinds = {
        kind
        for node in solver.nodes
        if node.place.position.must and node.index not in filled
        for kind in node.place.position.takes
    }
    parts = (part for part in solver.definitions.parts.values() if part.kind in kinds)
    found = {part.id: why for part in parts if (why := _kept_out(solver, part)) is not None}
    return _by_reason(solver, found)


def _by_reason(solver: Solver, found: Mapping[str, Refusal | None]) -> tuple[LeftOut, ...]:
    by_reason: dict[str, list[tuple[Part, Refusal | None]]] = {}
    for name, refusal in found.items():
        words = str(_why(solver.platform, refusal))
        by_reason.setdefault(words, []).append((solver.definitions.parts[name], refusal))
    return tuple(
        _left_out_for(solver, tuple(part for part, _ in alike), alike[0][1])
        for alike in by_reason.values()
    )


def _left_out_for(solver: Solver, parts: tuple[Part, ...], refusal: Refusal | None) -> LeftOut:
    elsewhere = tuple(_elsewhere(solver, parts)) if refusal is None else ()
    return LeftOut(parts, _why(solver.platform, refusal), elsewhere)


def _beyond(solver: Solver, node: nodes.Expression) -> Iterator[tuple[Part, Refusal | None]]:
    """Parts that count more than those in reach, each with what keeps it out, None where it goes
    into no position."""
    amounts = tuple(_amounts(solver, node))
    seated = {seat.part.id for seat in solver.builds.seats.values() if not seat.part.closes}
    within = max((amount for part, amount in amounts if part.id in seated), default=0)
    for part, amount in amounts:
        if part.id in seated or amount <= within:
            continue
        why = _kept_out(solver, part)
        if why is not None or not within:
            yield part, why


def _amounts(solver: Solver, node: nodes.Expression) -> Iterator[tuple[Part, Decimal]]:
    """What each part of the catalog counts in a sum or a count; one where it is asked for."""
    parts = solver.definitions.parts
    if isinstance(node, nodes.Has) and node.part in parts:
        yield parts[node.part], Decimal(1)
    if not isinstance(node, nodes.Fold) or not isinstance(node.over, nodes.Collection):
        return
    evaluator = Evaluator(solver.bare, facts_of(solver.bare))
    for part in parts.values():
        node_for = _somewhere(solver, part)
        if part.kind in node.over.kinds and not part.closes and node_for is not None:
            items = {node.item: FittedPart(node_for.place, part)}
            evaluator.begin()
            if all(evaluator.holds(each, items) for each in node.conditions):
                value = None if node.value is None else evaluator.value(node.value, items)
                yield part, _number(node, value)


def _number(node: nodes.Fold, value: Any) -> Decimal:
    if node.value is None:
        return Decimal(1)
    if isinstance(value, Quantity):
        return value.amount
    return Decimal(value) if isinstance(value, bool | int | Decimal) else Decimal(0)


def _somewhere(solver: Solver, part: Part) -> PositionNode | None:
    """A position for parts of its kind, else any."""
    kinds = (node for node in solver.nodes if part.kind in node.place.position.takes)
    return next(kinds, next(iter(solver.nodes), None))


def _kept_out(solver: Solver, part: Part) -> Refusal | None:
    """What keeps a part out of a position that it would go into."""
    for node in solver.nodes:
        if part.kind in node.place.position.takes and not node.fixed:
            known = around(solver.bare, node.place, node.bringer)
            found = tuple(refusals(node.place, part, known))
            if found and not any(each.requirement.goes_in for each in found):
                return found[0]
    return None


def _why(platform: Platform, refusal: Refusal | None) -> Words:
    if refusal is None:
        return say("no suitable position in {platform}", platform=platform.name)
    words = refusal.words
    return words if words.text else refusal.code.title


def _elsewhere(solver: Solver, parts: tuple[Part, ...]) -> Iterator[tuple[str, Words]]:
    """Positions of other platforms that take any of some parts."""
    for platform in solver.definitions.platforms.values():
        if platform is not solver.platform:
            names = tuple(_taking(solver.definitions, platform, {part.id for part in parts}))
            if names:
                yield platform.name, places(names)


def _taking(definitions: Definitions, platform: Platform, wanted: set[str]) -> Iterator[str]:
    try:
        found = closure(assemble(definitions, platform, None))
    except TooLarge:
        return
    names: Mapping[str, None] = {
        declared_name(node.name): None
        for node in found
        if any(part.id in wanted for part in node.parts)
    }
    yield from names
