"""The valid builds nearest to one that is not whole or not sound."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any, Final

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Finding, Severity, codes
from specgen.facts import facts_of
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.limits.build_model import Seat
from specgen.limits.build_text import fills_of, joined, text_of, written
from specgen.limits.remedies import Remedies
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.solver import Goal
from specgen.limits.sums import BoolVar
from specgen.limits.tidiness import emptied, lacking, models, strange
from specgen.limits.wiring import Asks
from specgen.messages import Message, listed, say
from specgen.model import (
    ANYWHERE,
    CONDITIONS,
    Build,
    Conditions,
    Definitions,
    Drive,
    Fill,
    Part,
    condensed,
    expand,
)
from specgen.rules import judge

MOST_OFFERED: Final = 3
MOST_RETRIED: Final = 24
"""Changed positions up to which each change is tried without."""
MOST_REPEATED: Final = 2
"""Answers beyond those offered: that come down to one before, or strip the server."""
MOST_EMPTIED: Final = 8
"""Positions that a further proposal may leave empty beyond the nearest: fewer than a processor's
memory, so that no server is stripped to mend one part."""
LACK: Final = 2
"""What a position where something is missing weighs, in changed positions."""


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
class Split:
    """A line of a build that holds positions which change, and the lines in its place."""

    text: str
    lines: tuple[str, ...]

    @property
    def divides(self) -> bool:
        """Whether a range does not stay one."""
        return bool(self.lines) and not self.lines[0].startswith(f"{self.text}:")


@frozen
class Proposal:
    """A valid build and what it changes, as YAML in `text`."""

    build: Build
    text: str
    changes: tuple[Change, ...]
    split: tuple[Split, ...] = ()
    """The lines of the build that are written otherwise than before."""


def nearest(
    definitions: Definitions,
    build: Build,
    most: int = MOST_OFFERED,
    keep: Collection[str] = (),
    at: Conditions = ANYWHERE,
) -> tuple[Proposal, ...]:
    """The valid builds of fewest changed positions, the nearest first. Raises what `Solver` does.

    Each further one takes another kind of remedy, as long as there are any; none holds all that
    another changes. Positions of the names in `keep` stay as they are. Conditions `at` go
    before those that the build states.
    """
    solver = _solver(definitions, build, at)
    fills = fills_of(build)
    held = _kept(solver, fills, keep)
    if held is None:
        return ()
    change, remedies = _distance(solver, fills), Remedies(solver, fills)
    model, builds = solver.model([*held, *_drives(solver, build)], started=False), solver.builds
    change += LACK * lacking(builds, model, fills)
    rest = strange(builds, fills) + LACK * emptied(builds, fills) + models(builds, model)
    goal = Goal(change * 4 * (len(solver.nodes) + 1) + rest, most=False, sums=False)
    for seat in solver.free:
        fill = fills.get(seat.node.name)
        model.add_hint(seat.sits, fill is not None and fill.part == seat.part.id)
    others = model.clone()  # in which no kind of remedy comes again
    found: list[Mapping[str, Fill]] = []
    for _ in range(most + MOST_REPEATED):
        raw = _sought(solver, others, goal, build) or _sought(solver, model, goal, build)
        if raw is None or len(found) == most:
            break
        now = _without_needless(solver, build, fills, raw)
        # what an earlier one holds, and more, lacks something that was worth the more
        lesser = any(_more_than(fills, other, now) for other in found)
        if not lesser and (not found or _stripped(fills, now, found[0]) <= MOST_EMPTIED):
            found.append(now)
        if now == fills:
            break
        for each in (model, others):
            remedies.rule_out(each, now)
            if raw != now:
                remedies.rule_out(each, raw)
        others.add_bool_or([each.negated() for each in remedies.kinds_taken(now)])
    return tuple(
        _proposal(solver, build, fills, now, why=False)
        for now in found
        if not any(_more_than(fills, now, other) for other in found if other is not now)
    )


def _sought(solver: Solver, model: Any, goal: Goal, build: Build) -> Mapping[str, Fill] | None:
    """The parts of the nearest build that the checks accept.

    What a first answer leaves as it is stays so for a second: the best of a small question is
    found where time was too short for the whole one.
    """
    found, fills = solver.seek(model, goal, "near", build), fills_of(build)
    if not isinstance(found, FoundBuild):
        return None
    now = fills_of(found.build)
    if found.answer.value > found.answer.bound:
        closer = model.clone()
        for seat in solver.free:
            name, fill = seat.node.name, fills.get(seat.node.name)
            if now.get(name) == fill:
                as_is = fill is not None and fill.part == seat.part.id
                closer.add_bool_or([seat.sits if as_is else seat.sits.negated()])
        better = solver.seek(closer, goal, "near", build)
        if isinstance(better, FoundBuild):
            return fills_of(better.build)
    return now


def completed(
    definitions: Definitions,
    build: Build,
    least: str = "parts",
    keep: Collection[str] | None = None,
    at: Conditions = ANYWHERE,
) -> Proposal | None:
    """A build filled up until it is sound: what it has stays, `least` of the rest is added.

    `least` is `price`, `power`, `mass` or `parts`; of equals the one of fewest parts, and of these
    the one with more parts that the build has already. With `keep` only the positions of these
    names must stay as they are; of the others as few as can be change. None where no valid build
    holds all that it has. Raises what `Solver` does, and `Unpriced`.
    """
    solver = _solver(definitions, build, at)
    fills = fills_of(build)
    held = _kept(solver, fills, fills if keep is None else keep)
    if held is None:
        return None
    held += _drives(solver, build)
    weight = 2 * (len(solver.nodes) + 1)
    distance = _distance(solver, fills)
    model, builds = solver.model(held), solver.builds
    whole = solver.parts + LACK * lacking(builds, model, fills)
    tidy = whole * weight + strange(builds, fills) + models(builds, model)
    if keep is not None:
        near = solver.seek(model.clone(), Goal(distance, most=False, sums=False), "full", build)
        if not isinstance(near, FoundBuild):
            return None
        model.add(distance <= near.answer.value)
    goal = Goal(_cost(solver, least) * weight * weight + tidy, most=False, sums=least != "parts")
    found = solver.seek(model, goal, "full", build)
    if not isinstance(found, FoundBuild):
        return None
    return _proposal(solver, build, fills, fills_of(found.build), why=keep is None)


def _solver(definitions: Definitions, build: Build, at: Conditions) -> Solver:
    platform = definitions.platforms[build.platform]
    if any(entry.code == codes.PLANNED_PART.id for entry in build.allow):
        definitions = definitions.with_planned()
    asked = {name: getattr(at, name) for name in CONDITIONS if getattr(at, name) is not None}
    conditions = replace(build.conditions, **asked)
    return Solver(definitions, platform, conditions, published=build.published)


class Unpriced(Exception):
    """A part that could be added declares no price."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


