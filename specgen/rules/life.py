"""Parts that can no longer be ordered, not yet, or not for long."""

from collections.abc import Iterator, Mapping
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code, Finding, Label, codes
from specgen.facts import Facts
from specgen.fitness.table import LIFE, PLANNED
from specgen.messages import NOTHING, Message, Nothing, message_of, say
from specgen.model import Definitions, LifeStatus, Part
from specgen.rules.places import by_line, names

WORDS: Final[Mapping[LifeStatus, Message]] = {
    "planned": PLANNED.words,
    "last-time-buy": say("is in its last-time buy"),
    "discontinued": LIFE.words,
    "active": say("has a successor"),
}
CODES: Final[Mapping[LifeStatus, Code]] = {
    "planned": codes.PLANNED_PART,
    "discontinued": codes.DISCONTINUED_PART,
}
"""What a status is in a build that is published; any other is worth a note."""

MOST_LABELS = 6


def life(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG361, SG366 and SG362: parts that cannot be ordered on the project's date in published
    builds; parts with another state of life."""
    build, definitions = assembly.build, assembly.definitions
    if build is None:
        return
    ageing: dict[str, tuple[Part, list[Place]]] = {}
    for place, part in assembly.everything():
        named = place.how == "build" and place.filled_at is not None
        named = named and part.id != place.position.fixed
        if named and (definitions.status(part) != "active" or part.life.replaced_by):
            ageing.setdefault(part.id, (part, []))[1].append(place)
    for part, places in ageing.values():
        yield _finding(definitions, places, part, published=build.published)


def _finding(
    definitions: Definitions, places: list[Place], part: Part, *, published: bool
) -> Finding:
    status, successor = definitions.status(part), part.life.replaced_by
    code = CODES.get(status, codes.REPLACED_PART) if published else codes.REPLACED_PART
    lines = by_line(places)
    help_: Message | Nothing = NOTHING
    if successor:
        help_ = say("`{successor}` takes its place", successor=successor)
    elif code is codes.PLANNED_PART:
        help_ = say(
            "fit another part, write `published: false`, or accept it: "
            "`allow: [{{code: {code}, reason: …}}]`",
            code=code.id,
        )
    return Finding(
        code,
        say(
            "`{part}` in {places} {words}",
            part=part.id,
            places=names(places),
            words=_words(part, status),
        ),
        Label(places[0].at, message_of(status) if status != "active" else WORDS[status]),
        labels=(
            Label(part.origin.key("life"), say("its life")),
            *(Label(line[0].at, say("here as well")) for line in lines[1:MOST_LABELS]),
        ),
        notes=_day(definitions, part, status),
        help=help_,
    )


def _words(part: Part, status: LifeStatus) -> Message:
    """What is to be known of a part's life, with the day that it began."""
    life, words = part.life, WORDS[status]
    if status == "planned" and life.introduced is not None:
        return say("is planned, and can be ordered from {day} on", day=life.introduced.isoformat())
    if status == "discontinued" and life.last_time_buy is not None:
        return say("could be ordered until {day}", day=life.last_time_buy.isoformat())
    if life.since is None or status != life.status:
        return words
    return say("{words} since {since}", words=words, since=life.since.isoformat())


def _day(definitions: Definitions, part: Part, status: LifeStatus) -> tuple[Message, ...]:
    """The day that decided, where the status is another than the one declared."""
    day = definitions.project.date
    if day is None or status == part.life.status:
        return ()
    return (say("the project's date is {day}", day=day.isoformat()),)
