"""The records of a definition, each with the way to it: what stands under which keys."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, Final, get_args, get_origin

from specgen.model import Definitions, Rule
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


def rules_of(thing: Any) -> Iterator[tuple[FieldPath, Sequence[Rule]]]:
    """The rules that a definition declares, and the way to them."""
    if hasattr(thing, "rules"):
        yield ("rules",), thing.rules
    for at, family in enumerate(getattr(thing, "families", ())):
        yield ("families", at, "rules"), family.rules


def holding(cls: type[Any]) -> Iterator[tuple[str, str, type[Any]]]:
    """The fields that hold records, with their names in YAML, and the class of these."""
    for each in () if issubclass(cls, Quantity) else fields(cls):
        record = entries(cls)[each.name].record
        if record is not None:
            yield each.name, written(each.name), record


Held = Callable[[type[Any]], tuple[tuple[str, str], ...]]
"""The fields of a record whose records are gone through, with their names in YAML."""


_AMOUNTS: dict[type[Any], tuple[tuple[str, str], ...]] = {}  # by class, worked out once
_QUANTITIES: dict[type[Any], tuple[tuple[str, type[Quantity]], ...]] = {}


def amounts(cls: type[Any]) -> tuple[tuple[str, str], ...]:
    """Those that can hold amounts."""
    if cls not in _AMOUNTS:
        _AMOUNTS[cls] = tuple((name, key) for name, key, _ in holding(cls) if name not in APART)
    return _AMOUNTS[cls]


def records(
    value: Any, path: FieldPath = (), held: Held = amounts
) -> Iterator[tuple[FieldPath, Any]]:
    """A record and what it holds, each with the way to it."""
    yield path, value
    for name, alias in held(type(value)):
        inner = getattr(value, name)
        if inner is None or inner == ():
            continue
        if is_dataclass(inner):
            yield from records(inner, (*path, alias), held)
        elif isinstance(inner, tuple):
            for at, each in enumerate(inner):
                if is_dataclass(each):
                    yield from records(each, (*path, alias, at), held)
        elif isinstance(inner, Mapping):
            for key, each in inner.items():
                if is_dataclass(each):
                    yield from records(each, (*path, alias, str(key)), held)


def quantities_of(cls: type[Any]) -> tuple[tuple[str, type[Quantity]], ...]:
    """The fields of a record that hold one quantity, with its class."""
    if cls not in _QUANTITIES:
        hints: dict[str, Any] = {each.name: each.type for each in fields(cls)}
        known = ((name, _quantity_in(hint)) for name, hint in hints.items())
        _QUANTITIES[cls] = tuple((name, own) for name, own in known if own is not None)
    return _QUANTITIES[cls]


@cache
def _quantity_in(hint: Any) -> type[Quantity] | None:
    """The class of quantity that a field holds by itself, optional or marked."""
    if isinstance(hint, type) and issubclass(hint, Quantity):
        return hint
    if get_origin(hint) in (tuple, dict, Mapping):
        return None
    return next(filter(None, map(_quantity_in, get_args(hint))), None)
