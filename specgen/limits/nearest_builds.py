"""The valid builds nearest to one that is not whole or not sound."""

from collections.abc import Iterator, Mapping
from typing import Any

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Finding, Severity, codes
from specgen.facts import facts_of
from specgen.frozen import frozen
from specgen.limits.build_text import joined, text_of
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.solver import BoolVar, Goal
from specgen.model import Build, Definitions, Drive, Fill, Part, condensed, expand
from specgen.rules import judge

MOST_OFFERED = 3


@frozen
class Change:
    """What differs from the build asked about; `now` is None where a position becomes empty."""

    names: tuple[str, ...]
    before: str | None
    now: str | None
    why: Finding | None = None

    @property
    def words(self) -> str:
        """As an author would say it."""
        where = condensed(self.names)
        if self.now is None:
            return f"leave {where} empty (was {self.before})"
        if self.before is None:
            return f"fit {self.now} in {where}"
        return f"fit {self.now} in {where} in place of {self.before}"


@frozen
class Proposal:
    """A valid build and what it changes, as YAML in `text`."""

    build: Build
    text: str
    changes: tuple[Change, ...]


def nearest(
    definitions: Definitions, build: Build, most: int = MOST_OFFERED
) -> tuple[Proposal, ...]:
    """The valid builds of fewest changed positions, the nearest first. Raises what `Solver` does.

    Each further one changes other positions, or changes them to other parts.
    """
    solver = _solver(definitions, build)
    fills = _fills(build)
    change = _distance(solver, fills) * (len(solver.nodes) + 1) + _strange(solver, fills)
    model = solver.model(_drives(solver, build))
    found: list[Proposal] = []
    for _ in range(most):
        proposal = solver.seek(model, Goal(change, most=False, sums=False), "near", build)
        if not isinstance(proposal, FoundBuild):
            break
        found.append(_proposal(solver, build, fills, proposal.build, why=False))
        model.add_bool_or(list(_otherwise(solver, proposal)))
    return tuple(found)


def completed(definitions: Definitions, build: Build, least: str = "parts") -> Proposal | None:
    """A build filled up until it is sound: what it has stays, `least` of the rest is added.

    `least` is `price`, `power`, `mass` or `parts`; of equals the one of fewest parts, and of these
    the one with more parts that the build has already. None where no valid build holds all that
    it has. Raises what `Solver` does, and `Unpriced`.
    """
    solver = _solver(definitions, build)
    fills = _fills(build)
    held = list(_held(solver, fills))
    if len(held) < len(fills):
        return None
    held += _drives(solver, build)
    cost = _cost(solver, least)
    weight = len(solver.nodes) + 1
    tidy = solver.parts * weight + _strange(solver, fills)
    goal = Goal(cost * weight * weight + tidy, most=False, sums=least != "parts")
    found = solver.seek(solver.model(held), goal, "full", build)
    return (
        _proposal(solver, build, fills, found.build, why=True)
        if isinstance(found, FoundBuild)
        else None
    )


def _solver(definitions: Definitions, build: Build) -> Solver:
    platform = definitions.platforms[build.platform]
    if any(entry.code == codes.PLANNED_PART.id for entry in build.allow):
        definitions = definitions.with_planned()
    return Solver(definitions, platform, build.conditions, published=build.published)


class Unpriced(Exception):
    """A part that could be added declares no price."""


def _fills(build: Build) -> dict[str, Fill]:
    return {name: fill for text, fill in build.fit.items() for name in expand(text)}


def _held(solver: Solver, fills: Mapping[str, Fill]) -> Iterator[BoolVar]:
    """The choices that a build has made, those that the model knows."""
    both, either = solver.logic.both, solver.logic.either
    for name, fill in fills.items():
        options = []
        for seat in solver.builds.at_name(name):
            end = solver.wiring.ends.get((seat.node.index, fill.to or ""))
            if seat.part.id == fill.part and (fill.to is None or end is not None):
                options.append(both([seat.sits, *(() if end is None else (end,))]))
        if options:
            yield either(options)


def _drives(solver: Solver, build: Build) -> Iterator[BoolVar]:
    """That there are drives where the volumes of a build say so, and a controller for each level.

    What volumes want beyond that is left to the checks.
    """
    for volume in build.volumes:
        able = (s for s in solver.builds.working(Part) if volume.level in _levels(s.part))
        yield solver.logic.either(seat.works for seat in able)
        for text in (*volume.drives, *volume.spares):
            for name in expand(text):
                drives = (s.sits for s in solver.builds.at_name(name) if s.part.kind == Drive.kind)
                yield solver.logic.either(drives)


def _levels(part: Part) -> tuple[int, ...]:
    levels: tuple[int, ...] = getattr(part, "raid", ())
    return levels


def _distance(solver: Solver, fills: Mapping[str, Fill]) -> Any:
    """How many positions are filled otherwise than given."""
    kept = sum(_held(solver, fills))
    elsewhere = sum(seat.sits for seat in solver.free if seat.node.name not in fills)
    return len(fills) - kept + elsewhere


def _strange(solver: Solver, fills: Mapping[str, Fill]) -> Any:
    """How many parts are of models that the build does not have yet."""
    known = {fill.part for fill in fills.values()}
    return sum(seat.sits for seat in solver.free if seat.part.id not in known)


def _otherwise(solver: Solver, proposal: FoundBuild) -> Iterator[BoolVar]:
    """Not every choice of a build again."""
    return (seat.sits.negated() for seat in solver.free if proposal.answer.holds[seat.sits.index])


def _cost(solver: Solver, least: str) -> Any:
    if least == "parts":
        return 0
    if least in ("power", "mass"):
        return solver.totals[least][0]
    unpriced = sorted({seat.part.id for seat in solver.free if seat.part.price is None})
    if unpriced:
        raise Unpriced(f"no price is declared for {', '.join(unpriced[:5])}")
    return sum((seat.part.price or 0) * seat.sits for seat in solver.free)


def _proposal(
    solver: Solver, build: Build, fills: Mapping[str, Fill], proposal: Build, *, why: bool
) -> Proposal:
    now = _fills(proposal)
    differing: dict[tuple[str | None, str | None], list[str]] = {}
    for name in {**fills, **now}:
        before, after = fills.get(name), now.get(name)
        if before != after:
            key = tuple(_fill_words(solver, fill) for fill in (before, after))
            differing.setdefault(key, []).append(name)  # type: ignore[arg-type]
    changes = tuple(
        Change(
            tuple(names), before, after,
            _missed(solver, build, now, names) if why else None,
        )
        for (before, after), names in differing.items()
    )  # fmt: skip
    whole = joined(build, now)
    return Proposal(whole, text_of(whole, build.conditions), changes)


def _fill_words(solver: Solver, fill: Fill | None) -> str | None:
    if fill is None:
        return None
    part = solver.definitions.parts.get(fill.part)
    name = fill.part if part is None else part.name
    return name if fill.to is None else f"{name} to {fill.to}"


def _missed(
    solver: Solver, build: Build, now: Mapping[str, Fill], names: list[str]
) -> Finding | None:
    """What the checks say without these positions filled."""
    fit = {name: fill for name, fill in now.items() if name not in names}
    assembly: Assembly = assemble(
        solver.definitions, solver.platform, joined(build, fit), solver.at
    )
    errors = (f for f in judge(assembly, facts_of(assembly)) if f.severity is Severity.ERROR)
    return next(errors, None)
