"""Findings of one cause: a field that many parts of a file share is told once, with how many."""

from collections.abc import Collection, Iterable, Iterator
from typing import Final

from specgen.diagnostics import Code, Finding, Label, codes
from specgen.messages import Message, say

FEWEST: Final = 3
MOST_LABELS: Final = 3
SHARED: Final[frozenset[Code]] = frozenset(
    {
        codes.MISSING_FIELD,
        codes.UNKNOWN_FIELD,
        codes.WRONG_TYPE,
        codes.WRONG_VALUE,
        codes.NO_UNIT,
        codes.UNKNOWN_UNIT,
        codes.WRONG_DIMENSION,
    }
)


def missing(name: str) -> Message:
    """What is said of a field that is not there."""
    return say("`{name}` is missing", name=name)


def in_one(
    findings: Iterable[Finding], misplaced: Collection[str], common: bool
) -> Iterator[Finding]:
    """The findings of a file, those that say the same as one.

    `misplaced` are fields that stand there in the wrong place, which has been told; `common` says
    that the file has a list of parts with fields they share.
    """
    told = {missing(name) for name in misplaced}
    groups: dict[tuple[Code, Message, str], list[Finding]] = {}
    for number, each in enumerate(dict.fromkeys(findings)):
        if each.code is codes.MISSING_FIELD and each.message in told:
            continue
        alone = "" if each.code in SHARED else str(number)
        groups.setdefault((each.code, each.message, alone), []).append(each)
    for group in groups.values():
        if len(group) < FEWEST:
            yield from group
        else:
            yield _one(group, common)


def _one(group: list[Finding], common: bool) -> Finding:
    first, *others = group
    help_ = first.help
    if common and first.code is codes.MISSING_FIELD:
        help_ = say("{help}, to what `common` holds or to each part", help=first.help)
    return Finding(
        first.code,
        say("{message}, {count} times in this file", message=first.message, count=len(group)),
        first.at,
        labels=tuple(Label(each.at.span, say("here as well")) for each in others[:MOST_LABELS]),
        notes=first.notes,
        help=help_,
    )
