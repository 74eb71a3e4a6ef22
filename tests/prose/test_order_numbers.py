"""Order numbers in texts are those that something has."""

import pytest

from specgen.diagnostics.codes import UNKNOWN_NUMBER
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.load.definitions import load
from specgen.pipeline import systems_of
from tests.projects import base, sources
from tests.prose.conftest import page

PART = (
    "- {{kind: tpm, id: tpm-{n}, name: TPM {n}, form: spi-tpm, number: ZA-100-{n},"
    " source: {{document: security}}}}\n"
)


def _subjects(count: int) -> Subjects:
    numbered = "".join(PART.format(n=10 + each) for each in range(count))
    definitions = load(sources(base() | {"catalog/numbered.yaml": numbered})).definitions
    assert definitions is not None
    return Subjects(definitions, systems_of(definitions))


@pytest.fixture(scope="module")
def subjects() -> Subjects:
    return _subjects(4)


@pytest.mark.parametrize(
    ("sentence", "columns"),
    [
        ("Order ZA-100-10 with it.", []),
        ("Order ZA-100-99 with it.", [7]),
        ("Order ZA-999-10, or ZA-100-11.", [7]),
        ("Order `ZA-100-99` with it.", []),
        ("By ZB-100-10 others mean something.", []),
        ("The form ZA-100-101 is for returns.", []),
        ("The file ZA-100-99-b.pdf tells of it.", []),
    ],
)
def test_a_number_that_nothing_has_is_told(
    subjects: Subjects, sentence: str, columns: list[int]
) -> None:
    found = check_prose((page(f"{sentence}\n"),), subjects)
    assert [each.at.span.column for each in found if each.code is UNKNOWN_NUMBER] == columns


def test_a_number_close_to_one_is_asked_for(subjects: Subjects) -> None:
    (found,) = check_prose((page("Order ZA-010-13 with it.\n"),), subjects)
    assert "ZA-100-13" in str(found.help)


def test_numbers_of_few_are_no_rule() -> None:
    assert check_prose((page("Order ZA-100-99 with it.\n"),), _subjects(3)) == ()
