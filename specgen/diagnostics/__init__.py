"""Findings: what is wrong or worth knowing, where, why, and what would mend it.

The codes stand in `specgen.diagnostics.codes`; the forms in which findings leave the program
in `text`, `as_json` and `as_sarif` beside it.
"""

from specgen.diagnostics.finding import Code, Finding, Label, Severity, arrange, worst
from specgen.diagnostics.span import Span
from specgen.diagnostics.suggest import (
    did_you_mean,
    meant,
    nearest_numbers,
    question,
    quoted,
    suggested,
)

__all__ = [
    "Code",
    "Finding",
    "Label",
    "Severity",
    "Span",
    "arrange",
    "did_you_mean",
    "meant",
    "nearest_numbers",
    "question",
    "quoted",
    "suggested",
    "worst",
]
