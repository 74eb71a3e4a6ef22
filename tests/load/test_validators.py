"""Trees are validated as pydantic itself would: the same values, the same errors in places."""

import copy
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter
from pydantic_core import ValidationError

from specgen.document.shared_texts import CautionText, Term, WalkText
from specgen.load import definitions
from specgen.load.decode import decode
from specgen.load.validators import validator
from specgen.model import KINDS, Build, Conditions, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.source import YamlMapping, read_project
from tests.conftest import ROOT
from tests.projects import BASE

ROOTS = (Project, Platform, Build, Conditions, DeclaredKind, *KINDS.values())
OTHERS = (CautionText, WalkText, Term)


@cache
def adapter(cls: type[Any]) -> TypeAdapter[Any]:
    return TypeAdapter(cls)


def outcome(validate: Any, tree: object) -> object:
    """The value, or each error: sort, place, what it says and the input."""
    try:
        return validate(tree)
    except ValidationError as problems:
        return [
            (each["type"], each["loc"], each["msg"], each.get("ctx"), each["input"])
            for each in problems.errors(include_url=False)
        ]


def same(cls: type[Any], tree: object) -> None:
    ours = outcome(validator(cls).validate_python, tree)
    theirs = outcome(adapter(cls).validate_python, tree)
    if isinstance(ours, list) and isinstance(theirs, list):
        assert sorted(map(str, ours)) == sorted(map(str, theirs))
    assert ours == theirs
    assert repr(ours) == repr(theirs)  # the types of what is equal too


@cache
def trees() -> tuple[tuple[type[Any], YamlMapping], ...]:
    """Every definition of the demo and of the small project, with the class that it is read as."""
    seen: list[tuple[type[Any], YamlMapping]] = []

    def look(cls: type[Any], tree: YamlMapping) -> object:
        seen.append((cls, tree))
        return decode(cls, tree)

    with pytest.MonkeyPatch.context() as changed:
        changed.setattr(definitions, "decode", look)
        for folder in (ROOT / "builds", BASE):
            definitions.load(read_project(folder))
    return tuple(seen)


def test_every_definition_is_read_as_pydantic_reads_it() -> None:
    assert len(trees()) > 250
    assert {cls for cls, _ in trees()} >= {Project, Platform, Build}
    for cls, tree in trees():
        same(cls, tree)


@pytest.mark.parametrize("cls", [*ROOTS, *OTHERS], ids=lambda cls: cls.__name__)
def test_nothing_and_the_wrong_things_are_refused_alike(cls: type[Any]) -> None:
    for tree in ({}, [], "text", None, 3, {"no-such-field": "x"}, {"origin": "x"}):
        same(cls, tree)


TEXTS = ("", "~", "x1", "x3", "8+8", "-1", "1.5", "12 W", "12 kg", "true", "low", "BAY 0..7", "n/a")
KEYS = ("id", "name", "from", "from_", "of", "x", "1")
NODES = st.recursive(
    st.sampled_from(TEXTS),
    lambda inner: st.one_of(
        st.lists(inner, max_size=2),
        st.dictionaries(
            st.sampled_from(["id", "name", "from", "from_", "of", "x", "1"]), inner, max_size=2
        ),
    ),
    max_leaves=3,
)


def paths(node: object, here: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    yield here
    if isinstance(node, dict):
        for key, each in node.items():
            yield from paths(each, (*here, key))
    elif isinstance(node, list):
        for index, each in enumerate(node):
            yield from paths(each, (*here, index))


def plain(node: Any) -> Any:
    """A tree without its places: copies of it can be changed."""
    if isinstance(node, dict):
        return {str(key): plain(each) for key, each in node.items()}
    return [plain(each) for each in node] if isinstance(node, list) else str(node)


@given(st.data())
def test_whatever_is_written_somewhere_is_reported_alike(data: st.DataObject) -> None:
    cls, tree = data.draw(st.sampled_from(trees()))
    changed = copy.deepcopy(plain(tree))
    for _ in range(data.draw(st.integers(1, 3))):
        *above, last = data.draw(st.sampled_from([each for each in paths(changed) if each]))
        holder = changed
        for step in above:
            holder = holder[step]
        if data.draw(st.booleans()):
            holder[last] = data.draw(NODES)
        elif isinstance(holder, dict):
            del holder[last]
        if isinstance(holder, dict) and data.draw(st.booleans()):
            holder[data.draw(st.sampled_from(["from_", "nam", "origin"]))] = data.draw(NODES)
        if not changed:
            break
    same(cls, changed)
