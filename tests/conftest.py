"""For all tests: one way of searching for counter-examples, and the demo project."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from specgen.pipeline import Survey, survey

ROOT = Path(__file__).resolve().parent.parent

# Limits that a run of the tests has proved serve the next one, and no user's own folder is touched.
os.environ.setdefault("SPECGEN_CACHE", str(ROOT / ".pytest_cache" / "kept"))

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


@pytest.fixture(scope="session")
def published(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, published as a person would do it: the folder of its site."""
    target = tmp_path_factory.mktemp("demo") / "site"
    assert publish(demo_folder, target) == 0
    return target


def publish(project: Path, target: Path, *options: str, **environment: str) -> int:
    """Publishes a project in a process of its own; its exit status."""
    command = [sys.executable, "-m", "specgen", "site", "--quiet", *options]
    command += ["--project", str(project), "-o", str(target)]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False, env={**os.environ, **environment}
    )
    assert (target / "index.html").is_file(), done.stderr
    return done.returncode


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Notes what each check against a published source is about, for the table at the end."""
    for item in items:
        for mark in item.iter_markers("published"):
            topic, source = mark.args
            item.user_properties.append(("published", (topic, source)))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """The table of published checks that passed: topic, how many, from which sources."""
    counts: dict[str, int] = {}
    sources: dict[str, list[str]] = {}
    for report in terminalreporter.stats.get("passed", ()):
        for name, value in report.user_properties:
            if name == "published":
                topic, source = value
                counts[topic] = counts.get(topic, 0) + 1
                if source not in sources.setdefault(topic, []):
                    sources[topic].append(source)
    if not counts:
        return
    terminalreporter.section("checks against published sources")
    width = max(map(len, counts))
    for topic in sorted(counts):
        told = "; ".join(sorted(sources[topic]))
        terminalreporter.write_line(f"{topic:{width}} {counts[topic]:5}  {told}")
    terminalreporter.write_line(f"{'in all':{width}} {sum(counts.values()):5}")
