from pathlib import Path

import pytest

from specgen.diagnostics import Severity
from specgen.pipeline import survey
from tests.bench.alone import mkdocs_project
from tests.bench.projects import seeded
from tests.projects import BASE


def texts(project: Path) -> dict[str, str]:
    return {file.name: file.read_text() for file in (project / "configured").rglob("*.yaml")}


@pytest.mark.slow
def test_every_build_of_the_demo_has_sound_likes(tmp_path: Path) -> None:
    found = survey(seeded(tmp_path / "project", 28, seed=1))
    assert len(found.cases) == 28
    assert [each for each in found.findings if each.severity is Severity.ERROR] == []


def test_a_seed_gives_the_same_builds_each_time(tmp_path: Path) -> None:
    first = seeded(tmp_path / "first", 3, seed=1)
    assert texts(first) == texts(seeded(tmp_path / "second", 3, seed=1))
    assert texts(first) != texts(seeded(tmp_path / "third", 3, seed=2))


@pytest.mark.slow
def test_every_page_is_there_for_mkdocs_alone(tmp_path: Path) -> None:
    pages = mkdocs_project(BASE, tmp_path / "alone")
    builds = [file for file in pages.glob("docs/builds/*.md") if file.name != "index.md"]
    assert len(builds) == len(list((BASE / "configured").glob("*.yaml")))
    assert all("| ---" in file.read_text() for file in builds)
