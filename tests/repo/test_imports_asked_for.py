"""Whatever is imported is asked for in `pyproject.toml`, by the part of it that is installed there.

A developer's environment holds more than that of the README's commands; what only the former has
is missed in the latter.
"""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

from tests.repo.house import ROOT, name_of, project_files, text_of

PROJECT = tomllib.loads(text_of(ROOT / "pyproject.toml"))
BROUGHT = {
    "coverage": "pytest-cov",
    "libcst": "mutmut",
    "markdown": "mkdocs",
    "markupsafe": "jinja2",
    "pydantic-core": "pydantic",
}
"""What another package hands on as its own interface, and which."""
ABSENT = {"atheris", "hatchling"}
"""What no extra brings: for long runs, and for building; whoever imports it does without."""
SKIPPED = {"pdfua", "playwright"}
"""What tests of developers need, and skip without."""


def distribution(name: str) -> str:
    return re.sub(r"[-_.]+", "-", re.split(r"[^\w.-]", name)[0]).lower()


def asked_for(*extras: str) -> set[str]:
    found = {distribution(each) for each in PROJECT["project"]["dependencies"]}
    for extra in extras:
        found |= set(map(distribution, PROJECT["project"]["optional-dependencies"][extra]))
    return found


def imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (each.name.partition(".")[0] for each in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module.partition(".")[0]


@cache
def installed() -> Mapping[str, list[str]]:
    """What is installed brings which modules."""
    return packages_distributions()


def files_of(folder: str) -> list[Path]:
    return [
        path
        for path in project_files()
        if path.suffix == ".py" and path.is_relative_to(ROOT / folder)
    ]


@pytest.mark.parametrize(
    ("folder", "extras"), [("specgen", ()), ("tests", ("test",)), (".dev", ("test", "dev"))]
)
def test_what_is_imported_is_asked_for(folder: str, extras: tuple[str, ...]):
    ours = {path.stem for path in project_files() if path.suffix == ".py"} | {"specgen", "tests"}
    brings = installed()
    there = asked_for(*extras) | (ABSENT | SKIPPED if extras else set())
    missed = []
    for path in files_of(folder):
        for name in imported(ast.parse(text_of(path))):
            if name in sys.stdlib_module_names or name in ours:
                continue
            sources = {distribution(each) for each in brings.get(name, [name])}
            sources = {BROUGHT.get(each, each) for each in sources}
            if not sources & there:
                missed.append(f"{name_of(path)} imports {name}")
    assert not missed


def test_what_is_brought_along_is_not_asked_for_as_well():
    """Else the table above has outlived its reason."""
    every = asked_for("test", "dev")
    assert not every & set(BROUGHT)
    assert set(BROUGHT.values()) <= every
    assert not every & ABSENT
