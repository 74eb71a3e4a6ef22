"""For all tests: one way of searching for counter-examples, and the demo project."""

from pathlib import Path

import pytest
from hypothesis import settings

from specgen.pipeline import Survey, survey

ROOT = Path(__file__).resolve().parent.parent

# The same cases every time, and no time limit a busy machine could break.
# `--hypothesis-profile=search` looks for new ones.
settings.register_profile("steady", derandomize=True, deadline=None, database=None)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile("steady")


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """The project folder of the demo."""
    return ROOT / "builds"


@pytest.fixture(scope="session")
def demo(demo_folder: Path) -> Survey:
    """The demo read, resolved and checked."""
    return survey(demo_folder)
