"""A tree to a model value, through pydantic on the model's dataclasses."""

from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from specgen.diagnostics import Finding
from specgen.load.problems import explain
from specgen.load.signs import negative_figures
from specgen.model import Origin
from specgen.source import Fields

T = TypeVar("T")


_ADAPTERS: dict[type[Any], TypeAdapter[Any]] = {}


def adapter(cls: type[Any]) -> TypeAdapter[Any]:
    """The validator of a model class, made once."""
    if cls not in _ADAPTERS:
        _ADAPTERS[cls] = TypeAdapter(cls)
    return _ADAPTERS[cls]


def decode(cls: type[T], tree: Fields) -> tuple[T | None, tuple[Finding, ...]]:
    """The value a mapping describes, or None and every reason why there is none."""
    try:
        value: T = adapter(cls).validate_python(tree)
    except ValidationError as problems:
        return None, explain(cls, tree, problems)
    negatives = negative_figures(value, tree)
    if negatives:
        return None, negatives
    if hasattr(value, "origin"):
        object.__setattr__(value, "origin", Origin(tree))
    return value, ()
