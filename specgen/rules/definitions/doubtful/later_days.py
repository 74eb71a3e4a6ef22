"""Days that are later than what rests on them: a source after the edition that cites it.

Day and month exchanged, the year of the edition before, a part sold out years before its data sheet
was written. Where many days are later, it is the edition's own date that was left behind.
"""

from collections.abc import Collection, Iterator
from datetime import date, timedelta
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import Build, Definitions, Part, Platform
from specgen.rules.definitions.doubtful.days import ENOUGH, StatedDay, stated_days

LEFT_BEHIND: Final = 5
"""So many days after the edition's are no slips of their own."""
STALE: Final = 5
"""Years that nothing happened before an edition. common practice, no source"""
SOLD_OUT: Final = timedelta(days=2 * 366)
"""Data sheets are revised for as long as a part is sold, and a while longer."""
FORESEEN: Final = timedelta(days=5 * 366)
"""Nobody describes a part so long before it can be ordered."""
REVISED: Final = 8
"""Years in which a platform is still described anew; no server is built for longer."""
ANNOUNCED: Final = 3
"""Years that a platform is described ahead. All four are common practice, no source."""
MOST_SHOWN: Final = 3


def later_days(definitions: Definitions, told: Collection[Span]) -> Iterator[Finding]:
    """SG222: days that come after what rests on them; nothing of those that are told already."""
    stated = {span: day for span, day in stated_days(definitions).items() if span not in told}
    own_at = definitions.project.origin.at("date")
    after: set[Span] = set()
    if definitions.project.date is not None and own_at not in told:
        stated.pop(own_at, None)
        for found in _after_edition(definitions.project.date, own_at, [*stated.values()]):
            after.add(found.at.span)
            yield found
    for build in definitions.builds.values():
        yield from (each for each in _of_build(build) if each.at.span not in {*told, *after})
    seen: set[Span] = set()
    lives = (each for part in definitions.parts.values() for each in _of_life(part))
    years = (each for platform in definitions.platforms.values() for each in _of_platform(platform))
    for each in (*lives, *years):
        if each.at.span not in {*told, *seen} and after.isdisjoint(x.span for x in each.labels):
            seen.add(each.at.span)
            yield each


def _after_edition(own: date, at: Span, days: list[StatedDay]) -> Iterator[Finding]:
    past = sorted((each for each in days if each.past), key=lambda each: each.day)
    later = [each for each in past if each.day > own]
    if len(later) >= LEFT_BEHIND:
        yield Finding(
            codes.DOUBTFUL_DAY,
            say("`date` is {day}, and {number} sources and builds are dated later",
                day=own, number=len(later)),
            Label(at, say("the date of the edition")),
            labels=tuple(Label(each.at, say("this is later")) for each in later[:MOST_SHOWN]),
            help=say("bring the date of the edition up to date"),
        )  # fmt: skip
        return
    for each in later:
        yield _later(each.day, each.at, own, Label(at, say("the date of the edition")))
    if len(past) >= ENOUGH and own.year - past[-1].day.year >= STALE:
        yield Finding(
            codes.DOUBTFUL_DAY,
            say("`date` is {day}, and no source or build is later than {last}",
                day=own, last=past[-1].day),
            Label(at, say("a digit is probably another")),
            labels=(Label(past[-1].at, say("the latest")),),
            help=say("check the year"),
        )  # fmt: skip


def _later(day: date, at: Span, base: date, beside: Label) -> Finding:
    return Finding(
        codes.DOUBTFUL_DAY,
        say("{day} is later than {base}", day=day, base=base),
        Label(at, say("this is still to come")),
        labels=(beside,),
        notes=(say("what is cited or has been made lies before what rests on it"),),
        help=_exchanged(day, base) or say("check the day, the month and the year"),
    )


def _exchanged(day: date, base: date) -> Message | Nothing:
    """The day with its day and month exchanged, where that lies before the other."""
    if day.day > 12 or day.day == day.month:
        return NOTHING
    meant = date(day.year, day.day, day.month)
    return (
        say("write {day} if day and month were exchanged", day=meant) if meant <= base else NOTHING
    )


def _of_build(build: Build) -> Iterator[Finding]:
    """What a build's document rests on, later than the document."""
    if build.date is None:
        return
    origin = build.origin
    beside = Label(origin.at("date"), say("the date of its documents"))
    if build.measured is not None and build.measured.source.date is not None:
        day = build.measured.source.date
        if day > build.date:
            yield _later(day, origin.at("measured", "source", "date"), build.date, beside)
    for number, revision in enumerate(build.history):
        if revision.date > build.date:
            at = origin.at("history", number, "date")
            yield _later(revision.date, at, build.date, beside)


def _of_life(part: Part) -> Iterator[Finding]:
    """A part that was gone long before its source, or comes long after it."""
    written, life, origin = part.source.date, part.life, part.origin
    if written is None:
        return
    field, message = "", None
    if life.status in ("last-time-buy", "discontinued") and life.since is not None:
        if life.since + SOLD_OUT < written:
            field = "since"
            message = say(
                "`{part}` is {status} since {since}, and its source was written on {day}",
                part=part.id,
                status=life.status,
                since=life.since,
                day=written,
            )
    elif life.introduced is not None and written + FORESEEN < life.introduced:
        field = "introduced"
        message = say("`{part}` was introduced on {since}, and its source was written on {day}",
                      part=part.id, since=life.introduced, day=written)  # fmt: skip
    if message is not None:
        yield Finding(
            codes.DOUBTFUL_DAY,
            message,
            Label(origin.at("life", field), say("years apart")),
            labels=(Label(origin.at("source", "date"), say("the source")),),
            help=say("check the year"),
        )


def _of_platform(platform: Platform) -> Iterator[Finding]:
    """A platform that is made years before or after it is described."""
    year, written = platform.year, platform.source.date
    if year is None or written is None or year - ANNOUNCED <= written.year <= year + REVISED:
        return
    yield Finding(
        codes.DOUBTFUL_DAY,
        say("`year` is {year}, and the source was written on {day}", year=year, day=written),
        Label(platform.origin.at("year"), say("years apart")),
        labels=(Label(platform.origin.at("source", "date"), say("the source")),),
        help=say("check the year"),
    )
