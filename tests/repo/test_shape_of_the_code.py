import ast
import re
import subprocess
import sys
from collections import Counter
from importlib import import_module
from pathlib import Path

import pytest

from specgen.cli import COMMANDS
from tests.repo.house import PACKAGE, ROOT, dotted, modules, name_of, project_files, text_of

LONGEST_MODULE = 400  # lines
LONGEST_FUNCTION = 60  # lines
SAY_NOTHING = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
PACKAGES = [
    path for path in project_files() if path.is_relative_to(PACKAGE) and path.name == "__init__.py"
]


def test_imports_go_down_the_floors() -> None:
    """In a process of its own, since the checker sets logging up for all."""
    code = "import sys, importlinter.cli as cli; sys.exit(cli.lint_imports(no_cache=True))"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_module_is_longer_than_a_person_reads_at_once() -> None:
    lengths = {name_of(path): len(text_of(path).splitlines()) for path, _ in modules()}
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_MODULE} == {}


def test_no_function_is_longer_than_a_screen() -> None:
    long = {
        f"{name_of(path)}:{node.lineno} {node.name}": lines
        for path, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (lines := (node.end_lineno or node.lineno) - node.lineno + 1) > LONGEST_FUNCTION
    }
    assert long == {}


def test_every_module_is_named_for_what_it_holds() -> None:
    words = {name_of(path): re.split(r"[_/.]", name_of(path)) for path, _ in modules()}
    assert [name for name, steps in words.items() if SAY_NOTHING & set(steps)] == []


BY_COMMAND = {f"specgen/cli/{name}.py" for name in COMMANDS}
BY_SUBJECT = re.compile(r"specgen/(?:facts/calculators|rules|model/kinds|write/redfish)/\w+\.py")
"""Rooms of which each has a module for power, another for storage: a name tells the subject."""


def test_a_name_of_a_module_means_one_thing() -> None:
    """But for commands, and for subjects that several rooms have a module of."""
    names = [name_of(path) for path, _ in modules() if path.name != "__init__.py"]
    apart = [name for name in names if name not in BY_COMMAND and not BY_SUBJECT.fullmatch(name)]
    twice = Counter(name.rsplit("/", 1)[-1] for name in apart)
    assert [name for name in apart if twice[name.rsplit("/", 1)[-1]] > 1] == []


def test_a_name_of_a_class_means_one_thing() -> None:
    """Those that a module keeps to itself apart."""
    names = Counter(
        node.name
        for _, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
    )
    assert [name for name, number in names.items() if number > 1] == []


def test_every_module_says_what_it_is() -> None:
    assert [name_of(path) for path, tree in modules() if not ast.get_docstring(tree)] == []


def test_what_others_use_says_what_it_is() -> None:
    """Calculators say it in their label and formula, kinds of part in their title."""
    silent = [
        f"{name_of(path)}:{node.lineno} {node.name}"
        for path, tree in modules()
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
        and not any(_says_what_it_is(each) for each in (*node.decorator_list, *node.body))
    ]
    assert silent == []


def _says_what_it_is(node: ast.AST) -> bool:
    """A declaration of a fact or of a form without a body of its own, or the title of a kind."""
    if isinstance(node, ast.AnnAssign):
        return isinstance(node.target, ast.Name) and node.target.id == "title"
    called = node.func if isinstance(node, ast.Call) else node
    owner = called.value if isinstance(called, ast.Attribute) else called
    return isinstance(owner, ast.Name) and owner.id in ("fact", "overload")


def test_imports_are_absolute_and_need_no_future() -> None:
    wrong = [
        f"{name_of(path)}:{node.lineno}"
        for path, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.level or node.module == "__future__")
    ]
    assert wrong == []


@pytest.mark.parametrize("path", PACKAGES, ids=[dotted(path) for path in PACKAGES])
def test_what_a_package_offers_is_there_and_in_order(path: Path) -> None:
    package = import_module(dotted(path))
    offered = getattr(package, "__all__", None)
    if offered is None:
        assert not _only_hands_on(ast.parse(text_of(path)))
        return
    assert [name for name in offered if not hasattr(package, name)] == []
    assert list(offered) == sorted(offered, key=_rank)
    assert len(set(offered)) == len(offered)


def _only_hands_on(module: ast.Module) -> bool:
    """Whether a module holds imports of ours and nothing else: names for others to take."""
    rest = module.body[1:] if ast.get_docstring(module) else module.body
    return bool(rest) and all(
        isinstance(node, ast.ImportFrom) and str(node.module).startswith("specgen.")
        for node in rest
    )


def _rank(name: str) -> tuple[int, str]:
    """Constants, then classes, then the rest: as ruff sorts them."""
    return (0 if name.isupper() else 1 if name[:1].isupper() else 2, name)
