"""Parts in positions that cannot be used, or that must not stay empty."""

from collections.abc import Iterator

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.messages import Within, Words, listed, say
from specgen.rules.places import by_line, names, reported_at, unsettled_kinds
from specgen.rules.positions import known_anywhere

MOST_LABELS = 6


def unusable(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG311 and SG312: one finding for each reason, at the first line that it concerns."""
    reported = reported_at(assembly)
    missing = {place.declared_at for place in _left_empty(assembly)}
    groups: dict[tuple[Words, Span | None], list[Place]] = {}
    for place in assembly.places.values():
        if place.state not in (State.UNUSABLE, State.BLOCKED) or place.filled_at is None:
            continue
        if place.because_of in reported or place.because_of in missing:
            continue
        if _of_nothing(assembly, place):
            continue
        groups.setdefault((place.reason, place.because_of), []).append(place)
    for (reason, because_of), places in groups.items():
        places.sort(key=lambda place: place.state is not State.BLOCKED)
        lines = by_line(places)
        first = lines[0]
        labels = [
            Label(line[0].at, say("{places} as well", places=names(line)))
            for line in lines[1:MOST_LABELS]
        ]
        if because_of is not None:
            labels.append(Label(because_of, say("because of this")))
        blocked = any(place.state is State.BLOCKED for place in places)
        part = first[0].part or first[0].closed_by
        what = (
            say("{places} is taken away: {reason}")
            if blocked
            else say("{places} cannot be used: {reason}")
        )
        yield Finding(
            codes.BLOCKED_POSITION if blocked else codes.UNUSABLE_POSITION,
            what.filled(places=names(first), reason=reason),
            Label(first[0].at, say("nothing can be fitted here") if part else ""),
            labels=tuple(labels),
        )


def _of_nothing(assembly: Assembly, place: Place) -> bool:
    """Whether it belongs to a position that no system has, which is told where that is written."""
    name, at = place.of, place.because_of
    if name is None or name in assembly.places or at != place.declared_at:
        return False
    return not known_anywhere(assembly.definitions, name)


def _left_empty(assembly: Assembly) -> Iterator[Place]:
    for place in assembly.places.values():
        if place.position.must and place.state is State.EMPTY and place.closed_by is None:
            yield place


def must_be_filled(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG318: positions that a system must not run without."""
    build = assembly.build
    if build is None:
        return
    known = unsettled_kinds(assembly)
    groups: dict[Span, list[Place]] = {}
    for place in _left_empty(assembly):
        if known.isdisjoint(place.position.takes):
            groups.setdefault(place.declared_at, []).append(place)
    for declared, places in groups.items():
        titles = assembly.definitions.titles(places[0].position.takes)
        kinds = listed(map(Within, titles), "or")
        yield Finding(
            codes.POSITION_MUST_BE_FILLED,
            say("{places} must not stay empty", places=names(places)),
            Label(
                build.origin.key("fit"),
                say("no {kinds} for {places}", kinds=kinds, places=names(places)),
            ),
            labels=(Label(declared, say("must be filled")),),
            help=say("add a {kinds} for {places}", kinds=kinds, places=names(places)),
        )
