"""A small project on disk, and commands run in this process."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from specgen.cli import main
from tests.projects import base


@dataclass(frozen=True, slots=True)
class Ran:
    """How a command ended and what it said."""

    status: int
    out: str
    err: str


Run = Callable[..., Ran]


def written(folder: Path, files: dict[str, str] | None = None) -> Path:
    """The small sound project, or these files, in a folder."""
    for name, text in (base() if files is None else files).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs `specgen` with arguments; no terminal listens."""

    def call(*arguments: object) -> Ran:
        capsys.readouterr()
        status = main([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert "went wrong" not in err, err
        return Ran(status, out, err)

    return call


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, with the small project in `builds` below it."""
    written(tmp_path / "builds")
    monkeypatch.chdir(tmp_path)
    return tmp_path
