"""Parts that can no longer be ordered, not yet, or not for long."""

from collections.abc import Iterator

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.model import Part
from specgen.rules.places import by_line, names

WORDS = {
    "planned": "is planned and cannot be ordered yet",
    "last-order": "is on last order",
    "withdrawn": "is withdrawn",
    "active": "has a successor",
}


def life(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG361 and SG362: withdrawn parts in published builds; parts with another state of life."""
    build = assembly.build
    if build is None:
        return
    ageing = []
    for place, part in assembly.everything():
        named = place.how == "build" and place.filled_at is not None
        if named and (part.life.status != "active" or part.life.replaced_by):
            ageing.append(place)
    for line in by_line(ageing):
        fitted = line[0].part or line[0].closed_by
        if fitted is not None:
            yield _told(line, fitted, build.published)


def _told(line: tuple[Place, ...], part: Part, published: bool) -> Finding:
    gone = part.life.status == "withdrawn" and published
    since = f" since {part.life.since.isoformat()}" if part.life.since is not None else ""
    successor = part.life.replaced_by
    return Finding(
        codes.WITHDRAWN_PART if gone else codes.REPLACED_PART,
        f"`{part.id}` in {names(line)} {WORDS[part.life.status]}{since}",
        Label(line[0].at, part.life.status if part.life.status != "active" else "has a successor"),
        labels=(Label(part.origin.key("life"), "its life"),),
        help=f"`{successor}` takes its place" if successor else "",
    )
