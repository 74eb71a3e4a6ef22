"""Days that are years from all others: a slip of a digit.

There is no clock here. Days are held against the date of the project, and that against the middle
of all other days. Only what nobody plans or cites is doubted: catalogs state a few years to come,
standards and drawings may be decades old.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any, Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Definitions, Origin, Platform
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.records import things

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
class _Day:
    day: date
    at: Span
    past: bool
    year: bool = False


def doubtful_days(definitions: Definitions) -> Iterator[Finding]:
    """SG222: days that lie years from the project's date, or that date from all others."""
    own, project = definitions.project.date, definitions.project.origin
    found: dict[Span, _Day] = {}
    for thing in things(definitions):
        for each in _days(thing, thing.origin, ()):
            found.setdefault(each.at, each)  # what parts have in common is written once
        if isinstance(thing, Platform) and thing.year is not None and 0 < thing.year < 10_000:
            at = thing.origin.at("year")
            found[at] = _Day(date(thing.year, 1, 1), at, past=False, year=True)
    at_project = project.at("date")
    if own is not None:
        found.pop(at_project, None)
    days = sorted(each.day for each in found.values())
    middle = days[len(days) // 2] if len(days) >= ENOUGH else None
    if own is not None and middle is not None and abs(own.year - middle.year) > AHEAD:
        yield _doubt(_Day(own, at_project, past=False), middle)
        own = middle
    if own is None:
        return  # the day that the others are held against is nobody's
    for each in found.values():
        ahead = WRITTEN_AHEAD if each.past else AHEAD
        if not own.year - BEHIND <= each.day.year <= own.year + ahead:
            yield _doubt(each, own)


def _doubt(each: _Day, base: date) -> Finding:
    return Finding(
        codes.DOUBTFUL_DAY,
        say("{day} is far from {base}", day=each.day.year if each.year else each.day, base=base),
        Label(each.at, say("a digit is probably another")),
        notes=(say("days are held against the date of the project, or the middle of all days"),),
        help=say("check the year"),
    )


def _days(record: Any, origin: Origin, path: FieldPath) -> Iterator[_Day]:
    """The days of a record and of all that it holds."""
    for name in _holding(type(record)):
        value, here = getattr(record, name), (*path, written(name))
        if isinstance(value, date):
            past = any(step in PAST for step in path) or here == ("date",)
            span = origin.place(*here)
            if span.file:
                yield _Day(value, span, past)
        elif isinstance(value, tuple):
            for at, each in enumerate(value):
                if is_dataclass(each):
                    yield from _days(each, origin, (*here, at))
        elif isinstance(value, Mapping):
            for key, each in value.items():
                if is_dataclass(each):
                    yield from _days(each, origin, (*here, str(key)))
        elif is_dataclass(value):
            yield from _days(value, origin, here)


_HOLDING: dict[type[Any], tuple[str, ...]] = {}  # by class, worked out once


def _holding(cls: type[Any]) -> tuple[str, ...]:
    """The fields that hold days, or records that may."""
    if cls not in _HOLDING:
        _HOLDING[cls] = tuple(
            each.name
            for each in fields(cls)
            if each.name != "origin"
            and ("specgen.model." in repr(each.type) or "datetime.date" in repr(each.type))
        )
    return _HOLDING[cls]
