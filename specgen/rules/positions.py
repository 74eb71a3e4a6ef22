"""Positions that definitions speak of: what they belong to, cool, cover, need and take away."""

from collections.abc import Iterable, Iterator

from specgen.assembly.absent import there_are
from specgen.assembly.access import SIDES
from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, nearest_numbers, question
from specgen.expressions.vocabulary import KnownPositions
from specgen.messages import Message, Nothing, say
from specgen.model import (
    BadRange,
    Build,
    Definitions,
    Need,
    Origin,
    Platform,
    Position,
    PowerConnector,
    expand,
    piece_of,
    range_meant,
)
from specgen.model.pedigree import FieldPath

PositionUse = tuple[str, Span]
Platforms = tuple[Platform, ...]

RELATIONS = ("of", "cools", "neighbour")


def unknown_positions(definitions: Definitions) -> Iterator[Finding]:
    """SG203: names of positions in parts and platforms that no choice of parts makes true."""
    places = KnownPositions(definitions)
    for platform in definitions.platforms.values():
        uses = [
            *_of_positions(platform.origin, ("positions",), platform.positions),
            *_of_population(platform),
            *_of_feeds(platform),
            *_of_alternatives(platform),
            *_of_connectors(platform.origin, ("connectors",), platform.connectors),
        ]
        yield from _unknown(places, (platform,), uses)
        others = (*SIDES, *definitions.kinds, *(each.name for each in platform.covers))
        yield from _unknown(places, (platform,), _of_covers(platform, frozenset(others)), others)
    for build in definitions.builds.values():
        own = definitions.platforms.get(build.platform)
        if own is not None:
            yield from _unknown(places, (own,), _of_feeds(build))
    everything = tuple(definitions.platforms.values())
    for part in definitions.parts.values() if everything else ():
        uses = [
            *_of_positions(part.origin, ("brings", "positions"), part.brings.positions),
            *_of_needs(part.origin, ("needs",), part.needs),
            *_of_connectors(part.origin, ("brings", "connectors"), part.brings.connectors),
            *((text, part.origin.entry(at, "blocks")) for at, text in enumerate(part.blocks)),
        ]
        yield from _unknown(places, everything, uses)


def known_anywhere(definitions: Definitions, name: str) -> bool:
    """Whether some system may have a position of this name."""
    return KnownPositions(definitions).named(name, tuple(definitions.platforms.values()))


def _of_positions(
    origin: Origin, path: FieldPath, positions: tuple[Position, ...]
) -> Iterator[PositionUse]:
    for index, position in enumerate(positions):
        for field in RELATIONS:
            text = getattr(position, field)
            if text is not None:
                yield text, origin.at(*path, index, field)
        yield from _of_needs(origin, (*path, index, "needs"), position.needs)


def _of_covers(platform: Platform, others: frozenset[str]) -> Iterator[PositionUse]:
    """Positions that covers and other positions lie over, where no other word is meant."""
    layers = [("covers", index, each.over) for index, each in enumerate(platform.covers)]
    layers += [("positions", index, each.over) for index, each in enumerate(platform.positions)]
    for field, index, over in layers:
        for at, text in enumerate(over):
            if text not in others:
                yield text, platform.origin.entry(at, field, index, "over")


def _of_needs(origin: Origin, path: FieldPath, needs: tuple[Need, ...]) -> Iterator[PositionUse]:
    for index, need in enumerate(needs):
        if need.position is not None:
            yield need.position, origin.at(*path, index, "position")


def _of_alternatives(platform: Platform) -> Iterator[PositionUse]:
    for at, text in enumerate(platform.alternatives):
        yield text, platform.origin.entry(at, "alternatives")


def _of_population(platform: Platform) -> Iterator[PositionUse]:
    for index, entry in enumerate(platform.population):
        if entry.of is not None:
            yield entry.of, platform.origin.at("population", index, "of")
        for at, text in enumerate(entry.order):
            yield text, platform.origin.at("population", index, "order", at)


def _of_feeds(holder: Platform | Build) -> Iterator[PositionUse]:
    for feed, texts in holder.feeds.items():
        short = holder.origin.written("feeds", feed) is not None
        for at, text in enumerate(texts):
            yield text, holder.origin.at("feeds", feed, *(() if short else (at,)))


def _of_connectors(
    origin: Origin, path: FieldPath, connectors: tuple[PowerConnector, ...]
) -> Iterator[PositionUse]:
    for index, each in enumerate(connectors):
        short = origin.written(*path, index, "reaches") is not None
        for at, text in enumerate(each.reaches):
            yield text, origin.at(*path, index, "reaches", *(() if short else (at,)))


def _unknown(
    places: KnownPositions,
    platforms: Platforms,
    uses: Iterable[PositionUse],
    others: tuple[str, ...] = (),
) -> Iterator[Finding]:
    """What nothing brings; `others` are words that may have been meant as well."""
    for text, at in uses:
        missing = [name for name in _names(text) if not places.named(name, platforms)]
        if missing:
            known = [*places.of(platforms), *others]
            yield Finding(
                codes.UNKNOWN_POSITION,
                say("no position is named `{missing}`", missing=missing[0]),
                Label(_piece(text, missing[0], at), say("nothing brings it")),
                help=_help(text, missing[0], known),
            )


def _names(text: str) -> tuple[str, ...]:
    """The names that a text stands for; that of no position where it is no range."""
    stem = text.removeprefix(".")
    try:
        return tuple(text[: len(text) - len(stem)] + name for name in expand(stem)) if stem else ()
    except BadRange:
        return (text,)


def _piece(text: str, name: str, at: Span) -> Span:
    """Where one of the names of a text stands."""
    try:
        return at.part(text, piece_of(text, name))
    except BadRange:
        return at


def _help(text: str, name: str, known: list[str]) -> Message | Nothing:
    written = range_meant(text)
    if written:
        return say("a range is written `{range}`", range=written)
    close = did_you_mean(name, known)
    alike = nearest_numbers(name, known, most=len(known))
    if close or not alike:
        return question(close)
    return there_are(alike)
