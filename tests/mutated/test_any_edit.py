"""Whatever is done to the text of a sound project, the answer is findings and never a traceback."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specgen.diagnostics.as_text import report
from specgen.diagnostics.glyphs import lines_of
from tests.mutated.breaks import BREAKS
from tests.projects import base, edited, project
from tests.timing import first, tries

FILES = base()
NAMES = sorted(FILES)
CUTS = (4, 24)
"""Every file is cut at so many places in every run, and in slow ones."""
SCRAPS = (
    "",
    ": ",
    "- ",
    "{",
    "}",
    "[",
    "]",
    "&a ",
    "*a",
    "!!x ",
    "\t",
    "\n",
    "x",
    "null",
    "~",
    "'",
    '"',
    "..",
    "9999999999",
    "-1",
    "BAY 0..9999",
    "CPU1",
    "to",
    "\u202f",
    "#",
    "|",
    "? ",
)


def findings_of(files):
    """Reads, checks and reports a project; every finding lies inside its file."""
    found = project(files)
    for finding in found.findings:
        for label in (finding.at, *finding.labels):
            span = label.span
            assert span.file in files
            lines = lines_of(files[span.file])
            assert 1 <= span.line <= len(lines)
            assert 1 <= span.column <= len(lines[span.line - 1]) + 1
    return report(found.findings, found.sources.texts)


@given(
    name=st.sampled_from(NAMES),
    at=st.floats(0, 1),
    length=st.integers(0, 12),
    new=st.sampled_from(SCRAPS) | st.text(max_size=6),
)
@settings(max_examples=tries(60), deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_slice_replaced_by_any_text_is_answered(name, at, length, new):
    text = FILES[name]
    start = int(at * len(text))
    findings_of({**FILES, name: text[:start] + new + text[start + length :]})


@pytest.mark.parametrize("cuts", first(1, CUTS))
@pytest.mark.parametrize("name", NAMES)
def test_a_file_cut_anywhere_is_answered(name, cuts):
    text = FILES[name]
    for cut in range(0, len(text), max(1, len(text) // cuts)):
        findings_of({**FILES, name: text[:cut]})


@pytest.mark.parametrize("name", NAMES)
def test_a_file_that_is_missing_is_answered(name):
    findings_of({each: text for each, text in FILES.items() if each != name})


@pytest.mark.parametrize("line", first(5, sorted(range(30), key=lambda line: line % 6)))
def test_any_line_of_a_build_may_be_missing(line):
    name = "configured/lantern-full.yaml"
    lines = FILES[name].split("\n")
    findings_of({**FILES, name: "\n".join(lines[:line] + lines[line + 1 :])})


def test_findings_are_the_same_however_often_they_are_looked_for():
    case = BREAKS[-1]
    files = edited(case.file, case.old, case.new)
    assert findings_of(files) == findings_of(files)
