"""A table that a definition declares, in one line: what a pedigree prints of it."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from specgen.quantity import Quantity, show


def is_table(value: Any) -> bool:
    """Whether a field holds rows rather than one value or several words."""
    if isinstance(value, tuple):
        return not all(isinstance(each, str) for each in value)
    return isinstance(value, Mapping)


def tabled(value: Any) -> Any:
    """The rows of a table in words, None of one without any; what is no table as it is.

    `1: 5600 MT/s, 2: 4400 MT/s`; of records each field that they have.
    """
    if not is_table(value):
        return value
    if isinstance(value, Mapping):
        rows = [f"{key}: {_shown(each)}" for key, each in value.items()]
        return ", ".join(rows) if rows else None
    return "; ".join(_shown(each) for each in value)


def _shown(value: Any) -> str:
    if is_dataclass(value) and not isinstance(value, Quantity):
        named = ((each.name, getattr(value, each.name)) for each in fields(value))
        return ", ".join(
            f"{name.strip('_').replace('_', ' ')} {show(each)}"
            for name, each in named
            if each is not None and not isinstance(each, tuple | Mapping)
        )
    return show(value)
