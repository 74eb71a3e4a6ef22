"""Places and parts as checks see them: reported once, at the line an author can change."""

from collections.abc import Iterable, Iterator
from typing import Any, Final

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Span, codes
from specgen.fitness import Refusal, field_of, refusals, within
from specgen.fitness.part_fields import can_state, kinds_with
from specgen.fitness.table import KIND
from specgen.messages import Words
from specgen.model import Part, places

SOCKET: Final = codes.WRONG_SOCKET


def settled(assembly: Assembly, stated: str = "id") -> Iterator[tuple[Place, Any]]:
    """Fitted parts that state a trait and go into their places; `fit` has found the others."""
    return iter(assembly.once((settled, stated), lambda: tuple(_settled(assembly, stated))))


def _settled(assembly: Assembly, stated: str) -> Iterator[tuple[Place, Part]]:
    if stated != "id":
        kinds = {type(part) for _, part in settled(assembly)}
        kinds = {kind for kind in kinds if can_state(kind, stated)}
        members = settled(assembly) if kinds else ()
        yield from (
            each
            for each in members
            if type(each[1]) in kinds and field_of(each[1], stated) is not None
        )
        return
    out = {place.name for place, _ in kept_out(assembly)}
    yield from (each for each in assembly.fitted(Part) if each[0].name not in out)


def kept_out(assembly: Assembly) -> list[tuple[Place, Part]]:
    """Fitted parts that do not go into their places."""
    found = {name for name, refusals in _all_refused(assembly).items() if _keep_out(refusals)}
    return [each for each in assembly.fitted(Part) if each[0].name in found] if found else []


def refused(assembly: Assembly, place: Place) -> tuple[Refusal, ...]:
    """In what the part of a place, or what closes it, does not suit it; worked out once."""
    return _all_refused(assembly).get(place.name, ())


def _all_refused(assembly: Assembly) -> dict[str, tuple[Refusal, ...]]:
    return assembly.once(refused, lambda: _refused(assembly))


def is_settled(assembly: Assembly, place: Place) -> bool:
    """Whether what fills a place goes into it."""
    return not _keep_out(refused(assembly, place))


def _keep_out(found: Iterable[Refusal]) -> bool:
    return any(each.requirement.goes_in for each in found)


def _refused(assembly: Assembly) -> dict[str, tuple[Refusal, ...]]:
    surroundings, found = within(assembly), {}
    for name, place in assembly.places.items():
        part = place.part or place.closed_by
        if part is not None and (refusal := tuple(refusals(place, part, surroundings))):
            found[name] = refusal
    return found


def places_for(assembly: Assembly, stated: str) -> list[Place]:
    """Positions that take what can state a trait."""
    return assembly.once((places_for, stated), lambda: _places_for(assembly, stated))


def _places_for(assembly: Assembly, stated: str) -> list[Place]:
    kinds = kinds_with(assembly.definitions, stated)
    return [each for each in assembly.places.values() if not kinds.isdisjoint(each.position.takes)]


def names(found: Iterable[Place]) -> Words:
    """The names of places in short form: BAY 0 to 7."""
    return places(tuple(place.name for place in found))


def by_line(places: Iterable[Place]) -> tuple[tuple[Place, ...], ...]:
    """Places filled by the same line of the build, in the order of their first."""
    groups: dict[Span, list[Place]] = {}
    for place in places:
        groups.setdefault(place.at, []).append(place)
    return tuple(tuple(group) for group in groups.values())


def unsettled_kinds(assembly: Assembly) -> frozenset[str]:
    """Kinds of which the build names a part that reached no position, or that nobody defines.

    A finding has said so; checks that would miss exactly these parts stay silent.
    """
    return assembly.once(unsettled_kinds, lambda: _unsettled_kinds(assembly))


def _unsettled_kinds(assembly: Assembly) -> frozenset[str]:
    kinds = {entry.part.kind for entry in assembly.absent if entry.part is not None}
    if any(entry.part is None for entry in assembly.absent):
        kinds |= {kind for place in assembly.places.values() for kind in place.position.takes}
    for place in assembly.places.values():
        if place.state is State.UNKNOWN:
            kinds |= set(place.position.takes)
    return frozenset(kinds)


def reported_at(assembly: Assembly) -> frozenset[Span]:
    """Places of what has been told already: names that lead nowhere, parts nobody defines, parts
    of another kind than their position takes or for another socket."""
    wrong = {
        name
        for name, found in _all_refused(assembly).items()
        if any(each.requirement.code in (KIND.code, SOCKET) for each in found)
    }
    unknown = {
        place.at
        for name, place in assembly.places.items()
        if place.state is State.UNKNOWN or name in wrong
    }
    absent = {entry.span for entry in assembly.absent}
    return frozenset(unknown | absent | {finding.at.span for finding in assembly.findings})


def in_build(assembly: Assembly, span: Span) -> bool:
    """Whether a place lies in the file of the build itself."""
    build = assembly.build
    return build is not None and span.file in build.origin.files


def condition_at(assembly: Assembly, name: str) -> Span | None:
    """Where the build itself states a condition; None where it comes from elsewhere."""
    span = assembly.conditions_at.get(name)
    return span if span is not None and in_build(assembly, span) else None
