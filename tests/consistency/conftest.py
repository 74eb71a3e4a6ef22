"""The documents of the demo in each language, made once for all files here."""

import pytest

from specgen.pipeline import Survey
from tests.consistency.printed import Project


@pytest.fixture(scope="session")
def project(demo: Survey, tmp_path_factory: pytest.TempPathFactory) -> Project:
    """The demo with all that its documents are made of.

    The tests that ask for it run in one process (`sharing.py`).
    """
    return Project(demo, tmp_path_factory.mktemp("layouts"))
