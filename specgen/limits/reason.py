"""Why a model holds what it holds: a statement of the definitions that could be otherwise."""

from collections.abc import Callable
from enum import StrEnum

from specgen.diagnostics import Span
from specgen.frozen import frozen
from specgen.messages import Words


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

    def place(self) -> Span:
        """Where it is written."""
        return self.at


ReasonMaker = Callable[[], Reason]
"""Makes a reason: only a model that argues asks for it."""
