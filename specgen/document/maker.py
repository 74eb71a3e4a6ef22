"""What templates call, and how what is called tells of an author's mistake."""

from collections.abc import Callable

from specgen.diagnostics import Code, Finding
from specgen.diagnostics.codes import TEMPLATE_ERROR
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.messages.pattern import BadPattern

BlockFunction = Callable[..., object]
"""What a template may call: returns a Block, an Inline, a tuple of either, a text, or None.

None and an empty tuple print nothing. For an author's mistake it raises `AuthorError`.
"""


class AuthorError(Exception):
    """An author's mistake found while a template runs; becomes a finding at its line.

    Raised by the environment, and by makers and `show` for what they find: an unknown fact, a
    value that has no printed form. `word` is what to point at on the line; where it is "", a
    maker's name is, or the whole line.
    """

    def __init__(
        self,
        message: Message,
        help: Message | Nothing = NOTHING,  # noqa: A002
        *,
        word: str = "",
        code: Code = TEMPLATE_ERROR,
    ) -> None:
        super().__init__(message)
        self.message = message
        self.help = help
        self.word = word
        self.code = code


def bad_braces(problem: BadPattern) -> Message:
    """What is said of a message whose braces do not go together."""
    if problem.open:
        return say("a brace that nothing closes: {pattern}", pattern=problem.pattern)
    return say("a brace that stands alone: {pattern}", pattern=problem.pattern)


class FoundElsewhere(AuthorError):
    """An author's mistake with a place of its own, such as a text that a template calls."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message, code=finding.code)
        self.finding = finding
