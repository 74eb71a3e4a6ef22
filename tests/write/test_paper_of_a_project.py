"""A project says what it is printed on; a command may say otherwise."""

import pytest

from specgen.model import Definitions, Paper
from specgen.write.writer_options import options_of
from tests.projects import base, project


def _definitions(paper: str) -> Definitions:
    files = base()
    files["specgen.yaml"] += f"paper: {paper}\n" if paper else ""
    found = project(files).loaded.definitions
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("said", "asked", "set_for"),
    [
        ("", None, "a4"),
        ("us-letter", None, "us-letter"),
        ("us-letter", "a4", "a4"),
        ("a4", "us-letter", "us-letter"),
    ],
)
def test_documents_are_set_for_what_the_project_says(
    said: str, asked: Paper | None, set_for: str
) -> None:
    assert options_of(_definitions(said), paper=asked).paper == set_for


def test_another_paper_is_refused() -> None:
    files = base()
    files["specgen.yaml"] += "paper: foolscap\n"
    assert project(files).codes == ["SG113"]
