import shutil
from pathlib import Path

import pytest

from tests.conftest import publish
from tests.projects import BASE


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.mark.slow
def test_a_site_depends_on_nothing_but_the_definitions(
    demo_site: Path, demo_folder: Path, tmp_path: Path
) -> None:
    """Another folder, another order of hashes, another number of jobs, another place on earth."""
    project = tmp_path / "some where" / "else"
    shutil.copytree(demo_folder, project)
    surroundings = {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland", "LC_ALL": "C"}
    publish(project, tmp_path / "out", "--jobs", "1", **surroundings)
    first, second = contents(demo_site), contents(tmp_path / "out")
    assert sorted(first) == sorted(second)
    assert [name for name in first if first[name] != second[name]] == []


def test_another_publishing_over_the_first_changes_nothing(tmp_path: Path) -> None:
    publish(BASE, tmp_path / "site")
    before = contents(tmp_path / "site")
    publish(BASE, tmp_path / "site", "--jobs", "3", PYTHONHASHSEED="17")
    assert contents(tmp_path / "site") == before
