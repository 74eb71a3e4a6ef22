"""A table that a definition declares, in one line: what a pedigree prints of it."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

from specgen.messages import listed, say
from specgen.model.labels import field_words
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
        rows = [
            say("{key}: {value}", key=str(key), value=_shown(each)) for key, each in value.items()
        ]
        return listed(rows) if rows else None
    return listed(map(_shown, value), "semicolon")


def _shown(value: Any) -> object:
    if is_dataclass(value) and not isinstance(value, Quantity):
        named = ((each.name, getattr(value, each.name)) for each in fields(value))
        return listed(
            say("{name} {value}", name=field_words(type(value), (name,)), value=_plain(each))
            for name, each in named
            if each is not None and not isinstance(each, tuple | Mapping)
        )
    return _plain(value)


def _plain(value: Any) -> object:
    """What a language prints, else the value's own words."""
    return value if isinstance(value, Quantity | Decimal | int | str) else show(value)
