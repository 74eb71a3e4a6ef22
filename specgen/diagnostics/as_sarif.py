"""Findings as a SARIF log, which code hosts and editors read.

Source of the form: OASIS, Static Analysis Results Interchange Format (SARIF) 2.1.0. The log tells
no time and no command, so the same findings give the same bytes.
"""

import json
import re
from collections.abc import Iterable, Mapping
from importlib.metadata import PackageNotFoundError, version
from typing import Final
from urllib.parse import quote

from specgen import DISTRIBUTION
from specgen.diagnostics.as_text import ShownPath, as_written
from specgen.diagnostics.codes import about
from specgen.diagnostics.finding import Code, Finding, Label, Severity
from specgen.diagnostics.glyphs import BREAKS
from specgen.diagnostics.most import left_out, most_of
from specgen.diagnostics.span import Span

SCHEMA: Final = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
ROOT: Final = "%SRCROOT%"

_LEVELS: Final = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}
_PLACEHOLDER: Final = re.compile(r"\{(\d+)\}")
_LINK: Final = re.compile(r"\[(?=[^\[\]]*\]\()")

Json = dict[str, object]


def as_sarif(
    findings: Iterable[Finding], *, shown: ShownPath = as_written, faults: tuple[str, ...] = ()
) -> Json:
    """The log as plain values that `json` can write: findings in order, each once.

    Rules are those of the codes that occur, by number. `shown` should give paths relative to the
    root of the repository, since that is what they are resolved against; one that starts with `/`
    is written as a file of this computer. Faults of our own make the run an unsuccessful one.
    """
    ordered, rest = most_of(findings)
    codes: dict[str, Code] = {}
    for finding in ordered:
        codes.setdefault(finding.code.id, finding.code)
    rules = sorted(codes)
    index = {code: at for at, code in enumerate(rules)}
    driver: Json = {
        "name": "specgen",
        "version": _version(),
        "rules": [_rule(codes[code]) for code in rules],
    }
    run: Json = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "newlineSequences": list(BREAKS),
        "originalUriBaseIds": {ROOT: {"description": _message("The root of the repository.")}},
        "invocations": [_invocation(faults, rest)],
        "results": [_result(finding, index, shown) for finding in ordered],
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def sarif_text(
    findings: Iterable[Finding], *, shown: ShownPath = as_written, faults: tuple[str, ...] = ()
) -> str:
    """The log as text: ASCII only, a line break at the end."""
    return json.dumps(as_sarif(findings, shown=shown, faults=faults), indent=2) + "\n"


def _invocation(faults: tuple[str, ...], rest: int) -> Json:
    """How the run went. Source: SARIF 2.1.0, 3.20 invocation object (from memory)."""
    notifications: list[Json] = [{"level": "error", "message": _message(fault)} for fault in faults]
    if rest:
        notifications.append({"level": "warning", "message": _message(left_out(rest))})
    invocation: Json = {"executionSuccessful": not faults}
    if notifications:
        invocation["toolExecutionNotifications"] = notifications
    return invocation


def _version() -> str:
    try:
        return version(DISTRIBUTION)
    except PackageNotFoundError:  # run from a folder that was never installed
        return "0"


def _rule(code: Code) -> Json:
    return {
        "id": code.id,
        "name": "".join(word[:1].upper() + word[1:] for word in re.findall(r"\w+", code.title)),
        "shortDescription": _message(code.title),
        "fullDescription": _message(about(code) or code.title),
        "help": _message(about(code) or code.title),
        "defaultConfiguration": {"level": _LEVELS[code.severity]},
    }


def _result(finding: Finding, index: Mapping[str, int], shown: ShownPath) -> Json:
    message = [finding.message, *(f"note: {note}" for note in finding.notes)]
    if finding.help:
        message.append(f"help: {finding.help}")
    result: Json = {
        "ruleId": finding.code.id,
        "ruleIndex": index[finding.code.id],
        "level": _LEVELS[finding.severity],
        "message": _message("\n".join(map(str, message))),
        "locations": [_location(finding.at, shown)],
    }
    if finding.labels:
        result["relatedLocations"] = [
            {"id": number, **_location(label, shown)}
            for number, label in enumerate(finding.labels, 1)
        ]
    return result


def _location(label: Label, shown: ShownPath) -> Json:
    physical: Json = {
        "artifactLocation": _artifact(shown(label.span.file)),
        "region": _region(label.span),
    }
    if label.text:
        return {"physicalLocation": physical, "message": _message(str(label.text))}
    return {"physicalLocation": physical}


def _artifact(path: str) -> Json:
    try:
        name = path.encode("utf-8", "surrogateescape")  # bytes a file system gave, kept as they are
    except UnicodeEncodeError:
        name = path.encode("utf-8", "surrogatepass")
    if path.startswith("/"):
        return {"uri": "file://" + quote(name, safe="/")}
    return {"uri": quote(name, safe="/"), "uriBaseId": ROOT}


def _region(span: Span) -> Json:
    """SARIF counts as spans do: from 1, the end column being the one after the last character."""
    line, column = max(1, span.line), max(1, span.column)
    region: Json = {"startLine": line, "startColumn": column}
    if (span.end_line, span.end_column) >= (line, column) and span.end_column >= 1:
        region |= {"endLine": span.end_line, "endColumn": span.end_column}
    return region


def _message(text: str) -> Json:
    """Text in which `{0}` and `[a](b)` stay what they are.

    Source: SARIF 2.1.0, messages with placeholders and messages with embedded links (from memory).
    """
    return {"text": _LINK.sub(r"\\[", _PLACEHOLDER.sub(r"{{\1}}", text))}
