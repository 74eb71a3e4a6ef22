"""How many mistakes of one file are told, and what stands for the others."""

from collections.abc import Iterator
from itertools import islice
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import say

MOST_MISTAKES: Final = 500  # of one file that are told


def first_mistakes(found: Iterator[Finding]) -> Iterator[Finding]:
    """The first of one file or text, and where there are more, that there are."""
    last: Finding | None = None
    for last in islice(found, MOST_MISTAKES):
        yield last
    if last is not None and next(found, None) is not None:
        yield too_many_mistakes(last.at.span)


def too_many_mistakes(at: Span, left: int = 0) -> Finding:
    """What stands for the mistakes of a file that are not told; `left` definitions of it were not
    read."""
    notes = (say("definitions of this file after it, not looked at: {n}", n=left),) if left else ()
    return Finding(
        codes.TOO_MUCH,
        say("more than {most} mistakes in one file", most=MOST_MISTAKES),
        Label(at),
        notes=notes,
        help=say("fix those above; what follows has not been looked at"),
    )
