"""Parts that can no longer be ordered, not yet, or not for long."""

from collections.abc import Iterator

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code, Finding, Label, codes
from specgen.facts import Facts
from specgen.fitness import within
from specgen.fitness.table import LIFE
from specgen.messages import say
from specgen.model import Part
from specgen.rules.places import by_line, names

WORDS = {
    "planned": say("is planned and cannot be ordered yet"),
    "last-order": say("is on last order"),
    "withdrawn": LIFE.words,
    "active": say("has a successor"),
}

MOST_LABELS = 6


def life(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG361 and SG362: withdrawn parts in published builds; parts with another state of life."""
    build = assembly.build
    if build is None:
        return
    ageing: dict[str, tuple[Part, list[Place]]] = {}
    for place, part in assembly.everything():
        named = place.how == "build" and place.filled_at is not None
        if named and (part.life.status != "active" or part.life.replaced_by):
            ageing.setdefault(part.id, (part, []))[1].append(place)
    surroundings = within(assembly)
    for part, places in ageing.values():
        gone = any(LIFE.refusal(place, part, surroundings) for place in places)
        yield _finding(places, part, codes.WITHDRAWN_PART if gone else codes.REPLACED_PART)


def _finding(places: list[Place], part: Part, code: Code) -> Finding:
    status, since, successor = part.life.status, part.life.since, part.life.replaced_by
    lines, words = by_line(places), WORDS[part.life.status]
    if since is not None:
        words = say("{words} since {since}", words=words, since=since.isoformat())
    return Finding(
        code,
        say("`{part}` in {places} {words}", part=part.id, places=names(places), words=words),
        Label(places[0].at, status if status != "active" else WORDS[status]),
        labels=(
            Label(part.origin.key("life"), say("its life")),
            *(Label(line[0].at, say("here as well")) for line in lines[1:MOST_LABELS]),
        ),
        help=say("`{successor}` takes its place", successor=successor) if successor else "",
    )
