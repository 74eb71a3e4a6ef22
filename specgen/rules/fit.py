"""Each part against what it must meet in its place: the table of `specgen.fitness`, worded."""

import re
from collections.abc import Hashable, Iterator

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.fitness import Refusal, alternatives, within
from specgen.fitness.table import KIND, TECHNOLOGY
from specgen.grouped import grouped
from specgen.messages import Message, Nothing, listed, say
from specgen.model import Part, Platform
from specgen.rules.definitions.technologies import known_technologies
from specgen.rules.needs import resource_slip
from specgen.rules.places import names, refused

ALTERNATIVES = 2
SEVERAL = 3
"""On so many lines one part is one mistake."""
MOST_LABELS = 3


def fit(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG301 to SG309, SG331, SG332, SG356, SG364, SG365, SG392: what does not suit its place.

    The same refusal in places that one line fills is one finding, and so is that of one part on
    several lines; what does not go in has one finding, with everything that keeps it out.
    """
    breaches: dict[tuple[Hashable, ...], tuple[Refusal, tuple[Message, ...], list[Place]]] = {}
    for place in assembly.places.values():
        part = place.part or place.closed_by
        usable = place.state in (State.FILLED, State.EMPTY)
        if part is None or not usable or place.how == "blank":
            continue
        found = [each for each in refused(assembly, place) if not each.apart]
        if place.how == "fixed" and found and found[0].requirement is KIND:
            continue  # told where the position is declared
        outside = bool(found) and found[0].requirement.goes_in
        also = tuple(each.words for each in found[1:]) if outside else ()
        for refusal in found[:1] if outside else found:
            if _told_elsewhere(assembly, refusal):
                continue
            other = refusal.other and refusal.other.id
            key = (place.at, refusal.requirement, part.id, refusal.has, refusal.wants, other, also)
            breaches.setdefault(key, (refusal, also, []))[2].append(place)
    by_part = grouped((key[1:], found) for key, found in breaches.items())
    for several in by_part.values():
        lines = [[*several]] if len(several) >= SEVERAL else [[each] for each in several]
        for alike in lines:
            refusal, also, _ = alike[0]
            yield _finding(assembly, refusal, also, [at for *_, found in alike for at in found])


def _told_elsewhere(assembly: Assembly, refusal: Refusal) -> bool:
    """Whether a refusal follows from a word that nobody knows, which is told of by itself."""
    if refusal.code is codes.SLOT_POWER:
        return any(
            need.resource is not None and resource_slip(assembly, need.resource)
            for need in refusal.part.needs
        )
    if refusal.requirement is TECHNOLOGY:
        return not {refusal.has, refusal.wants} <= known_technologies(assembly.definitions)
    return False


def _finding(
    assembly: Assembly, refusal: Refusal, also: tuple[Message, ...], places: list[Place]
) -> Finding:
    place, row = places[0], refusal.requirement
    others = () if row.help is None else _others(assembly, place, refusal)
    known = {
        **refusal.arguments,
        "where": names(places),
        "platform": assembly.platform.name,
        "others": listed((f"`{name}`" for name in others), "or"),
    }
    return Finding(
        refusal.code,
        row.message.filled(**known),
        Label(place.at, row.at.filled(**known)),
        labels=(
            *(
                Label(_at(assembly, place, refusal, pointer), words.filled(**known))
                for pointer, words in row.pointers
            ),
            *_further(places),
        ),
        notes=tuple(say("it also {words}", words=words) for words in also),
        help=_spelled_otherwise(refusal)
        or (row.help.filled(**known) if row.help is not None and (others or row.sure) else ""),
    )


def _spelled_otherwise(refusal: Refusal) -> Message | Nothing:
    """Help where two words differ in what the eye passes over: `RDIMM` and `rdimm`."""
    wants = refusal.wants if isinstance(refusal.wants, tuple) else (refusal.wants,)
    has = refusal.has if isinstance(refusal.has, tuple) else (refusal.has,)
    for word in (each for each in has if isinstance(each, str)):
        for other in (each for each in wants if isinstance(each, str)):
            if word != other and _bare(word) == _bare(other):
                return say(
                    "`{word}` and `{other}` are two words here: write them alike",
                    word=word,
                    other=other,
                )
    return ""


def _bare(word: str) -> str:
    return re.sub(r"[-_ ]", "", word.casefold())


def _further(places: list[Place]) -> Iterator[Label]:
    """The other lines of the build on which the same part stands."""
    lines = dict.fromkeys(place.at for place in places)
    for span in [*lines][1 : MOST_LABELS + 1]:
        yield Label(span, say("here as well"))


def _at(assembly: Assembly, place: Place, refusal: Refusal, pointer: str) -> Span:
    """The line that a pointer of a requirement means."""
    side, *path = pointer.split(".")
    if side == "place":
        return assembly.places[getattr(place, refusal.requirement.relation)].at
    if side == "condition":
        return assembly.conditions_at[path[0]]
    if side == "position":
        return place.origin.at(*place.path, *path)
    other = refusal.part if refusal.other is None else refusal.other
    holders: dict[str, Part | Platform] = {
        "part": refusal.part,
        "other": other,
        "platform": assembly.platform,
    }
    origin = holders[side].origin
    return origin.kind if path == ["kind"] else origin.at(*path)


def _others(assembly: Assembly, place: Place, refusal: Refusal) -> tuple[str, ...]:
    """Parts that would do: those the build uses already first, or the one that just does."""
    found = alternatives(place, refusal.part, within(assembly))
    if refusal.requirement.nearest:
        found = tuple(sorted(found, key=lambda part: refusal.requirement.has(part))[:1])
    used = {other.id for _, other in assembly.everything()}
    names = sorted((part.id for part in found), key=lambda name: (name not in used, name))
    return tuple(names[:ALTERNATIVES])
