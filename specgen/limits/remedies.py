"""Kinds of remedy for a build: parts of a kind exchanged, added, or taken out."""

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Any

from specgen.limits.solve import Solver
from specgen.limits.sums import BoolVar
from specgen.model import Fill


class Act(StrEnum):
    """What is done with parts of a kind."""

    OTHER = "other"
    GONE = "gone"
    NEW = "new"


Way = tuple[str, Act]
"""A kind of part, and what is done with it."""


class Remedies:
    """What builds change of the parts `fills`, as truths of a solver.

    Made before the model is copied, since making literals changes it.
    """

    def __init__(self, solver: Solver, fills: Mapping[str, Fill]) -> None:
        self._solver, self._fills = solver, fills
        self._literals: dict[Way, BoolVar] = {}
        logic, found = solver.logic, dict[Way, list[BoolVar]]()
        for name in solver.builds.named:
            kinds: dict[str, list[BoolVar]] = {}
            same = []
            for seat in solver.builds.at_name(name):
                if not seat.node.fixed:
                    kinds.setdefault(seat.part.kind, []).append(seat.sits)
                    same += [seat.sits] if self._as_before(name, seat.part.id) else []
            before = self._kind(fills.get(name))
            for kind, literals in kinds.items():
                some = logic.either(literals)
                if kind != before:
                    found.setdefault((kind, Act.NEW), []).append(some)
                    continue
                other = logic.both([some, logic.either(same).negated()])
                found.setdefault((kind, Act.OTHER), []).append(other)
                found.setdefault((kind, Act.GONE), []).append(some.negated())
        self._literals = {way: logic.either(each) for way, each in found.items()}

    def _as_before(self, name: str, part: str) -> bool:
        before = self._fills.get(name)
        return before is not None and before.part == part

    def _kind(self, fill: Fill | None) -> str | None:
        part = None if fill is None else self._solver.definitions.parts.get(fill.part)
        return None if part is None else part.kind

    def _changed(self, now: Mapping[str, Fill]) -> Iterator[str]:
        for name in {**self._fills, **now}:
            if self._fills.get(name) != now.get(name):
                yield name

    def rule_out(self, model: Any, now: Mapping[str, Fill]) -> None:
        """Tells a model that no build changes all that `now` does.

        A cable that goes to another end than before changes the same, wherever that is.
        """
        alike: Any = 0
        changed = list(self._changed(now))
        for name in changed:
            fill, seats = now.get(name), list(self._solver.builds.at_name(name))
            if fill is None:
                alike += 1 - sum(seat.sits for seat in seats)
                continue
            alike += sum(seat.sits for seat in seats if seat.part.id == fill.part)
            if self._as_before(name, fill.part):
                ends, before = self._solver.wiring.ends, self._fills[name].to or ""
                nodes = {seat.node.index for seat in seats}
                alike -= sum(ends[each, before] for each in nodes if (each, before) in ends)
        model.add(alike <= len(changed) - 1)

    def kinds_taken(self, now: Mapping[str, Fill]) -> list[BoolVar]:
        """That the kinds of remedy of `now` are taken."""
        found: dict[Way, None] = {}
        for name in self._changed(now):
            before, after = self._kind(self._fills.get(name)), self._kind(now.get(name))
            if before is not None and before == after:
                found[before, Act.OTHER] = None
            else:
                if before is not None:
                    found[before, Act.GONE] = None
                if after is not None:
                    found[after, Act.NEW] = None
        return [self._literals[way] for way in found if way in self._literals]
