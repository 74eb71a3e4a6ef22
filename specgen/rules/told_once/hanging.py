"""Findings of a build that hang on another of that build."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Span, codes
from specgen.model import BadRange, Part, PowerSupply, expand
from specgen.rules.places import in_build
from specgen.rules.told_once.ties import in_one_build
from specgen.rules.told_once.told import Told, asked_by, names_in, stem


def hanging_on(cause: Told, other: Told) -> bool:
    """Whether the second speaks of what is there, or not, by the line that the first is about:
    its positions, those that its part brings or would bring, what is wired through them, and what
    stays empty since a name is wrong."""
    assembly = other.assembly
    if assembly is None or not (in_one_build(cause, other) or _of_its_text(cause, assembly)):
        return False
    found, also = cause.finding, other.finding
    own = cause.once("own", lambda: _own(assembly, found))
    near = own if found.code in NAMED_WRONG else frozenset()
    brought = cause.once("brought", lambda: _brought(assembly, found.at.span, own))
    for name in other.once("spoken of", lambda: _spoken_of(assembly, also)):
        place = assembly.places.get(name)
        if name in own or any(name.startswith(f"{each}.") for each in own):
            return True
        if place is not None and place.part is None and stem(name) in map(stem, near):
            return True
        if (place is None or place.part is None) and stem(name) in brought:
            return True
        if place is not None and not own.isdisjoint(_upward(assembly, place)):
            return True
    asked = other.once("asked", lambda: _asked(assembly, also))
    return not asked.isdisjoint(cause.once("kinds", lambda: _kinds(assembly, found, own)))


def _of_its_text(cause: Told, assembly: Assembly) -> bool:
    """Whether a finding of definitions is of the file of a build."""
    return cause.assembly is None and in_build(assembly, cause.finding.at.span)


NAMED_WRONG: Final = frozenset(
    {codes.UNKNOWN_POSITION, codes.POSITION_FILLED_TWICE, codes.DUPLICATE_KEY}
)
"""Where a position of another name was meant."""


def _own(assembly: Assembly, finding: Finding) -> frozenset[str]:
    """The positions that a finding is about."""
    found = _at(assembly, frozenset({finding.at.span}))
    known = found | assembly.places.keys()
    names = _keyed(finding) if finding.code is codes.DUPLICATE_KEY else names_in(finding.message)
    return found | {name for name in names if name in known}


def _keyed(finding: Finding) -> tuple[str, ...]:
    """The positions that a key stands for which is there twice."""
    try:
        return expand(str(finding.message.named["name"]))
    except BadRange:
        return ()


def _spoken_of(assembly: Assembly, finding: Finding) -> frozenset[str]:
    """The positions that a finding speaks of, drives of a volume among them."""
    found = set(_at(assembly, frozenset(finding.spans)))
    absent = {each.name for each in assembly.absent}
    for name in names_in(finding.message):
        base = name.rpartition(".")[0]
        found |= {each for each in (name, base) if each in assembly.places or each in absent}
    volume = finding.message.named.get("volume")
    for each in assembly.build.volumes if assembly.build is not None else ():
        if each.name == volume:
            found |= {name for text in (*each.drives, *each.spares) for name in expand(text)}
    return frozenset(found)


def _at(assembly: Assembly, spans: frozenset[Span]) -> frozenset[str]:
    """The positions that lines of a build fill, or would fill."""
    filled = {name for name, place in assembly.places.items() if place.filled_at in spans}
    return frozenset(filled | {each.name for each in assembly.absent if each.span in spans})


def _brought(assembly: Assembly, at: Span, own: frozenset[str]) -> frozenset[str]:
    """What positions are called that the parts of a line bring, or those that would go there."""
    parts = [each.part for each in assembly.absent if each.span == at and each.part is not None]
    for name in own & assembly.places.keys():
        place = assembly.places[name]
        parts += [each for each in (place.part,) if each is not None]
        parts += _takers(assembly, place)
    brought = (name for part in parts for x in part.brings.positions for name in expand(x.name))
    return frozenset(stem(name) for name in brought) - {""}


def _takers(assembly: Assembly, place: Place) -> list[Part]:
    parts = assembly.definitions.parts.values()
    return [part for part in parts if part.kind in place.position.takes and part.brings.positions]


def _upward(assembly: Assembly, place: Place) -> Iterator[str]:
    """The positions that one hangs on: whose part brought it, whose it is, what it is wired to."""
    seen: set[str] = set()
    waiting = [place]
    while waiting:
        now = waiting.pop()
        source = "" if now.lead is None else now.lead.from_
        for name in (now.host, now.of, source, source.rpartition(".")[0]):
            if name and name not in seen:
                seen.add(name)
                yield name
                waiting += [assembly.places[name]] if name in assembly.places else []


def _kinds(assembly: Assembly, finding: Finding, own: frozenset[str]) -> frozenset[str]:
    """The kinds that are missing for what a finding is about."""
    found = {PowerSupply.kind} if finding.code is codes.SUPPLY_MISSING else set()
    for name in own & assembly.places.keys():
        found.update(assembly.places[name].position.takes)
    at = finding.at.span
    found |= {x.part.kind for x in assembly.absent if x.span == at and x.part is not None}
    return frozenset(found)


def _asked(assembly: Assembly, finding: Finding) -> frozenset[str]:
    """The kinds of which too few are there, as a finding says."""
    if finding.code is codes.SUPPLY_MISSING:
        return frozenset({PowerSupply.kind})
    found: set[str] = set()
    if finding.code in (codes.POSITION_MUST_BE_FILLED, codes.UNUSABLE_POSITION):
        for name in names_in(finding.message):
            place = assembly.places.get(name)
            if place is not None and place.part is None:
                found.update(place.position.takes)
    return frozenset(found | asked_by(assembly, finding).kinds)
