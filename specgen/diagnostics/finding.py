"""What a check says: a code, a place, the reason and what would mend it."""

import enum
from collections.abc import Iterable

from specgen.diagnostics.span import Span
from specgen.frozen import frozen
from specgen.messages import NOTHING, Listed, Message, Nothing


class Severity(enum.StrEnum):
    """How much a finding weighs, heaviest first.

    An error means the sheet would be wrong or the system would not work; a warning, that it
    works but somebody should decide; a note tells something worth knowing.
    """

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for an error, 1 for a warning, 2 for a note. (Compared as text they would mislead.)"""
        return _RANKS[self]


_RANKS = {severity: rank for rank, severity in enumerate(Severity)}


@frozen
class Code:
    """One kind of finding: `id` such as `SG331`, a short title, its weight, why it matters."""

    id: str
    title: str
    severity: Severity
    allowable: bool = False
    """Whether a build may accept it with a reason; warnings always can be."""
    because: str = ""
    """Why it matters, where a project says so of a rule of its own."""

    @property
    def may_be_allowed(self) -> bool:
        return self.allowable or self.severity is Severity.WARNING


@frozen
class Label:
    """A place that plays a part in a finding, with a few words that stand beside the mark."""

    span: Span
    text: Message | Listed | Nothing = NOTHING


SortKey = tuple[
    str, int, int, str, Span, str, str, tuple[tuple[Span, str], ...], tuple[str, ...], str
]


@frozen
class Finding:
    """One thing to tell an author.

    `at` is the line the author can change; `labels` are other places that play a part; `notes`
    hold the why or the arithmetic; `help` says what to write instead, only when that is sure.
    A line break in a note or in `help` is kept. Words are chosen by whoever prints it.
    """

    code: Code
    message: Message
    at: Label
    labels: tuple[Label, ...] = ()
    notes: tuple[Message | Listed, ...] = ()
    help: Message | Nothing = NOTHING
    raised: bool = False
    """Whether a build fails for what the code calls doubtful, which makes it an error."""

    @property
    def spans(self) -> tuple[Span, ...]:
        """Where it stands, and what it holds that against."""
        return self.at.span, *(label.span for label in self.labels)

    @property
    def severity(self) -> Severity:
        """The weight of the finding's code, unless more hangs on it."""
        return Severity.ERROR if self.raised else self.code.severity

    @property
    def sort_key(self) -> SortKey:
        """File, line, column, code; then all the rest, so that equal places keep one order."""
        span = self.at.span
        others = tuple((label.span, str(label.text)) for label in self.labels)
        return (
            span.file,
            span.line,
            span.column,
            self.code.id,
            span,
            str(self.message),
            str(self.at.text),
            others,
            tuple(map(str, self.notes)),
            str(self.help),
        )


def worst(findings: Iterable[Finding]) -> Severity | None:
    """The heaviest severity among the findings, None where there are none."""
    return min((f.severity for f in findings), key=lambda each: each.rank, default=None)


def arrange(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings by file, line, column and code, each once, whatever order they came in."""
    return tuple(sorted(dict.fromkeys(findings), key=lambda finding: finding.sort_key))
