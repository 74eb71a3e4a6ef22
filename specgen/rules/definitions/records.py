"""The records of a definition, each with the way to it: what stands under which keys."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, Final, get_args, get_origin

from specgen.model import Definitions
from specgen.model.labels import entries
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import Quantity

APART: Final = frozenset({"origin", "source", "life", "rules", "history", "needs", "fit"})
"""Fields whose records state no amounts."""


def things(definitions: Definitions) -> Iterator[Any]:
    """Everything that a project defines, itself among it."""
    yield definitions.project
    yield from definitions.parts.values()
    yield from definitions.platforms.values()
    yield from definitions.builds.values()


def records(value: Any, path: FieldPath = ()) -> Iterator[tuple[FieldPath, Any]]:
    """A record and all that it holds, each with the way to it."""
    yield path, value
    for name, alias in _holding(type(value)):
        inner = getattr(value, name)
        if inner is None or inner == ():
            continue
        if is_dataclass(inner):
            yield from records(inner, (*path, alias))
        elif isinstance(inner, tuple):
            for at, each in enumerate(inner):
                if is_dataclass(each):
                    yield from records(each, (*path, alias, at))
        elif isinstance(inner, Mapping):
            for key, each in inner.items():
                if is_dataclass(each):
                    yield from records(each, (*path, alias, str(key)))


_HOLDING: dict[type[Any], tuple[tuple[str, str], ...]] = {}  # by class, worked out once
_QUANTITIES: dict[type[Any], tuple[tuple[str, type[Quantity]], ...]] = {}


def _holding(cls: type[Any]) -> tuple[tuple[str, str], ...]:
    """The fields of a record that can hold records, with their names in YAML."""
    if cls not in _HOLDING:
        _HOLDING[cls] = tuple(
            (each.name, written(each.name))
            for each in (() if issubclass(cls, Quantity) else fields(cls))
            if each.name not in APART and entries(cls)[each.name].record is not None
        )
    return _HOLDING[cls]


def quantities_of(cls: type[Any]) -> tuple[tuple[str, type[Quantity]], ...]:
    """The fields of a record that hold one quantity, with its class."""
    if cls not in _QUANTITIES:
        known = ((each.name, next(_classes(each.type), None)) for each in fields(cls))
        _QUANTITIES[cls] = tuple((name, own) for name, own in known if own is not None)
    return _QUANTITIES[cls]


def _classes(hint: Any) -> Iterator[type[Quantity]]:
    """The classes of quantity that a field holds by itself, optional or marked."""
    if isinstance(hint, type) and issubclass(hint, Quantity):
        yield hint
    elif get_origin(hint) not in (tuple, dict, Mapping):
        for inner in get_args(hint):
            yield from _classes(inner)
