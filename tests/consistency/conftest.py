"""The documents of the demo in each language, made once for all files here."""

from dataclasses import replace

import pytest

from specgen.pipeline import Survey
from tests.consistency.printed import Project

SOME = (
    "beacon-hosts",
    "foundry-forecast",
    "harbour-archive",
    "lantern-exchange",
    "lantern-office",
    "pocket-tide-gauge",
)
"""Builds whose documents are read in every run, of each platform; those of all in slow ones."""
ALL = pytest.param("all", marks=pytest.mark.slow)


@pytest.fixture(scope="session")
def projects(demo: Survey, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Project]:
    """The demo with some of its builds and with all, and what their documents are made of.

    The tests that ask for it run in one process (`sharing.py`).
    """
    folder = tmp_path_factory.mktemp("layouts")
    some = replace(demo, cases={name: demo.cases[name] for name in SOME})
    return {"some": Project(some, folder), "all": Project(demo, folder)}


@pytest.fixture(params=["some", ALL])
def project(request: pytest.FixtureRequest, projects: dict[str, Project]) -> Project:
    return projects[request.param]
