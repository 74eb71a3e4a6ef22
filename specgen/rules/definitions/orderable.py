"""Whether what definitions say about ordering can be true: order numbers, days of a part's life."""

from collections.abc import Iterator
from datetime import date
from itertools import islice

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import Message, message_of, say
from specgen.model import Build, Definitions, Part, Platform
from specgen.model.part import Life

Numbered = Part | Platform | Build


def orderable(definitions: Definitions) -> Iterator[Finding]:
    """SG214 and SG218: one order number for two things; days that contradict each other."""
    yield from _numbers(definitions)
    yield from _ids(definitions)
    for part in definitions.parts.values():
        yield from _life(definitions, part)


def _numbers(definitions: Definitions) -> Iterator[Finding]:
    """Upper and lower case make no two numbers: whoever types one in does not tell them apart."""
    first: dict[str, Numbered] = {}
    d = definitions
    things: tuple[Numbered, ...] = (*d.platforms.values(), *d.parts.values(), *d.builds.values())
    for thing in things:
        if thing.number is None:
            continue
        number = thing.number.strip().casefold()
        other = first.setdefault(number, thing)
        if other is not thing:
            yield Finding(
                codes.NUMBER_TWICE,
                say("the order number `{number}` is given twice", number=thing.number),
                Label(_number_at(thing), owner(thing)),
                labels=(Label(_number_at(other), owner(other)),),
                help=say("give one of them a number of its own"),
            )


def _ids(definitions: Definitions) -> Iterator[Finding]:
    """SG205: a build and a platform of one id, of which texts could not tell which is meant."""
    for build in definitions.builds.values():
        platform = definitions.platforms.get(build.id)
        if platform is not None:
            yield Finding(
                codes.DUPLICATE_NAME,
                say("a build and a platform are both named `{name}`", name=build.id),
                Label(build.origin.at("id"), owner(build)),
                labels=(Label(platform.origin.at("id"), owner(platform)),),
                notes=(say("commands and texts name a system by its `id` alone"),),
                help=say("give one of them another `id`"),
            )


def _number_at(thing: Numbered) -> Span:
    return thing.origin.at("number")


def owner(thing: Numbered) -> Message:
    """Whose it is, in words."""
    match thing:
        case Platform():
            return say("of the platform `{name}`", name=thing.id)
        case Build():
            return say("of the build `{name}`", name=thing.id)
    return say("of the part `{name}`", name=thing.id)


def _life(definitions: Definitions, part: Part) -> Iterator[Finding]:
    """What cannot be true of a part's life, the first such thing; then its successors."""
    for field, other, words in islice(_impossible(part.life, definitions.project.date), 1):
        yield Finding(
            codes.LIFE_DATES,
            say("`{part}` {words}", part=part.id, words=words),
            Label(part.origin.at("life", field), say("one of the two cannot be")),
            labels=(Label(part.origin.at("life", other), say("beside this")),),
            help=say("correct the status, or one of the days"),
        )
    yield from _successor(definitions, part)
    yield from _successors(definitions, part)


def _impossible(life: Life, day: date | None) -> Iterator[tuple[str, str, Message]]:
    """What of a life cannot be: the field, the one that it is held against, and words."""
    today = day or date.min
    first, last = life.introduced or date.min, life.last_time_buy or date.max
    since = life.since or date.max
    if last < first:
        words = say("could be ordered until {last}, and not before {first}", last=last, first=first)
        yield "last_time_buy", "introduced", words
    if life.status in ("last-time-buy", "discontinued") and since < first:
        words = say("is {status} since {since}, and introduced on {first}",
                    status=life.status, since=since, first=first)  # fmt: skip
        yield "since", "introduced", words
    if life.status == "discontinued" and since < last != date.max:
        words = say("is discontinued since {since}, and could be ordered until {last}",
                    since=since, last=last)  # fmt: skip
        yield "last_time_buy", "since", words
    if life.status == "planned" and date.min < first <= today:
        words = say("is planned, and was introduced on {first}", first=first)
        yield "status", "introduced", words
    if life.status == "planned" and last < today:
        words = say("is planned, and could be ordered until {last}", last=last)
        yield "status", "last_time_buy", words


def _successor(definitions: Definitions, part: Part) -> Iterator[Finding]:
    """A successor of another kind, or one that cannot be ordered although the part itself can."""
    successor = definitions.parts.get(part.life.replaced_by or "")
    if successor is None or successor is part:
        return
    message, help_ = None, say("name a part of the same kind, or delete `replaced_by`")
    if successor.kind != part.kind:
        message = say(
            "`{part}` is of kind {kind}, and its successor `{other}` of kind {another}",
            part=part.id, kind=part.kind, other=successor.id, another=successor.kind,
        )  # fmt: skip
    elif (
        definitions.status(successor) == "discontinued"
        and definitions.status(part) != "discontinued"
    ):
        message = say(
            "`{part}` can be ordered, and its successor `{other}` is discontinued",
            part=part.id, other=successor.id,
        )  # fmt: skip
        help_ = say("name the part that can be ordered, or delete `replaced_by`")
    if message is not None:
        yield Finding(
            codes.LIFE_DATES,
            message,
            Label(part.origin.at("life", "replaced_by")),
            labels=(Label(successor.origin.at("id"), say("the successor")),),
            help=help_,
        )


def _successors(definitions: Definitions, part: Part) -> Iterator[Finding]:
    """A part that takes the place of itself, at once or through others."""
    seen = [part.id]
    following: Part | None = part
    while following is not None and following.life.replaced_by is not None:
        name = following.life.replaced_by
        if name == part.id and part.id == min(seen):  # once for each circle
            yield Finding(
                codes.LIFE_DATES,
                say("`{part}` is replaced by itself", part=part.id)
                if len(seen) == 1
                else say("the successors of `{part}` lead back to it", part=part.id),
                Label(part.origin.at("life", "replaced_by")),
                notes=() if len(seen) == 1 else (message_of(" -> ".join([*seen, part.id])),),
                help=say("name the part that can be ordered, or delete `replaced_by`"),
            )
        if name in seen:
            return
        seen.append(name)
        following = definitions.parts.get(name)
