"""Processors: one at least where there are sockets, alike, no more than work together."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.fitness.part_fields import kinds_with
from specgen.messages import Within, listed, say
from specgen.rules.constraints import Alike, AtMost, Chain, Enough, Lack, one_by_one
from specgen.rules.places import names, places_for, unsettled_kinds


def one_of_them(assembly: Assembly) -> list[Place]:
    """The sockets of which one has to be filled; none where a platform says which must be."""
    places = places_for(assembly, "together")
    return [] if any(place.position.must for place in places) else places


def _none_fitted(assembly: Assembly, _lack: Lack) -> Iterator[Finding]:
    build, places = assembly.build, one_of_them(assembly)
    if build is None or not places:
        return  # told where a position must not stay empty
    titles = assembly.definitions.titles(places[0].position.takes)
    kinds = listed(map(Within, titles), "or")
    yield Finding(
        codes.POSITION_MUST_BE_FILLED,
        say("no {kinds} is fitted", kinds=kinds),
        Label(
            build.origin.key("fit"),
            say("no {kinds} for {places}", kinds=kinds, places=names(places)),
        ),
        labels=(Label(places[0].declared_at, say("one or more must be filled")),),
        notes=(say("a server does not start without a processor"),),
        help=say("add a {kinds} for {places}", kinds=kinds, places=names(places[:1])),
    )


def _unclear(assembly: Assembly) -> bool:
    lost = unsettled_kinds(assembly) & kinds_with(assembly.definitions, "together")
    return bool(lost)


PROCESSORS: Final = Chain(
    (
        Alike(
            code=codes.MIXED_PROCESSORS,
            statement=say("processors are of one model"),
            among="together",
            trait="id",
            group=lambda _place, part: part.kind,
            message=say("`{part}` in {place} beside `{other}` in {other_place}"),
            at=say("another {title}"),
            other_label=say("the first"),
            help=say("use `{other}` in both"),
        ),
        AtMost(
            code=codes.MIXED_PROCESSORS,
            statement=say("processors of one model that work together: {limit} or fewer"),
            amount=lambda part: 1 if hasattr(part, "together") else None,
            group=lambda _place, part: part.id,
            limit="together",
            limits=lambda _place, part: part.id,
            message=say("{total} of `{part}`, of which up to {limit} work together"),
            at=say("one too many"),
            other_label=say("together: {limit}"),
        ),
    )
)

SOCKETS: Final = Chain(
    (
        Enough(
            code=codes.POSITION_MUST_BE_FILLED,
            statement=say("a server with sockets has a processor"),
            taken=lambda _place, _part: (),
            offered=lambda _place, part: [("", 1)] if hasattr(part, "together") else (),
            standing=lambda _: {"": 1},
            places="together",
            findings=one_by_one(_none_fitted),
        ),
    ),
    _unclear,
)
"""A platform that takes no processors, such as a shelf of drives, has none to miss."""
