"""Days that are years from all others: a slip of a digit.

There is no clock here. Days are held against the date of the project, and that against the middle
of all other days. Only what nobody plans or cites is doubted: catalogs state a few years to come,
standards and drawings may be decades old.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from datetime import date
from functools import cache, lru_cache
from typing import Any, Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Definitions, Platform
from specgen.model.markers import written
from specgen.model.pedigree import NOWHERE
from specgen.rules.definitions.records import holding, records, things

AHEAD: Final = 15
"""Years that something is planned, or holds, ahead of the date. common practice, no source"""
WRITTEN_AHEAD: Final = 3
"""Years that what has been written or measured may be younger than the date, which may be old."""
BEHIND: Final = 60
"""Years that anything cited may be older."""
ENOUGH: Final = 5
"""So many days have a middle."""
PAST: Final = frozenset({"source", "history", "measured"})
"""Fields of what has happened: sources, revisions, measurements; and the date of a build."""


@frozen
class StatedDay:
    """A day and its place, whether it has happened, and whether it is a year alone."""

    day: date
    at: Span
    past: bool
    year: bool = False


def doubtful_days(definitions: Definitions) -> Iterator[Finding]:
    """SG222: days that lie years from the project's date, or that date from all others."""
    own, project = definitions.project.date, definitions.project.origin
    found = {**stated_days(definitions)}
    at_project = project.at("date")
    if own is not None:
        found.pop(at_project, None)
    days = sorted(each.day for each in found.values())
    middle = days[len(days) // 2] if len(days) >= ENOUGH else None
    if own is not None and middle is not None and abs(own.year - middle.year) > AHEAD:
        yield _doubt(StatedDay(own, at_project, past=False), middle)
        own = middle
    if own is None:
        return  # the day that the others are held against is nobody's
    for each in found.values():
        ahead = WRITTEN_AHEAD if each.past else AHEAD
        if not own.year - BEHIND <= each.day.year <= own.year + ahead:
            yield _doubt(each, own)


@lru_cache(maxsize=4)
def stated_days(definitions: Definitions) -> Mapping[Span, StatedDay]:
    """Every day and year that the project states, by its place."""
    found: dict[Span, StatedDay] = {}
    for thing in things(definitions):
        for each in _days(thing):
            found.setdefault(each.at, each)  # what parts have in common is written once
        if isinstance(thing, Platform) and thing.year is not None and 0 < thing.year < 10_000:
            at = thing.origin.at("year")
            found[at] = StatedDay(date(thing.year, 1, 1), at, past=False, year=True)
    return found


def _doubt(each: StatedDay, base: date) -> Finding:
    return Finding(
        codes.DOUBTFUL_DAY,
        say("{day} is far from {base}", day=each.day.year if each.year else each.day, base=base),
        Label(each.at, say("a digit is probably another")),
        notes=(say("days are compared with the date of the project, or the middle of all days"),),
        help=say("check the year"),
    )


def _days(thing: Any) -> Iterator[StatedDay]:
    """The days of a definition, its records' among them."""
    for path, record in records(thing, held=_dated):
        for name in _own_days(type(record)):
            value, here = getattr(record, name), (*path, written(name))
            span = thing.origin.place(*here) if isinstance(value, date) else NOWHERE
            if span.file:
                past = not PAST.isdisjoint(path) or here == ("date",)
                yield StatedDay(value, span, past)


_OWN: dict[type[Any], tuple[str, ...]] = {}  # by class, worked out once
_DATED: dict[type[Any], tuple[tuple[str, str], ...]] = {}


def _own_days(cls: type[Any]) -> tuple[str, ...]:
    """The fields of a record that are days."""
    if cls not in _OWN:
        hints: dict[str, Any] = {each.name: each.type for each in fields(cls)}
        _OWN[cls] = tuple(name for name, hint in hints.items() if _is_day(hint))
    return _OWN[cls]


@cache
def _is_day(hint: Any) -> bool:
    return "datetime.date" in repr(hint)


def _dated(cls: type[Any]) -> tuple[tuple[str, str], ...]:
    """Its fields whose records hold days, in whatever these hold."""
    if cls not in _DATED:
        _DATED[cls] = tuple(
            (name, alias)
            for name, alias, inner in holding(cls)
            if _own_days(inner) or _dated(inner)
        )
    return _DATED[cls]
