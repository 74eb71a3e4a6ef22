"""Words of free text that are written twice and that differ by a slip: makers, attributes, sources.

They meet no other end, so nothing fails: lists and comparisons only show two makers for one, and a
rule that asks for the one leaves the other out. The rarer of the two is told.
"""

from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.diagnostics.slips import is_slip
from specgen.messages import say
from specgen.model import Definitions, Part, Platform
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.records import things

FIELDS: Final = ("maker", "chemistry", "laser_class", "noise_edition", "video")
"""Free text of parts that several share."""
NAMES: Final = frozenset({"maker"})
"""Proper names: two of them are not alike by chance, so that two letters may differ."""
LONG: Final = 6
"""So long is a word of a name that two of its letters may be others."""


class _Uses(NamedTuple):
    """Where a word stands, and in how many definitions: those of a group have one place."""

    places: set[Span]
    number: int
    at: Span

    @property
    def weight(self) -> tuple[int, int]:
        return len(self.places), self.number


def alike_words(definitions: Definitions) -> Iterator[Finding]:
    """SG220: words of which the rarer is a slip of the other."""
    for field, words in _vocabularies(definitions).items():
        told: set[str] = set()
        for one, other in combinations(words, 2):
            if not _alike(field, one, other):
                continue
            rare, usual = (one, other) if words[one].weight < words[other].weight else (other, one)
            if rare not in told:
                told.add(rare)
                yield _finding(field, rare, words[rare].at, usual, words[usual].at)


def _finding(field: str, rare: str, at: Span, usual: str, other: Span) -> Finding:
    return Finding(
        codes.SLIP,
        say("`{word}` is close to `{other}`, which stands elsewhere", word=rare, other=usual),
        Label(at),
        labels=(Label(other, say("the other")),),
        notes=(say("a `{field}` is written alike everywhere", field=field),),
        help=question((usual,)),
    )


def _vocabularies(definitions: Definitions) -> Mapping[str, Mapping[str, _Uses]]:
    found: dict[str, dict[str, _Uses]] = {}
    for field, word, at in _uses(definitions):
        words = found.setdefault(field, {})
        known = words.get(word, _Uses(set(), 0, at))
        words[word] = _Uses(known.places | {at}, known.number + 1, known.at)
    return found


def _uses(definitions: Definitions) -> Iterator[tuple[str, str, Span]]:
    for thing in things(definitions):
        source = getattr(thing, "source", None)
        if source is not None:
            yield "document", source.document, thing.origin.at("source", "document")
        if isinstance(thing, Platform):
            for at, fixture in enumerate(thing.fixtures):
                yield "what", fixture.what, thing.origin.at("fixtures", at, "what")
        if not isinstance(thing, Part):
            continue
        for at, word in enumerate(getattr(thing, "interfaces", None) or ()):
            if isinstance(word, str):
                yield "interfaces", word, thing.origin.at("interfaces", at)
        for field in FIELDS:
            word = getattr(thing, field, None)
            if isinstance(word, str):
                yield field, word, thing.origin.at(field)
        for name, value in thing.attributes.items():
            path: FieldPath = ("attributes", name)
            yield "attributes", name, thing.origin.key(*path)
            if isinstance(value, str):
                yield name, value, thing.origin.at(*path)


def _alike(field: str, one: str, other: str) -> bool:
    if abs(len(one) - len(other)) > 2:
        return False
    if is_slip(one, other):
        return True
    pairs = [*zip(one.split(), other.split(), strict=False)]
    if field not in NAMES or len(one.split()) != len(other.split()):
        return False
    return all(a == b or is_slip(a, b) or _close(a, b) for a, b in pairs)


def _close(one: str, other: str) -> bool:
    same = one[:1] == other[:1] and min(len(one), len(other)) >= LONG
    return same and abs(len(one) - len(other)) < 2 and bool(did_you_mean(one, (other,)))
