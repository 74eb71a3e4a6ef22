"""Words of a project's own that should meet and do not, since one of them has a slip.

A form, a socket, a key, a resource is written twice: at the part, and at the place that it is for.
A word that is written on one side alone may be for later (a library of parts that no platform takes
yet), so it is told only where it is a slip of a word that both sides have.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.diagnostics.slips import slips_of
from specgen.diagnostics.suggest import quoted
from specgen.fitness import field_of
from specgen.fitness.card_power import AUXILIARY_CONNECTORS
from specgen.fitness.couplers import appliance, unheard_of
from specgen.fitness.form_sizes import FORMS
from specgen.fitness.part_fields import OLDER_FORMS
from specgen.messages import say
from specgen.model import Definitions, Origin, Part, Platform, Position
from specgen.model.pedigree import FieldPath


class _Use(NamedTuple):
    """A word where it is written: at a part (what it has) or at a place (what it takes)."""

    word: str
    at: Span
    place: bool


class _Slip(NamedTuple):
    """A use of a word that is a slip of others."""

    field: str
    use: _Use
    close: tuple[str, ...]


def mistaken_words(definitions: Definitions) -> Iterator[Finding]:
    """SG220: words without an other end that differ by a slip from one that they should meet."""
    for each in _slips(definitions):
        yield _finding(*each)
    told = {each.use.at for each in _slips(definitions)}
    yield from (each for each in _unheard_couplers(definitions) if each.at.span not in told)


def slipped(definitions: Definitions) -> frozenset[str]:
    """The words that are slips, and those that they should have been."""
    found = _slips(definitions)
    return frozenset(word for each in found for word in (each.use.word, *each.close))


@lru_cache(maxsize=4)
def _slips(definitions: Definitions) -> tuple[_Slip, ...]:
    return tuple(
        each
        for field, uses_of in VOCABULARIES.items()
        for each in _of_vocabulary(field, tuple(uses_of(definitions)))
    )


def _of_vocabulary(field: str, uses: tuple[_Use, ...]) -> Iterator[_Slip]:
    """Of two words on opposite sides that nothing else meets, the rarer is the slip."""
    written: dict[str, dict[bool, set[Span]]] = {}
    for use in uses:
        written.setdefault(use.word, {True: set(), False: set()})[use.place].add(use.at)
    met = {word for word, sides in written.items() if sides[True] and sides[False]}
    met |= STANDARD & written.keys()
    weight = _weights(written)
    told: set[Span] = set()
    for use in uses:
        if use.word in met or use.at in told:
            continue
        own = weight(use.word, use.place)
        lonely = {
            word
            for word, sides in written.items()
            if word not in met and sides[not use.place] and weight(word, not use.place) > own
        }
        close = slips_of(use.word, met | lonely)
        if close:
            told.add(use.at)
            yield _Slip(field, use, close)


Written = Mapping[str, Mapping[bool, set[Span]]]


def _weights(written: Written) -> Callable[[str, bool], tuple[int, int, bool]]:
    """How likely a word is right: its pieces are in others too, it is written more often."""
    pieces = {word: _PIECE.findall(word.lower()) for word in written}
    holders = Counter(piece for each in pieces.values() for piece in set(each))

    def weight(word: str, place: bool) -> tuple[int, int, bool]:
        shared = sum(holders[piece] - 1 for piece in pieces[word])
        return shared, len(written[word][place]), place

    return weight


def _finding(field: str, use: _Use, close: tuple[str, ...]) -> Finding:
    nothing = say("no part has it") if use.place else say("no place asks for it")
    return Finding(
        codes.SLIP,
        say("`{word}` meets nothing, and {others} is close to it", word=use.word,
            others=quoted(close, "or")),
        Label(use.at, nothing),
        notes=(say("a `{field}` is written alike at both ends", field=field),),
        help=question(close),
    )  # fmt: skip


def _words(value: object) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    return tuple(map(str, value)) if isinstance(value, tuple) else ()


def _each(origin: Origin, path: FieldPath, value: object, place: bool) -> Iterator[_Use]:
    words = _words(value)
    if not words:  # most fields are silent
        return
    single = isinstance(value, str) or origin.written(*path) is not None
    for at, word in enumerate(words):
        span = origin.place(*path) if single else origin.place(*path, at)
        if span.file:
            yield _Use(word, span, place)


Placed = tuple[Origin, FieldPath, Position]


def positions_of(definitions: Definitions) -> Iterator[Placed]:
    """Every position that a platform or a part brings, with the way to it."""
    for platform in definitions.platforms.values():
        for at, position in enumerate(platform.positions):
            yield platform.origin, ("positions", at), position
    for part in definitions.parts.values():
        for at, position in enumerate(part.brings.positions):
            yield part.origin, ("brings", "positions", at), position


def _traits(field: str) -> Callable[[Definitions], Iterator[_Use]]:
    """A field that parts have and positions ask for under one name."""

    def uses(definitions: Definitions) -> Iterator[_Use]:
        for part in definitions.parts.values():
            yield from _each(part.origin, (field,), field_of(part, field), place=False)
        for origin, path, position in positions_of(definitions):
            yield from _each(origin, (*path, field), getattr(position, field), place=True)

    return uses


def _forms(definitions: Definitions) -> Iterator[_Use]:
    """Forms of parts and positions; of both ends of cables, and of what they go to."""
    yield from _traits("form")(definitions)
    for part in definitions.parts.values():
        yield from _each(part.origin, ("far_form",), field_of(part, "far_form"), place=False)
        for at, port in enumerate(part.brings.ports):
            yield from _each(part.origin, ("brings", "ports", at, "form"), port.form, place=True)
    for platform in definitions.platforms.values():
        for name, lead in platform.leads.items():
            yield from _each(platform.origin, ("leads", name, "form"), lead.form, place=True)
    for origin, path, position in positions_of(definitions):
        for name, lead in position.leads.items():
            yield from _each(origin, (*path, "leads", name, "form"), lead.form, place=True)


def _resources(definitions: Definitions) -> Iterator[_Use]:
    """Resources: offered by amounts and by connectors, needed by parts and positions."""
    holders: tuple[tuple[Part | Platform, FieldPath], ...] = (
        *((each, ("brings",)) for each in definitions.parts.values()),
        *((each, ()) for each in definitions.platforms.values()),
    )
    for holder, path in holders:
        brought = holder.brings if isinstance(holder, Part) else holder
        for name in brought.resources:
            yield _Use(name, holder.origin.key(*path, "resources", name), place=True)
        for at, each in enumerate(brought.connectors):
            here = (*path, "connectors", at, "resource")
            yield from _each(holder.origin, here, each.resource, place=True)
        if isinstance(holder, Part):
            for at, need in enumerate(holder.needs):
                yield from _each(
                    holder.origin, ("needs", at, "resource"), need.resource, place=False
                )


def _inlets(definitions: Definitions) -> Iterator[_Use]:
    """Inlets of power supplies and connectors of cords, where they are no pair of a standard's."""
    for part in definitions.parts.values():
        inlet, cord = field_of(part, "inlet"), field_of(part, "plug") is not None
        if isinstance(inlet, str) and not appliance(inlet):
            yield from _each(part.origin, ("inlet",), inlet, place=True)
        form = field_of(part, "form") if cord else None
        if isinstance(form, str) and not appliance(form):
            yield from _each(part.origin, ("form",), form, place=False)
    for origin, path, position in positions_of(definitions):
        if "power-cord" in position.takes:
            for at, form in enumerate(position.form):
                if not appliance(form):
                    yield _Use(form, origin.place(*path, "form", at), place=False)


