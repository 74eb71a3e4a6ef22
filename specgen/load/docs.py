"""What the model says of its fields, for whoever writes them: new files and schemas."""

import ast
import inspect
import textwrap
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from itertools import pairwise
from typing import Any

from specgen.model import Part
from specgen.model.labels import entries

_DOCS: dict[type[Any], Mapping[str, str]] = {}  # by class, read once


def field_docs(cls: type[Any]) -> Mapping[str, str]:
    """What a field is, by its name in Python, for the fields of a record that say so."""
    found: dict[str, str] = {}
    for each in reversed(cls.__mro__):
        if is_dataclass(each) and each.__module__.startswith(Part.__module__.split(".")[0]):
            found |= _own(each)
    about = {entry.name: entries(cls)[entry.name].called.about for entry in fields(cls)}
    return found | {name: text for name, text in about.items() if text}


def _own(cls: type[Any]) -> Mapping[str, str]:
    """What stands below the fields in the source of a class; nothing where there is no source."""
    if cls not in _DOCS:
        try:
            tree = ast.parse(textwrap.dedent(inspect.getsource(cls))).body[0]
        except (OSError, TypeError):
            return {}
        found: dict[str, str] = {}
        body = tree.body if isinstance(tree, ast.ClassDef) else []
        for entry, after in pairwise(body):
            text = after.value if isinstance(after, ast.Expr) else None
            if (
                isinstance(entry, ast.AnnAssign)
                and isinstance(entry.target, ast.Name)
                and isinstance(text, ast.Constant)
                and isinstance(text.value, str)
            ):
                found[entry.target.id] = " ".join(text.value.split())
        _DOCS[cls] = found
    return _DOCS[cls]
