"""Things of one name: builds, platforms, parts that a reader cannot tell apart.

Sound is a name that stands twice where only one of the two can be had: a part that is discontinued
and its successor, a build that is a draft; and parts of two makers, which lists print beside the
name.
"""

from collections.abc import Iterable, Iterator

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import say
from specgen.model import Build, Definitions, Part, Platform
from specgen.rules.definitions.orderable import owner

Named = Part | Platform | Build


def names_alike(definitions: Definitions) -> Iterator[Finding]:
    """SG221: two builds, platforms or parts of one name."""
    status = definitions.status
    parts = (each for each in definitions.parts.values() if status(each) != "discontinued")
    builds = (each for each in definitions.builds.values() if each.published)
    yield from _alike(definitions.platforms.values())
    yield from _alike(builds)
    yield from _alike(parts)


def _alike(things: Iterable[Named]) -> Iterator[Finding]:
    first: dict[tuple[str, str], Named] = {}
    for thing in things:
        maker = thing.maker if isinstance(thing, Part) else ""
        name = str(thing.name)
        other = first.setdefault((" ".join(name.casefold().split()), maker or ""), thing)
        if other is thing:
            continue
        yield Finding(
            codes.NAMES_ALIKE,
            say("`{one}` and `{other}` are both called “{name}”", one=thing.id, other=other.id,
                name=name),
            Label(thing.origin.at("name"), owner(thing)),
            labels=(Label(other.origin.at("name"), owner(other)),),
            notes=(say("readers see names; an id is on no page for them"),),
            help=say("say in each name what sets it apart"),
        )  # fmt: skip
