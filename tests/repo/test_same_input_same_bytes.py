"""The same definitions give the same bytes, whoever publishes them, wherever and with what.

`SPECGEN_OTHER_PYTHON` names another interpreter that has what specgen depends on.
"""

import os
import random
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import written
from tests.cli.test_site_command import tiny
from tests.conftest import ROOT, publish

OTHER = os.environ.get("SPECGEN_OTHER_PYTHON", "")
ORDER = """
import os, random
_chance = random.Random(4711)
def _shuffled(real):
    def listed(*args, **kwargs):
        found = list(real(*args, **kwargs))
        _chance.shuffle(found)
        return found
    return listed
os.listdir = _shuffled(os.listdir)
class _Entries:
    def __init__(self, found): self.found = iter(found)
    def __iter__(self): return self
    def __next__(self): return next(self.found)
    def __enter__(self): return self
    def __exit__(self, *_): pass
    def close(self): pass
_scan = os.scandir
def _scandir(*args):
    with _scan(*args) as found:
        entries = list(found)
    _chance.shuffle(entries)
    return _Entries(entries)
os.scandir = _scandir
"""
"""Loaded by Python before all else: folders list their files in another order."""


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def locales() -> list[str]:
    """Locales other than C that the system has."""
    try:
        told = subprocess.run(["locale", "-a"], capture_output=True, text=True).stdout.split()
    except OSError:
        return []
    return [each for each in told if each not in ("C", "POSIX")]


def with_all_else(project: Path, home: Path, python: str, number: int) -> dict[str, bytes]:
    """What is published with everything different that should not matter."""
    (home / "order").mkdir(parents=True)
    (home / "order/sitecustomize.py").write_text(ORDER)
    copy = shutil.copytree(project, home / "some where" / "élsewhere")
    for path in sorted(copy.rglob("*"), reverse=True):
        os.utime(path, (number * 10**8, number * 10**8))
        path.chmod(0o700 if path.is_dir() else stat.S_IMODE(path.stat().st_mode) & 0o600)
    chance = random.Random(number)
    target = home / "out" / "site"
    target.parent.mkdir()
    surroundings = {
        "PYTHONPATH": os.pathsep.join((str(home / "order"), str(ROOT))),
        "PYTHONHASHSEED": str(chance.randrange(1, 4_000_000_000)),
        "TZ": chance.choice(("Pacific/Auckland", "America/St_Johns", "UTC")),
        "LC_ALL": chance.choice(locales() or ["C"]),
        "LANGUAGE": "de:ja",
        "HOME": str(home),
        "SPECGEN_CACHE": str(home / "cache"),
        "USER": "somebody",
        "COLUMNS": "40",
        "TERM": "dumb",
    }
    words = ["site", "-q", "--project", str(copy), "-o", str(target), "--jobs", str(number)]
    done = subprocess.run(
        ["sh", "-c", 'umask 077; exec "$@"', "sh", python, "-m", "specgen", *words],
        env={**os.environ, **surroundings},
        cwd=home,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return contents(target)


def same(one: dict[str, bytes], two: dict[str, bytes]) -> None:
    assert sorted(one) == sorted(two)
    assert [name for name in one if one[name] != two[name]] == []


@pytest.mark.skipif(sys.platform == "win32", reason="umask and locales of POSIX")
@pytest.mark.slow
def test_a_site_depends_on_nothing_but_the_definitions(
    demo_site: Path, demo_folder: Path, tmp_path: Path
) -> None:
    """Another folder, order of files and of hashes, mode, time, place on earth, number of jobs."""
    same(contents(demo_site), with_all_else(demo_folder, tmp_path / "1", sys.executable, 1))


@pytest.mark.skipif(sys.platform == "win32", reason="umask and locales of POSIX")
@pytest.mark.skipif(not OTHER, reason="SPECGEN_OTHER_PYTHON names no other Python")
@pytest.mark.slow
def test_another_python_makes_the_same_bytes(
    demo_site: Path, demo_folder: Path, tmp_path: Path
) -> None:
    same(contents(demo_site), with_all_else(demo_folder, tmp_path / "1", OTHER, 2))


@pytest.mark.skipif(sys.platform == "win32", reason="umask and locales of POSIX")
@pytest.mark.slow
def test_a_small_site_with_all_else_different(tmp_path: Path) -> None:
    project = written(tmp_path / "project", tiny("[pdf, csv, json, redfish, xlsx]"))
    publish(project, tmp_path / "site")
    same(contents(tmp_path / "site"), with_all_else(project, tmp_path / "1", sys.executable, 3))