VOCABULARIES: Final[Mapping[str, Callable[[Definitions], Iterable[_Use]]]] = {
    "form": _forms,
    "socket": _traits("socket"),
    "key": _traits("key"),
    "resource": _resources,
    "inlet": _inlets,
}
"""Words of a project's own, by the field that holds them."""

STANDARD: Final = frozenset({*AUXILIARY_CONNECTORS, *FORMS, *OLDER_FORMS})
"""Words that are spelled so in tables of ours, after standards."""
_PIECE: Final = re.compile(r"[^\W\d_]{3,}")

COUPLERS: Final = ("inlet", "plug")


def _unheard_couplers(definitions: Definitions) -> Iterator[Finding]:
    """Plugs and inlets that are called like those of a standard, and that it does not have."""
    for part in definitions.parts.values():
        cord = field_of(part, "plug") is not None
        for field in (*COUPLERS, *(("form",) if cord else ())):
            for use in _each(part.origin, (field,), field_of(part, field), place=False):
                known = unheard_of(use.word)
                if known is not None:
                    yield Finding(
                        codes.SLIP,
                        say("no standard has a coupler `{word}`", word=use.word),
                        Label(use.at),
                        notes=(
                            say("IEC 60320 counts to C24, NEMA names a pattern by its current"),
                        ),
                        help=question(did_you_mean(use.word, known)),
                    )
