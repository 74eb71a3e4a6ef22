"""A build's data for strangers: no files, no lines, nothing of what was found."""

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Final, TypeVar

from specgen.document.data.plain_values import BuildData, Location
from specgen.facts.fact_data import DeclaredInput

T = TypeVar("T")
NOWHERE: Final = Location(file="", line=0)


def public(data: BuildData) -> BuildData:
    """The same values, without what is said of the files behind them."""
    return _without_places(replace(data, findings=()))


def _without_places(value: T) -> T:
    made: object = value
    match value:
        case Location():
            made = NOWHERE
        case DeclaredInput():
            made = replace(value, file=None, line=None)
        case tuple():
            made = tuple(map(_without_places, value))
        case Mapping():
            made = {key: _without_places(entry) for key, entry in value.items()}
        case _ if hasattr(value, "__dataclass_fields__"):
            made = replace(
                value,  # type: ignore[type-var]
                **{each.name: _without_places(getattr(value, each.name)) for each in fields(value)},  # type: ignore[arg-type]
            )
    return made  # type: ignore[return-value]
