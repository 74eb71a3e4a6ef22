"""A project whose text fields hold strings that would act, were they ever read as more than text.

Which fields hold texts is read from the annotations of the model, so a field that somebody adds is
tried as well.
"""

import json
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from itertools import count
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Final, Union, get_args, get_origin, get_type_hints

from specgen.load.definitions import KindRegister, _definitions
from specgen.load.value_files import VALUES, _entries
from specgen.model import KINDS, OwnValue, Project
from specgen.model.fields import Text
from specgen.model.markers import written
from specgen.source import (
    YamlMapping,
    YamlScalar,
    YamlSequence,
    read_project,
    read_tree,
)

WORDS: Final = frozenset((
    "behind", "channel", "choices", "code", "cools", "documents", "downloads", "expression",
    "far_form", "forbid", "form", "from_", "inlet", "inlets", "interfaces", "key", "language",
    "memory_technology", "neighbour", "of", "outlet", "over", "plug", "require", "resource",
    "socket", "subsystem", "takes", "technology", "to", "unit", "when",
))  # fmt: skip
"""Fields that others refer to or that are read as expressions: with another text in them no build
can exist, so only one of the two projects has its strings there as well."""
PLACES: Final = ("Position", "Port", "BoardPort", "Cover")
"""What is named as it is printed on the board: builds refer to it."""


def strings() -> tuple[str, ...]:
    """The strings, in the order of their file."""
    file = Path(__file__).parent / "strings.yaml"
    tree, findings = read_tree(file.read_text(encoding="utf-8"), file.name)
    assert findings == ()
    assert isinstance(tree, YamlMapping)
    return tuple(str(each) for group in tree.values() for each in group)


@dataclass(frozen=True)
class Place:
    """A text field of a definition: whose it is, its name, what is written there."""

    owner: str
    name: str
    scalar: YamlScalar

    @property
    def is_word(self) -> bool:
        return self.name in WORDS or (self.name == "name" and self.owner in PLACES)


def copy_of(project: Path, target: Path, *, words: bool) -> dict[tuple[str, str], list[str]]:
    """A copy of a project with the strings in its texts; what each field holds now.

    With `words` also in those that others refer to.
    """
    shutil.copytree(project, target)
    sources = read_project(project)
    kinds = KindRegister(KINDS)
    every, numbers = strings(), count()
    tried: dict[tuple[str, str], list[str]] = {}
    put: dict[int, str] = {}
    """The new texts by the scalars in whose places they stand, whoever shares these."""
    for file in sorted(sources.files, key=lambda file: file.folder != "kinds"):
        if file.tree is None:
            continue
        for place in _of_file(file.name, file.folder, file.tree, kinds):
            if words or not place.is_word:
                number = next(numbers)
                text = f"{every[number % len(every)]} {number}"
                if id(place.scalar) in put:  # several parts share it
                    continue
                put[id(place.scalar)] = text
                tried.setdefault((place.owner, place.name), []).append(text)
        path = target / file.name
        path.write_text("\n".join((*_lines(file.tree, put), "")), encoding="utf-8")
    assert next(numbers) > len(every)
    return tried


def _of_file(name: str, folder: str, tree: Any, kinds: KindRegister) -> Iterator[Place]:
    if name == "specgen.yaml":
        yield from _of_record(Project, tree)
    elif folder == VALUES:
        for node in _entries(tree):
            yield from _of_record(OwnValue, node)
    elif folder in ("kinds", "catalog", "platforms", "configured"):
        for node, cls, _ in _definitions(tree, folder, kinds):
            if node is not None and cls is not None:
                yield from _of_record(cls, node)


def _of_record(cls: type, node: Any) -> Iterator[Place]:
    hints = get_type_hints(cls, include_extras=True)
    for each in fields(cls):
        key = written(each.name)
        if isinstance(node, YamlMapping) and key in node:
            yield from _of_hint(hints[each.name], node, key, cls.__name__, each.name)


def _of_hint(hint: Any, parent: Any, key: Any, owner: str, name: str) -> Iterator[Place]:
    node = parent[key]
    origin = get_origin(hint)
    if origin is Annotated:
        if hint.__metadata__[: len(Text.__metadata__)] != Text.__metadata__:
            yield from _of_hint(hint.__origin__, parent, key, owner, name)
        elif isinstance(node, YamlScalar):
            yield Place(owner, name, node)
    elif origin in (Union, UnionType):
        for each in get_args(hint):
            yield from _of_hint(each, parent, key, owner, name)
    elif origin is tuple:
        inner = get_args(hint)[0]
        if isinstance(node, YamlSequence):
            for index in range(len(node)):
                yield from _of_hint(inner, node, index, owner, name)
        else:
            yield from _of_hint(inner, parent, key, owner, name)
    elif isinstance(hint, type) and is_dataclass(hint):
        yield from _of_record(hint, node)
    elif origin is not None and isinstance(node, YamlMapping):
        for each in list(node):
            yield from _of_hint(get_args(hint)[-1], node, each, owner, name)


def _lines(node: Any, put: Mapping[int, str], indent: str = "") -> Iterator[str]:
    """A tree as YAML again, words without quotes where they had none."""
    if isinstance(node, YamlMapping):
        if not node:
            yield f"{indent}{{}}"
        for key, value in node.items():
            yield from _entry(f"{indent}{json.dumps(str(key))}:", value, put, indent)
    elif isinstance(node, YamlSequence):
        if not node:
            yield f"{indent}[]"
        for value in node:
            yield from _entry(f"{indent}-", value, put, indent)
    else:
        yield f"{indent}{_scalar(node, put)}"


def _entry(head: str, value: Any, put: Mapping[int, str], indent: str) -> Iterator[str]:
    if isinstance(value, (YamlMapping, YamlSequence)):
        yield head
        yield from _lines(value, put, f"{indent}  ")
    else:
        yield f"{head} {_scalar(value, put)}"


def _scalar(node: Any, put: Mapping[int, str]) -> str:
    if id(node) in put:
        return json.dumps(put[id(node)])
    plain = isinstance(node, YamlScalar) and node.plain and node and "\n" not in node
    return str(node) if plain else json.dumps(str(node))
