"""What lies in the project's folder, as the tests of the repository look at it."""

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PACKAGE = ROOT / "specgen"
MADE = {"__pycache__", "node_modules", "public", "dist", ".git", ".coverage", ".hypothesis"}
"""Names of what tools make; only asked where git cannot say what belongs to the project."""


@cache
def project_files() -> tuple[Path, ...]:
    """Every file that belongs to the project: what git follows or would follow."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    try:
        listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        return tuple(sorted(_walk(ROOT)))
    names = sorted(name for name in listed.decode().split("\0") if name)
    return tuple(path for name in names if (path := ROOT / name).is_file())


def _walk(folder: Path) -> Iterator[Path]:
    for entry in folder.iterdir():
        if entry.name in MADE or entry.name.startswith(".venv") or "_cache" in entry.name:
            continue
        if entry.is_dir():
            yield from _walk(entry)
        else:
            yield entry


def name_of(path: Path) -> str:
    """The file's name from the project's folder on."""
    return path.relative_to(ROOT).as_posix()


@cache
def text_of(path: Path) -> str:
    """The text of a file; empty where there is none or it is not UTF-8."""
    try:
        return path.read_text(encoding="utf-8")
    except (FileNotFoundError, UnicodeDecodeError):
        return ""


@cache
def modules() -> tuple[tuple[Path, ast.Module], ...]:
    """Every module of the package with its syntax tree."""
    files = [path for path in project_files() if path.is_relative_to(PACKAGE)]
    return tuple(
        (path, ast.parse(text_of(path), filename=name_of(path)))
        for path in files
        if path.suffix == ".py"
    )


def dotted(path: Path) -> str:
    """The name a module is imported by."""
    steps = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(steps[:-1] if steps[-1] == "__init__" else steps)
