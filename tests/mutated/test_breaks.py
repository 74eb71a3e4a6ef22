"""Every mistake is found with its own code, at the line that holds it, and nothing else is."""

import pytest

from specgen.diagnostics.codes import CODES
from specgen.messages.catalogue import language_of
from specgen.source import read_project
from tests.mutated.breaks import BREAKS as FIRST
from tests.mutated.breaks import Break
from tests.mutated.cause_breaks import CAUSES
from tests.mutated.contradicting_breaks import CONTRADICTING
from tests.mutated.doubtful_breaks import DOUBTFUL
from tests.mutated.likeness_breaks import LIKENESSES
from tests.mutated.odd_breaks import ODD
from tests.mutated.rule_breaks import RULE_BREAKS
from tests.mutated.said import said_of, tried
from tests.mutated.sibling_breaks import SIBLINGS
from tests.projects import base, checked, project

TABLES = (FIRST, CONTRADICTING, DOUBTFUL, SIBLINGS, CAUSES, RULE_BREAKS, ODD, LIKENESSES)
BREAKS = tuple(case for table in TABLES for case in table)
GERMAN = language_of("de")
"""A page of findings is worded in the project's language."""

ELSEWHERE = {
    "SG100": "bytes that are not text; tested below, since an edit cannot make one",
    "SG105": "an empty file; tested below",
    "SG106": "a name that leads out of the project; tests of what opens files",
    "SG107": "likewise",
    "SG108": "more than anybody writes by hand; tests/source/test_large_inputs.py",
    "SG213": "a document named in the project; which there are, a higher floor knows",
    "SG215": "the project's language; which there are, its folder tells: tests/rules",
    "SG381": "supplies that share unevenly want two edits; tests/rules/test_judged.py",
    "SG371": "what a solver says of rules; tests/limits/test_deep.py",
    "SG372": "likewise",
    "SG373": "likewise",
    "SG374": "likewise",
}


def test_the_sound_project_has_no_findings():
    assert project(base()).findings == ()


@pytest.mark.parametrize("case", tried(*TABLES), ids=lambda case: case.name)
def test_a_mistake_is_found_once_with_its_code_at_its_line(case: Break):
    said = said_of(case)
    assert said.codes == sorted(code for code, _ in case.expected), said.text
    for code, text in case.expected:
        lines = [line for found, line in said.places if found == code]
        assert any(text in line for line in lines), lines
    for each in said.findings:
        words = (each.message, each.help, *each.notes, *(label.text for label in each.labels))
        assert [GERMAN.text(text) for text in words if text]


def test_every_code_has_a_break():
    covered = {code for case in BREAKS for code, _ in case.expected}
    wanted = {code for code in CODES if code < "SG4"}
    assert wanted - covered - ELSEWHERE.keys() == set()
    assert covered & ELSEWHERE.keys() == set()


def test_breaks_have_names_of_their_own():
    assert len({case.name for case in BREAKS}) == len(BREAKS)


def _written(folder, files):
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def test_a_file_that_is_not_text_is_found(tmp_path):
    _written(tmp_path, base())
    (tmp_path / "catalog" / "odd.yaml").write_bytes(b"id: \xff\xfe")
    found = checked(read_project(tmp_path))
    assert found.codes == ["SG100"]
    assert found.findings[0].at.span.file == "catalog/odd.yaml"


@pytest.mark.parametrize("text", ["", "# nothing here\n", "\n\n"])
def test_a_file_that_defines_nothing_is_found(text):
    found = project({**base(), "catalog/odd.yaml": text})
    assert found.codes == ["SG105"]
    assert found.findings[0].at.span.file == "catalog/odd.yaml"
