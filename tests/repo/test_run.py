import ast
import subprocess
import sys
from pathlib import Path

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
def test_bad_usage_is_told_and_changes_nothing(arguments: tuple[str, ...], tmp_path: Path) -> None:
    done = run(*arguments, folder=tmp_path)
    assert done.returncode == 2
    assert "run.py publish" in done.stderr
    assert [*tmp_path.iterdir()] == []
