import ast
import shutil
import subprocess
import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest

from tests.repo.house import ROOT, text_of

RUN = ROOT / ".dev" / "run.py"


def run(*arguments: str, folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(RUN), *arguments]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def test_an_old_python_can_read_as_far_as_the_line_that_says_so() -> None:
    ast.parse(text_of(RUN), feature_version=(3, 7))


def test_set_up_needs_nothing_but_the_standard_library() -> None:
    tree = ast.parse(text_of(RUN))
    names = {
        (node.module or "").split(".")[0] if isinstance(node, ast.ImportFrom) else alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for alias in node.names
    }
    assert names <= sys.stdlib_module_names


@pytest.mark.parametrize("arguments", [(), ("publsh",)])
def test_bad_usage_is_reported_and_changes_nothing(
    arguments: tuple[str, ...], tmp_path: Path
) -> None:
    done = run(*arguments, folder=tmp_path)
    assert done.returncode == 2
    assert "run.py publish" in done.stderr
    assert [*tmp_path.iterdir()] == []


Commands = list[list[str]]


@pytest.fixture
def set_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[ModuleType, Commands]:
    """run.py in a folder of its own, with what it would have run instead of running it."""
    spec = spec_from_file_location("run", RUN)
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    folder = tmp_path / "project"
    shutil.copytree(ROOT / ".dev" / "lock", folder / ".dev" / "lock")
    shutil.copy(ROOT / "pyproject.toml", folder)
    for name, value in vars(module).copy().items():
        if isinstance(value, Path) and value.is_relative_to(ROOT):
            monkeypatch.setattr(module, name, folder / value.relative_to(ROOT))
    commands: Commands = []

    def quiet(command: list[str], trouble: str) -> None:
        commands.append(command)
        module.VENV.mkdir(exist_ok=True)

    monkeypatch.setattr(module, "quiet", quiet)
    monkeypatch.setattr(module, "works", lambda code: module.VENV.is_dir())
    return module, commands


def test_what_is_locked_is_installed_held_to_its_digests(
    set_up: tuple[ModuleType, Commands],
) -> None:
    module, commands = set_up
    module.installed("test")
    made, *locked, project = commands
    assert made[1:3] == ["-m", "venv"]
    assert [each[-1] for each in locked] == [
        str(module.LOCK / name) for name in ("publish.txt", "test.txt")
    ]
    assert all("--require-hashes" in each for each in locked)
    # nothing is built with what pip would fetch by itself
    assert all("--no-build-isolation" in each for each in (*locked, project))
    assert "--no-deps" in project


def test_nothing_is_installed_twice_and_nothing_goes(set_up: tuple[ModuleType, Commands]) -> None:
    module, commands = set_up
    module.installed("test")
    commands.clear()
    module.installed("publish")
    module.installed("test")
    assert commands == []
    module.installed("dev")
    locked = [str(module.LOCK / name) for name in ("publish.txt", "dev.txt")]
    assert [command[-1] for command in commands] == [*locked, str(module.ROOT)]


@pytest.mark.parametrize("name", ["pyproject.toml", ".dev/lock/publish.txt"])
def test_what_has_changed_is_installed_anew(set_up: tuple[ModuleType, Commands], name: str) -> None:
    module, commands = set_up
    module.installed("test")
    commands.clear()
    file = module.ROOT / name
    file.write_text(file.read_text() + "\n")
    module.installed("publish")
    assert len(commands) == 2


def test_a_lock_that_is_gone_is_reported(
    set_up: tuple[ModuleType, Commands], capsys: pytest.CaptureFixture[str]
) -> None:
    module, _ = set_up
    shutil.rmtree(module.LOCK)
    assert module.main(["publish"]) == 2
    assert "publish.txt" in capsys.readouterr().err
