"""Findings: weight, order, and the table of codes."""

import itertools
import re
from pathlib import Path

import pytest

from specgen.diagnostics import Code, Finding, Label, Severity, Span, arrange, codes, worst


def finding(code: Code, file: str, line: int, column: int = 1, message: str = "m") -> Finding:
    return Finding(code, message, Label(Span(file, line, column, line, column + 1)))


def test_worst_is_the_heaviest_and_none_without_findings() -> None:
    note = finding(codes.LINK_NARROWED, "a.yaml", 1)
    warning = finding(codes.UNUSED_ALLOW, "a.yaml", 1)
    error = finding(codes.SYNTAX, "a.yaml", 1)
    assert worst([]) is None
    assert worst([note]) is Severity.NOTE
    assert worst([note, warning]) is Severity.WARNING
    assert worst([note, error, warning]) is Severity.ERROR


def test_findings_are_arranged_by_file_line_column_code_whatever_order_they_came_in() -> None:
    wanted = (
        finding(codes.WRONG_KIND, "a.yaml", 2),
        finding(codes.SYNTAX, "a.yaml", 10),
        finding(codes.SYNTAX, "a.yaml", 10, 2),
        finding(codes.WRONG_KIND, "a.yaml", 10, 2, "first"),
        finding(codes.WRONG_KIND, "a.yaml", 10, 2, "second"),
        finding(codes.SYNTAX, "b.yaml", 1),
    )
    for order in itertools.permutations(wanted):
        assert arrange(order) == wanted


def test_the_same_finding_twice_is_reported_once() -> None:
    one = finding(codes.SYNTAX, "a.yaml", 1)
    assert arrange([one, one, finding(codes.SYNTAX, "a.yaml", 1)]) == (one,)


def test_severities_are_ranked_from_error_to_note() -> None:
    assert sorted(Severity, key=lambda each: each.rank) == ["error", "warning", "note"]


def test_a_number_is_never_used_twice() -> None:
    constants = [each for each in vars(codes).values() if isinstance(each, Code)]
    assert len({each.id for each in constants}) == len(constants) == len(codes.CODES)
    assert len({each.title for each in constants}) == len(constants)


def test_codes_stand_in_the_order_of_their_numbers() -> None:
    assert list(codes.CODES) == sorted(codes.CODES)


def test_every_code_says_below_it_why_it_matters() -> None:
    assert set(codes.explanations()) == set(codes.CODES)


@pytest.mark.parametrize("code", codes.CODES.values(), ids=str)
def test_every_code_has_a_short_title_and_says_why_it_matters(code: Code) -> None:
    assert re.fullmatch(r"SG[1-5]\d\d", code.id)
    assert code.title.split()[0] == code.title.split()[0].lower() or "RAID" in code.title
    assert not code.title.endswith(".")
    assert len(code.title) <= 60
    about = codes.about(code)
    sentences = re.findall(r"\.(?: |$)", about)
    assert 2 <= len(sentences) <= 3
    assert about.endswith(".")
    assert "  " not in about
    assert not re.search(r"\b(invalid|illegal|failed to)\b", f"{code.title} {about}")


def test_only_what_works_is_less_than_an_error() -> None:
    lighter = {code.id: code.severity.value for code in codes.CODES.values() if code.severity.rank}
    assert lighter == {
        "SG107": "warning",
        "SG126": "warning",
        "SG128": "warning",
        "SG129": "warning",
        "SG130": "warning",
        "SG212": "warning",
        "SG217": "warning",
        "SG220": "warning",
        "SG221": "warning",
        "SG222": "warning",
        "SG223": "note",
        "SG224": "warning",
        "SG226": "warning",
        "SG227": "warning",
        "SG228": "warning",
        "SG317": "note",
        "SG323": "warning",
        "SG324": "note",
        "SG345": "warning",
        "SG350": "note",
        "SG362": "note",
        "SG371": "warning",
        "SG372": "warning",
        "SG373": "note",
        "SG374": "warning",
        "SG382": "warning",
        "SG383": "note",
        "SG403": "warning",
        "SG404": "note",
        "SG405": "warning",
        "SG503": "warning",
        "SG504": "note",
        "SG505": "warning",
        "SG506": "warning",
        "SG508": "warning",
        "SG510": "warning",
        "SG511": "warning",
        "SG513": "warning",
        "SG514": "warning",
        "SG516": "warning",
        "SG524": "note",
        "SG525": "warning",
        "SG526": "warning",
        "SG532": "note",
        "SG533": "warning",
        "SG536": "warning",
        "SG537": "warning",
        "SG538": "note",
        "SG542": "warning",
        "SG543": "note",
    }


def test_every_code_is_written_once_in_the_table() -> None:
    modules = Path(codes.__file__).parent.glob("*.py")
    text = "\n".join(each.read_text(encoding="utf-8") for each in modules)
    numbers = re.findall(r'= (?:error|decided|warning|note)\("(SG\d+)"', text)
    assert sorted(numbers) == list(codes.CODES)
