"""The small project of the tests, and texts about it."""

from collections.abc import Callable

import pytest

from specgen.diagnostics import Finding
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose, parsed
from specgen.load.definitions import load
from specgen.pipeline import systems_of
from tests.projects import base, sources

Check = Callable[..., tuple[Finding, ...]]
SUBJECT = "lantern-full"


@pytest.fixture(scope="module")
def subjects() -> Subjects:
    definitions = load(sources(base())).definitions
    assert definitions is not None
    return Subjects(definitions, systems_of(definitions))


@pytest.fixture
def check(subjects: Subjects) -> Check:
    """Everything found in one page, whose head and body are given."""

    def found(body: str, head: str = f"subject: {SUBJECT}", file: str = "pages/n.md"):
        return check_prose((page(body, head, file),), subjects)

    return found


def page(body: str, head: str = f"subject: {SUBJECT}", file: str = "pages/n.md") -> Prose:
    text, findings = parsed(f"---\n{head}\n---\n{body}", file)
    assert findings == ()
    return text
