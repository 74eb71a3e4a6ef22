"""What goes with another finding, apart from values: positions, parts that do not go in, prose.

`gathered` asks here first. As there, nothing is taken out that leaves no error behind.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, Severity, Span, codes, nearest_numbers
from specgen.frozen import frozen
from specgen.messages import Message, say, say_many
from specgen.model import BadRange, expand

SEVERAL: Final = 3
"""So many builds that fail at one line of a definition are no mistakes of their own."""
MOST_NAMED: Final = 5
NOT_FITTING: Final = frozenset(
    {
        codes.WRONG_KIND, codes.WRONG_SOCKET, codes.WRONG_CONNECTOR, codes.WRONG_KEY,
        codes.TOO_TALL, codes.TOO_LONG, codes.NOT_LISTED,
    }
)  # fmt: skip
"""A part that does not go in; what it lacks there says nothing."""
AFTER_FIT: Final = frozenset({codes.UNKNOWN_ENDPOINT, codes.LANES_OVERCOMMITTED})


@frozen
class Told:
    """A finding of a build."""

    assembly: Assembly
    finding: Finding

    @property
    def system(self) -> str:
        build = self.assembly.build
        return build.id if build is not None else self.assembly.platform.id


Split = tuple[list[Finding], list[Told]]


def once(own: list[Finding], told: list[Told]) -> Split:
    """What was found in all files and in builds, less what goes with another finding."""
    own, told = _of_definitions(own, told)
    told = _without_children(told)
    told = _without_unfit(told)
    if any(each.severity is Severity.ERROR and each.code.id < "SG3" for each in own):
        # what is allowed may come back with what is mended
        told = [each for each in told if each.finding.code is not codes.UNUSED_ALLOW]
    broken = {each.system for each in told if each.finding.severity is Severity.ERROR}
    told = [
        each
        for each in told
        if each.system not in broken or each.finding.code is not codes.MEASURED_OTHER_PARTS
    ]
    own, told = _absent(own, told)
    return _prose(own, told), told


def _of_definitions(own: list[Finding], told: list[Told]) -> Split:
    """Mistakes of one line are told once, whoever shares it; a position that is brought twice is
    a mistake of its definition, though builds find it, and what a build makes of it goes with it.
    """
    twice = [each for each in told if each.finding.code is codes.DUPLICATE_POSITION]
    own = [*own, *dict.fromkeys(each.finding for each in twice)]
    first: dict[tuple[Code, Span, str], Finding] = {}
    for each in own:
        first.setdefault((each.code, each.at.span, str(each.message)), each)
    files = {each.finding.at.span.file for each in twice}
    kept = [
        each
        for each in first.values()
        if each.code is not codes.UNKNOWN_POSITION or each.at.span.file not in files
    ]
    systems = {each.system for each in twice}
    follows = frozenset({codes.DUPLICATE_POSITION, *AFTER_TWICE})
    left = [x for x in told if not (x.system in systems and x.finding.code in follows)]
    filled = {x.system for x in left if x.finding.code is codes.POSITION_FILLED_TWICE}
    left = [x for x in left if x.system not in filled or x.finding.code not in AFTER_TWICE]
    return kept, left


AFTER_TWICE: Final = (
    codes.UNKNOWN_POSITION,
    codes.POSITION_MUST_BE_FILLED,
    codes.UNBALANCED_MEMORY,
    codes.MIXED_MEMORY,
)
"""What a build finds where a position has the name of another."""


def _names(finding: Finding) -> frozenset[str]:
    """The positions that a finding says are not there."""
    arguments = dict(finding.message.arguments)
    text = next((arguments[key] for key in ("names", "missing", "name") if key in arguments), "")
    found: set[str] = set()
    for each in str(text).replace(" and ", ", ").split(", "):
        try:
            found.update(expand(each.replace(" to ", "..")))
        except BadRange:
            found.add(each)
    return frozenset(found)


def _missing(each: Told) -> bool:
    return each.finding.code is codes.UNKNOWN_POSITION


def _without_children(told: list[Told]) -> list[Told]:
    """Of a position that is not there and of those that its part would bring, the first alone."""
    absent: dict[str, set[str]] = {}
    for each in told:
        if _missing(each):
            absent.setdefault(each.system, set()).update(_names(each.finding))

    def child(each: Told) -> bool:
        parents = absent.get(each.system, ())
        return _missing(each) and all(
            any(name.startswith(f"{parent}.") for parent in parents)
            for name in _names(each.finding)
        )

    return [each for each in told if not child(each)]


def _without_unfit(told: list[Told]) -> list[Told]:
    """What a part lacks where it does not go in anyway."""
    unfit: dict[str, set[tuple[str, int]]] = {}
    for each in told:
        if each.finding.code in NOT_FITTING:
            lines = unfit.setdefault(each.system, set())
            for place, part in each.assembly.everything():
                if place.filled_at == each.finding.at.span:
                    lines |= {(span.file, span.line) for span in part.origin.everywhere()}
    return [
        each
        for each in told
        if each.finding.code not in AFTER_FIT
        or (each.finding.at.span.file, each.finding.at.span.line) not in unfit.get(each.system, ())
    ]


def _absent(own: list[Finding], told: list[Told]) -> Split:
    """A position that builds fill and that a platform no longer has: said once, where the platform
    speaks of it, or has the nearest."""
    known = {
        name: at
        for at, each in enumerate(own)
        if each.code is codes.UNKNOWN_POSITION
        for name in _names(each)
    }
    groups: dict[tuple[str, frozenset[str]], list[int]] = {}
    for at, one in enumerate(told):
        if _missing(one) and one.finding.at.span.file.startswith("configured/"):
            groups.setdefault((one.assembly.platform.id, _names(one.finding)), []).append(at)
    made, gone = [*own], set[int]()
    for (_, names), members in groups.items():
        told_at = next((known[name] for name in sorted(names) if name in known), None)
        labels = _labels(told, members)
        if told_at is not None:
            made[told_at] = replace(made[told_at], labels=(*made[told_at].labels, *labels))
        elif len(members) >= SEVERAL:
            made.append(_of_platform(told[members[0]], labels, len(members)))
        else:
            continue
        gone.update(members)
    return made, [each for at, each in enumerate(told) if at not in gone]


def _labels(told: Sequence[Told], members: Sequence[int]) -> tuple[Label, ...]:
    spans = dict.fromkeys(told[at].finding.at.span for at in members)
    return tuple(Label(span, say("filled here")) for span in [*spans][:MOST_NAMED])


def _of_platform(first: Told, labels: tuple[Label, ...], count: int) -> Finding:
    assembly = first.assembly
    names = sorted(_names(first.finding))
    near = next((each for name in names for each in nearest_numbers(name, assembly.places)), None)
    if near is None:
        return replace(first.finding, labels=(*first.finding.labels, *labels[1:]))
    place = assembly.places[near]
    return replace(
        first.finding,
        at=Label(place.declared_at, say("the nearest is {name}", name=near)),
        labels=labels,
        notes=(*first.finding.notes, _filled(count)),
    )


def _filled(count: int) -> Message:
    return say_many(count, "{number} build fills it", "{number} builds fill it")


def _prose(own: list[Finding], told: list[Told]) -> list[Finding]:
    """What texts print goes with the definitions: a value that an error keeps from being worked
    out, a position that is told as missing."""
    positions = {
        name
        for each in (*own, *(one.finding for one in told))
        if each.code is codes.UNKNOWN_POSITION
        for name in _names(each)
    }
    broken = any(each.code.id < "SG4" and each.code in HIDES for each in own)
    return [each for each in own if not _of_prose(each, positions, broken)]


HIDES: Final = frozenset({codes.CONTRADICTION})
"""Mistakes that keep values from being worked out, in builds that have no other error."""


def _of_prose(finding: Finding, positions: set[str], broken: bool) -> bool:
    if finding.code is codes.NO_VALUE:
        return broken
    named = {str(value) for _, value in finding.message.arguments}
    return finding.code is codes.UNKNOWN_REFERENCE and not positions.isdisjoint(named)


def holders(systems: Iterable[Assembly], span: Span) -> int:
    """How many builds rest on a line of a definition."""
    at = (span.file, span.line)
    return sum(at in set(_lines(assembly)) for assembly in systems)


def _lines(assembly: Assembly) -> Iterator[tuple[str, int]]:
    for origin in (
        assembly.platform.origin,
        *(part.origin for _, part in assembly.everything()),
    ):
        yield from ((span.file, span.line) for span in origin.everywhere())
