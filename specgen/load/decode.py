"""A tree to a model value, through pydantic-core on the model's dataclasses."""

from typing import TypeVar

from pydantic_core import ValidationError

from specgen.diagnostics import Finding
from specgen.load.negative_values import negative_values
from specgen.load.validators import validator
from specgen.model import Origin
from specgen.source import YamlMapping

T = TypeVar("T")


def decode(cls: type[T], tree: YamlMapping) -> tuple[T | None, tuple[Finding, ...]]:
    """The value a mapping describes, or None and every reason why there is none."""
    try:
        value: T = validator(cls).validate_python(tree)
    except ValidationError as problems:
        from specgen.load.validation_errors import explain  # only where there is a mistake

        return None, explain(cls, tree, problems)
    negatives = negative_values(value, tree)
    if negatives:
        return None, negatives
    if hasattr(value, "origin"):
        object.__setattr__(value, "origin", Origin(tree))
    return value, ()
