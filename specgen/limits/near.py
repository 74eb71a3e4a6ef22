"""The valid builds nearest to one that is not whole or not sound."""

from collections.abc import Iterator, Mapping
from typing import Any

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Finding, Severity
from specgen.facts import facts_of
from specgen.frozen import frozen
from specgen.limits.solve import Found, Solver
from specgen.limits.solver import Goal, Literal
from specgen.limits.write import joined, text_of
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
class Near:
    """A valid build and what it changes, as YAML in `text`."""

    build: Build
    text: str
    changes: tuple[Change, ...]


def nearest(definitions: Definitions, build: Build, most: int = MOST_OFFERED) -> tuple[Near, ...]:
    """The valid builds of fewest changed positions, the nearest first. Raises what `Solver` does.

    Each further one changes other positions, or changes them to other parts.
    """
    solver = _solver(definitions, build)
    given = _given(build)
    change = _distance(solver, given) * (len(solver.nodes) + 1) + _strange(solver, given)
    model = solver.model(_drives(solver, build))
    found: list[Near] = []
    for _ in range(most):
        near = solver.seek(model, Goal(change, most=False, sums=False), "near", build)
        if not isinstance(near, Found):
            break
        found.append(_told(solver, build, given, near.build, why=False))
        model.add_bool_or(list(_otherwise(solver, near)))
    return tuple(found)


def completed(definitions: Definitions, build: Build, least: str = "parts") -> Near | None:
    """A build filled up until it is sound: what it has stays, `least` of the rest is added.

    `least` is `price`, `power`, `mass` or `parts`; of equals the one of fewest parts, and of these
    the one with more parts that the build has already. None where no valid build holds all that
    it has. Raises what `Solver` does, and `Unpriced`.
    """
    solver = _solver(definitions, build)
    given = _given(build)
    held = list(_held(solver, given))
    if len(held) < len(given):
        return None
    held += _drives(solver, build)
    cost = _cost(solver, least)
    weight = len(solver.nodes) + 1
    tidy = solver.parts * weight + _strange(solver, given)
    goal = Goal(cost * weight * weight + tidy, most=False, sums=least != "parts")
    found = solver.seek(solver.model(held), goal, "full", build)
    return _told(solver, build, given, found.build, why=True) if isinstance(found, Found) else None


def _solver(definitions: Definitions, build: Build) -> Solver:
    platform = definitions.platforms[build.platform]
    return Solver(definitions, platform, build.conditions, published=build.published)


class Unpriced(Exception):
    """A part that could be added declares no price."""


def _given(build: Build) -> dict[str, Fill]:
    return {name: fill for text, fill in build.fit.items() for name in expand(text)}


def _held(solver: Solver, given: Mapping[str, Fill]) -> Iterator[Literal]:
    """The choices that a build has made, those that the model knows."""
    both, either = solver.puzzle.both, solver.puzzle.either
    for name, fill in given.items():
        ways = []
        for seat in solver.machine.at_name(name):
            end = solver.wiring.ends.get((seat.node.index, fill.to or ""))
            if seat.part.id == fill.part and (fill.to is None or end is not None):
                ways.append(both([seat.sits, *(() if end is None else (end,))]))
        if ways:
            yield either(ways)


def _drives(solver: Solver, build: Build) -> Iterator[Literal]:
    """That there are drives where the volumes of a build say so, and a controller for each level.

    What volumes want beyond that is left to the checks.
    """
    for volume in build.volumes:
        able = (s for s in solver.machine.working(Part) if volume.level in _levels(s.part))
        yield solver.puzzle.either(seat.works for seat in able)
        for text in (*volume.drives, *volume.spares):
            for name in expand(text):
                drives = (s.sits for s in solver.machine.at_name(name) if s.part.kind == Drive.kind)
                yield solver.puzzle.either(drives)


def _levels(part: Part) -> tuple[int, ...]:
    levels: tuple[int, ...] = getattr(part, "raid", ())
    return levels


def _distance(solver: Solver, given: Mapping[str, Fill]) -> Any:
    """How many positions are filled otherwise than given."""
    kept = sum(_held(solver, given))
    elsewhere = sum(seat.sits for seat in solver.free if seat.node.name not in given)
    return len(given) - kept + elsewhere


def _strange(solver: Solver, given: Mapping[str, Fill]) -> Any:
    """How many parts are of models that the build does not have yet."""
    known = {fill.part for fill in given.values()}
    return sum(seat.sits for seat in solver.free if seat.part.id not in known)


def _otherwise(solver: Solver, near: Found) -> Iterator[Literal]:
    """Not every choice of a build again."""
    return (seat.sits.negated() for seat in solver.free if near.answer.holds[seat.sits.index])


def _cost(solver: Solver, least: str) -> Any:
    if least == "parts":
        return 0
    if least in ("power", "mass"):
        return solver.totals[least][0]
    unpriced = sorted({seat.part.id for seat in solver.free if seat.part.price is None})
    if unpriced:
        raise Unpriced(f"no price is declared for {', '.join(unpriced[:5])}")
    return sum((seat.part.price or 0) * seat.sits for seat in solver.free)


def _told(
    solver: Solver, build: Build, given: Mapping[str, Fill], near: Build, *, why: bool
) -> Near:
    now = _given(near)
    differing: dict[tuple[str | None, str | None], list[str]] = {}
    for name in {**given, **now}:
        before, after = given.get(name), now.get(name)
        if before != after:
            key = tuple(_said(solver, fill) for fill in (before, after))
            differing.setdefault(key, []).append(name)  # type: ignore[arg-type]
    changes = tuple(
        Change(
            tuple(names), before, after,
            _missed(solver, build, now, names) if why else None,
        )
        for (before, after), names in differing.items()
    )  # fmt: skip
    whole = joined(build, now)
    return Near(whole, text_of(whole, build.conditions), changes)


def _said(solver: Solver, fill: Fill | None) -> str | None:
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
