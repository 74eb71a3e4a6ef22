"""What the model says of its fields, for whoever writes them: new files and schemas."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from specgen.attribute_docs import texts_below
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
    """What stands below the fields of a class."""
    if cls not in _DOCS:
        _DOCS[cls] = texts_below(cls)
    return _DOCS[cls]
