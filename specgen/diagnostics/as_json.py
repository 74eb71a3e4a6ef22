"""Findings as JSON, for programs that read them."""

import json
from collections.abc import Iterable

from specgen.diagnostics.as_text import ShownPath, as_written
from specgen.diagnostics.finding import Finding, Label, arrange
from specgen.diagnostics.most import most_of
from specgen.diagnostics.span import Span


def as_json(
    findings: Iterable[Finding], *, shown: ShownPath = as_written
) -> list[dict[str, object]]:
    """The findings in order, each once, as plain values that `json` can write.

    Lines and columns count as in `Span`. `label` holds the words beside the main place.
    """
    return [_finding(finding, shown) for finding in arrange(findings)]


def json_text(
    findings: Iterable[Finding], *, shown: ShownPath = as_written, faults: tuple[str, ...] = ()
) -> str:
    """The same as text: ASCII only, with a line break at the end.

    `executionSuccessful`, as SARIF calls it, is false where faults of our own kept something from
    being found; they are listed. `leftOut` counts what is more than a report holds.
    """
    kept, rest = most_of(findings)
    data = {
        "executionSuccessful": not faults,
        "faults": faults,
        "leftOut": rest,
        "findings": as_json(kept, shown=shown),
    }
    return json.dumps(data, indent=2) + "\n"


def _finding(finding: Finding, shown: ShownPath) -> dict[str, object]:
    return {
        "code": finding.code.id,
        "title": finding.code.title,
        "severity": finding.severity.value,
        "message": str(finding.message),
        **_place(finding.at.span, shown),
        "label": str(finding.at.text),
        "labels": [_label(label, shown) for label in finding.labels],
        "notes": list(map(str, finding.notes)),
        "help": str(finding.help),
    }


def _label(label: Label, shown: ShownPath) -> dict[str, object]:
    return {**_place(label.span, shown), "text": str(label.text)}


def _place(span: Span, shown: ShownPath) -> dict[str, object]:
    return {
        "file": shown(span.file),
        "line": span.line,
        "column": span.column,
        "end_line": span.end_line,
        "end_column": span.end_column,
    }
