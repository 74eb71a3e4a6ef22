"""What checks rest on is told honestly: published where it was read, else under its own head."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from tests.repo.house import ROOT, name_of, project_files, text_of
from tests.sorts import READ, SORTS, mark_of, rest_on, table

WORDS_OF_OTHERS = ("from memory", "remembered", "practice", "arithmetic", "rule of thumb")


def marks(path: Path) -> Iterator[tuple[str, int, str, str]]:
    """The marks of a module: sort, line, topic and what it rests on, constants put in."""
    tree = ast.parse(text_of(path))
    constants = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            sort = node.func.attr
            if sort in SORTS and ast.unparse(node.func.value) == "pytest.mark":
                topic, rests = (_text(each, constants) for each in node.args)
                yield sort, node.lineno, topic, rests


def _text(node: ast.expr, constants: dict[str, ast.expr]) -> str:
    match node:
        case ast.Constant(value=str(text)):
            return text
        case ast.Name(id=name):
            return _text(constants[name], constants)
        case ast.BinOp(left=left, op=ast.Add(), right=right):
            return _text(left, constants) + _text(right, constants)
    raise AssertionError(f"a mark is written out, not made: {ast.unparse(node)}")


@cache
def every() -> list[tuple[Path, str, int, str, str]]:
    """The marks of all tests, with their modules."""
    tests = (path for path in project_files() if path.is_relative_to(ROOT / "tests"))
    modules = (path for path in tests if path.suffix == ".py" and "mark." in text_of(path))
    return [(path, *found) for path in modules for found in marks(path)]


def test_what_is_called_published_has_been_read() -> None:
    unread = [
        f"{name_of(path)}:{line} {rests}"
        for path, sort, line, _, rests in every()
        if sort == "published" and not rests.startswith(tuple(READ))
    ]
    assert unread == [], "read it and say so in tests/sorts.py, or mark it otherwise"


def test_what_is_called_published_does_not_say_otherwise() -> None:
    otherwise = [
        f"{name_of(path)}:{line} {rests}"
        for path, sort, line, _, rests in every()
        if sort == "published" and any(word in rests.lower() for word in WORDS_OF_OTHERS)
    ]
    assert otherwise == []


def test_every_source_that_was_read_is_used() -> None:
    published = " | ".join(rests for _, sort, _, _, rests in every() if sort == "published")
    assert [name for name in READ if name not in published] == []


def test_every_sort_has_checks() -> None:
    assert {sort for _, sort, *_ in every()} == set(SORTS)


def test_a_row_goes_before_its_function_and_that_before_its_module() -> None:
    def item(*own: pytest.MarkDecorator) -> pytest.Item:
        module = pytest.mark.published("m", "DMTF").mark
        kept = [each.mark for each in own]
        found = SimpleNamespace(own_markers=kept, iter_markers=lambda: iter([*kept, module]))
        return cast(pytest.Item, found)

    function, row = pytest.mark.practice("f", "f"), pytest.mark.memory("r", "r")
    assert [mark_of(each).name for each in (item(), item(function), item(function, row))] == [  # type: ignore[union-attr]
        "published",
        "practice",
        "memory",
    ]


def test_rows_keep_their_values() -> None:
    (row,) = cast(list[Any], rest_on(pytest.mark.memory("t", "s"), [(1, "two")]))
    assert row.values == (1, "two")
    assert [mark.name for mark in row.marks] == ["memory"]


def test_each_sort_is_counted_apart() -> None:
    checks = [("memory", "a", "x"), ("published", "b", "y"), ("published", "b", "z")]
    assert list(table(checks)) == [
        (SORTS["published"], ["b          2  y; z", "in all     2"]),
        (SORTS["memory"], ["a          1  x", "in all     1"]),
    ]
