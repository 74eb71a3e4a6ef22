"""Each part against what it must meet in its place: the table of `specgen.fitness`, worded."""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label
from specgen.facts import Facts
from specgen.fitness import Pointer, Refusal, Side, alternatives, within
from specgen.messages import Message, listed, say
from specgen.model import Part, condensed
from specgen.rules.places import refused

ALTERNATIVES = 2


@dataclass(slots=True)
class _Breach:
    """The same refusal in places that one line fills; `also` is what else keeps the part out."""

    refusal: Refusal
    also: tuple[Message, ...]
    places: list[Place]


def fit(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG301 to SG309, SG331, SG332, SG356, SG364, SG365: parts that do not suit their places."""
    breaches: dict[Hashable, _Breach] = {}
    for place in assembly.places.values():
        part = place.part or place.closed_by
        usable = place.state in (State.FILLED, State.EMPTY)
        if part is None or not usable or place.how == "blank":
            continue
        found = [each for each in refused(assembly, place) if not each.apart]
        outside = bool(found) and found[0].requirement.goes_in
        also = tuple(each.words for each in found[1:]) if outside else ()
        for refusal in found[:1] if outside else found:
            other = refusal.other and refusal.other.id
            key = (place.at, refusal.requirement, part.id, refusal.has, refusal.wants, other, also)
            breaches.setdefault(key, _Breach(refusal, also, [])).places.append(place)
    for breach in breaches.values():
        yield _finding(assembly, breach)


def _finding(assembly: Assembly, breach: _Breach) -> Finding:
    refusal, place, row = breach.refusal, breach.places[0], breach.refusal.requirement
    others = _others(assembly, place, refusal) if row.help is not None else ()
    known = {
        **refusal.arguments,
        "where": condensed(tuple(each.name for each in breach.places)),
        "platform": assembly.platform.name,
        "others": listed((f"`{name}`" for name in others), "or"),
    }
    return Finding(
        refusal.code,
        row.message.filled(**known),
        Label(place.at, row.at.filled(**known)),
        labels=tuple(
            _label(assembly, place, refusal, pointer, pointer.words.filled(**known))
            for pointer in row.pointers
        ),
        notes=tuple(say("it also {words}", words=words) for words in breach.also),
        help=row.help.filled(**known) if row.help is not None and (others or row.sure) else "",
    )


def _label(
    assembly: Assembly, place: Place, refusal: Refusal, pointer: Pointer, words: Message
) -> Label:
    path, other = pointer.field.split("."), refusal.other
    match pointer.side:
        case Side.POSITION:
            return Label(place.origin.at(*place.path, *path), words)
        case Side.PLATFORM:
            return Label(assembly.platform.origin.at(*path), words)
        case Side.OTHER_PLACE:
            related = getattr(place, refusal.requirement.relation)
            return Label(assembly.places[related].at, words)
    holder: Part = other if pointer.side is Side.OTHER and other is not None else refusal.part
    return Label(holder.origin.at(*path), words)


def _others(assembly: Assembly, place: Place, refusal: Refusal) -> tuple[str, ...]:
    """Parts that would do: those the build uses already first, or the one that just does."""
    found = alternatives(place, refusal.part, within(assembly))
    if refusal.requirement.nearest:
        found = tuple(sorted(found, key=lambda part: refusal.requirement.has(part))[:1])
    used = {other.id for _, other in assembly.everything()}
    names = sorted((part.id for part in found), key=lambda name: (name not in used, name))
    return tuple(names[:ALTERNATIVES])
