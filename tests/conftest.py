"""For all tests: one way of searching for counter-examples, and the demo project."""

import gc
import os
import subprocess
import sys
from collections.abc import Iterator
from multiprocessing.util import get_temp_dir
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from specgen.pipeline import Survey, survey
from specgen.source import collector
from tests.made_once import SERVING, make_once
from tests.projects import many_sided
from tests.sharing import Units, turn_of
from tests.sorts import mark_of, table
from tests.timing import EVERY_TIME, THOROUGH

ROOT = Path(__file__).resolve().parent.parent
SELDOM = 3_000_000  # allocations between collections
MANY = 500  # readings of projects after which what they left is freed: it takes a second

# Thousands of tests are gathered, and stay to the end: not looked through again and again. What
# they make is looked through less often than a single command's.
gc.disable()
collector.FEWER = SELDOM
collector.READINGS = MANY

make_once()

# Many commands run in one process here: what Python keeps for its processes outlives each of them.
get_temp_dir()

# The same cases every time, and no time limit a busy computer could break: some of them in every
# run, more with `--hypothesis-profile=thorough`, which CI's slow tests run with.
# `--hypothesis-profile=search` looks for new ones.
settings.register_profile(
    "steady", derandomize=True, deadline=None, database=None, max_examples=EVERY_TIME
)
settings.register_profile("thorough", settings.get_profile("steady"), max_examples=THOROUGH)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile("steady")


@pytest.fixture(scope="session", autouse=True)
def _nothing_shared_is_changed() -> Iterator[None]:
    """Definitions and trees of files that several tests have read are at the end what they were."""
    yield
    assert SERVING.changed() == [], "a test has changed them in place: it works on a deepcopy"


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """The project folder of the demo."""
    return ROOT / "builds"


@pytest.fixture(scope="session")
def demo(demo_folder: Path) -> Survey:
    """The demo read, resolved and checked."""
    return survey(demo_folder)


@pytest.fixture(scope="session")
def small_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small project with a page of every kind and a file of every form, published."""
    folder = tmp_path_factory.mktemp("small")
    for name, text in many_sided().items():
        path = folder / "project" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    assert publish(folder / "project", folder / "site") == 0
    return folder / "site"


@pytest.fixture(scope="session")
def demo_site(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, published as a person would do it: the folder of its site.

    Tests that ask for it are slow or the browser's, and run in one process (`sharing.py`), since it
    takes a minute to make; `small_site` holds the same every time.
    """
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


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> object | None:
    """With `-n` alone, tests are shared out in units of `sharing.py`, in the order of files."""
    if config.getvalue("dist") != "load":
        return None
    config.option.loadscopereorder = False
    return Units(config, log)


def pytest_collection_finish() -> None:
    """What was gathered is out of the garbage collector's way."""
    gc.freeze()
    gc.set_threshold(SELDOM)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Puts what takes longest first; notes what each check rests on, for the table at the end."""
    items.sort(key=lambda item: turn_of(item.nodeid))
    for item in items:
        mark = mark_of(item)
        if mark is not None:
            topic, rests = mark.args
            item.user_properties.append(("rests on", (mark.name, topic, rests)))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """The checks that passed and say what they rest on, each sort apart."""
    checks = (
        (sort, topic, rests)
        for report in terminalreporter.stats.get("passed", ())
        for name, (sort, topic, rests) in report.user_properties
        if name == "rests on"
    )
    for head, lines in table(checks):
        terminalreporter.section(head)
        for line in lines:
            terminalreporter.write_line(line)