def _kept(
    solver: Solver, fills: Mapping[str, Fill], names: Collection[str]
) -> list[BoolVar] | None:
    """That positions stay as they are, filled or empty; None where the model knows no such fill."""
    held: list[BoolVar] = []
    for name in names:
        if name in fills:
            literal = _held(solver, name, fills[name])
            if literal is None:
                return None
            held.append(literal)
        else:
            held += (seat.sits.negated() for seat in solver.builds.at_name(name))
    return held


def _held(solver: Solver, name: str, fill: Fill) -> BoolVar | None:
    """That a position is filled so; None where no build can have that."""
    both, options = solver.logic.both, []
    for seat in solver.builds.at_name(name):
        end = solver.wiring.ends.get((seat.node.index, fill.to or ""))
        if seat.part.id == fill.part and (fill.to is None or end is not None):
            options.append(both([seat.sits, *(() if end is None else (end,))]))
    return solver.logic.either(options) if options else None


def _drives(solver: Solver, build: Build) -> Iterator[BoolVar]:
    """That there are drives where the volumes of a build say so, each behind a controller for the
    level of its volume.

    What volumes want beyond that is left to the checks.
    """
    either = solver.logic.either
    for volume in build.volumes:
        able = (s for s in solver.builds.working(Part) if volume.level in _levels(s.part))
        yield either(seat.works for seat in able)
        joined_at = Asks(raid=volume.level)
        for text in (*volume.drives, *volume.spares):
            for name in expand(text):
                drives = [s for s in solver.builds.at_name(name) if s.part.kind == Drive.kind]
                yield either(seat.sits for seat in drives)
                for lead, seats in _by_lead(drives).items():
                    here = either(seat.sits for seat in seats).negated()
                    yield either([here, solver.wiring.reached(lead, joined_at)])


