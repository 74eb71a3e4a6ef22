"""Why a model holds what it holds: a statement of the definitions that could be otherwise."""

from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import Final

from specgen.diagnostics import Span
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.messages import Message, Words, say


class ReasonKind(StrEnum):
    """What kind of statement stands in the way, those first that say least to a reader.

    Where several sets of statements would do as an answer, one with the later sorts is given.
    """

    WIDTH = "width"
    LINK = "link"
    CHECK = "check"
    POSITION = "position"
    PART = "part"
    RULE = "rule"


@frozen
class Reason:
    """A statement that restricts builds: in words, and where it is written."""

    sort: ReasonKind
    words: Words
    at: Span
    code: str = ""
    short: Words = ""
    """As an entry of a line that says what all of its sort have in common; of positions."""

    def place(self) -> Span:
        """Where it is written."""
        return self.at


ReasonMaker = Callable[[], Reason]
"""Makes a reason: only a model that argues asks for it."""


FEW: Final = 6
"""So many reasons are read one by one; more are put together."""
HEADINGS: Final[Mapping[ReasonKind, Message]] = {
    ReasonKind.POSITION: say("Positions, all that there are"),
    ReasonKind.PART: say("What parts need and positions take"),
    ReasonKind.LINK: say("Links"),
    ReasonKind.WIDTH: say("Lanes, and slots side by side"),
    ReasonKind.RULE: say("Rules"),
    ReasonKind.CHECK: say("Checks"),
}
"""What reasons of a sort have in common, in the order in which they are read."""


def by_sort(reasons: Iterable[Reason]) -> tuple[tuple[Message, tuple[Reason, ...]], ...]:
    """Reasons by what they have in common."""
    found = grouped((reason.sort, reason) for reason in reasons)
    return tuple((words, tuple(found[sort])) for sort, words in HEADINGS.items() if sort in found)
