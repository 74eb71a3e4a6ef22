"""The documents of the demo in each language, made once for all files here."""

from collections.abc import Callable
from functools import cache

import pytest

from specgen.pipeline import Survey
from tests.consistency.printed import Project

SOME = ("boathouse-archive", "lantern-office")
"""Builds whose documents are read in every run; those of all in slow ones."""
SOME_PLATFORMS = ("lantern",)
"""Likewise of platforms: the limits of the others take the solver long."""
ALL = pytest.param("all", marks=pytest.mark.slow)


@pytest.fixture(scope="session")
def projects(demo: Survey, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Project]:
    """The demo with the documents of some of its builds, and of all, each when it is asked for.

    The tests that ask for it run in one process (`sharing.py`).
    """
    folder = tmp_path_factory.mktemp("layouts")
    assert demo.cases.keys() >= set(SOME)
    some = (SOME, SOME_PLATFORMS)
    return cache(lambda which: Project(demo, folder, *(some if which == "some" else ())))


@pytest.fixture(params=["some", ALL])
def project(request: pytest.FixtureRequest, projects: Callable[[str], Project]) -> Project:
    return projects(request.param)