def _by_lead(seats: Iterable[Seat]) -> Mapping[str, list[Seat]]:
    leads = ((seat.node.place.lead, seat) for seat in seats)
    return grouped((lead.from_, seat) for lead, seat in leads if lead is not None)


def _levels(part: Part) -> tuple[int, ...]:
    levels: tuple[int, ...] = getattr(part, "raid", ())
    return levels


def _distance(solver: Solver, fills: Mapping[str, Fill]) -> Any:
    """How many positions are filled otherwise than given."""
    held = (_held(solver, name, fill) for name, fill in fills.items())
    kept = sum(each for each in held if each is not None)
    elsewhere = sum(seat.sits for seat in solver.free if seat.node.name not in fills)
    return len(fills) - kept + elsewhere


def _stripped(
    fills: Mapping[str, Fill], now: Mapping[str, Fill], nearest_one: Mapping[str, Fill]
) -> int:
    """How many positions more a proposal leaves empty than the nearest."""
    now_out, nearest_out = (sum(name not in each for name in fills) for each in (now, nearest_one))
    return now_out - nearest_out


def _cost(solver: Solver, least: str) -> Any:
    if least == "parts":
        return 0
    if least in ("power", "mass"):
        return solver.totals[least][0]
    unpriced = sorted({seat.part.id for seat in solver.free if seat.part.price is None})
    if unpriced:
        raise Unpriced(say("no price is declared for {parts}", parts=listed(unpriced[:5])))
    return sum((seat.part.price or 0) * seat.sits for seat in solver.free)


def _judged(solver: Solver, build: Build, fills: Mapping[str, Fill]) -> tuple[Finding, ...]:
    """What all checks say of a build with these parts, under its own conditions."""
    assembly: Assembly = assemble(
        solver.definitions, solver.platform, joined(build, fills), solver.at
    )
    return judge(assembly, facts_of(assembly))


def _errors(solver: Solver, build: Build, fills: Mapping[str, Fill]) -> list[Finding]:
    """What the checks refuse of it."""
    found = _judged(solver, build, fills)
    return [each for each in found if each.severity is Severity.ERROR]


def _without_needless(
    solver: Solver, build: Build, fills: Mapping[str, Fill], now: Mapping[str, Fill]
) -> Mapping[str, Fill]:
    """A proposal less each change that it passes the checks without, no more being said of it.

    A part that gives way to one of another kind need not do so where its position may be empty.
    """
    differing = [name for name in {**fills, **now} if fills.get(name) != now.get(name)]
    if len(differing) > MOST_RETRIED:
        return now
    said = Counter(each.severity for each in _judged(solver, build, now))
    kinds = solver.definitions.parts
    for name in differing:
        trials = [{other: fill for other, fill in now.items() if other != name}]
        if name in fills:
            before, after = (
                kinds.get(fills[name].part),
                kinds.get(now[name].part) if name in now else None,
            )
            empty = trials[0]
            trials = [{**empty, name: fills[name]}]
            if before is not None and after is not None and before.kind != after.kind:
                trials.append(empty)
        for trial in trials:
            found = Counter(each.severity for each in _judged(solver, build, trial))
            if not found[Severity.ERROR] and found <= said:
                now, said = trial, found
                break
    return now


def _more_than(
    fills: Mapping[str, Fill], now: Mapping[str, Fill], other: Mapping[str, Fill]
) -> bool:
    """Whether a proposal changes all that another changes, in the same way."""
    names = [name for name in {**fills, **other} if fills.get(name) != other.get(name)]
    return all(now.get(name) == other.get(name) for name in names)


def _proposal(
    solver: Solver, build: Build, fills: Mapping[str, Fill], now: Mapping[str, Fill], *, why: bool
) -> Proposal:
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
    return Proposal(whole, text_of(whole, build.conditions), changes, tuple(_split(build, whole)))


def _split(build: Build, whole: Build) -> Iterator[Split]:
    for text, fill in build.fit.items():
        names = set(expand(text))
        if whole.fit.get(text) != fill:
            pieces = (
                (each, filled) for each, filled in whole.fit.items() if names & {*expand(each)}
            )
            yield Split(text, tuple(f"{each}: {written(filled)}" for each, filled in pieces))


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
    errors = _errors(solver, build, {n: fill for n, fill in now.items() if n not in names})
    return errors[0] if errors else None
