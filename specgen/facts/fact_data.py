"""Facts as plain values, for files that programs read: the one form, whoever writes it.

The dataclasses here are the field table: their names are the keys of the JSON, their docstrings the
descriptions in its schema.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, TypeVar, dataclass_transform

from specgen.facts.fact import Basis, Declared, Fact, Value
from specgen.frozen import frozen
from specgen.messages import Sayable
from specgen.model.markers import Json
from specgen.quantity import Quantity, exact, plain, show

T = TypeVar("T")

JsonNumber = Annotated[Decimal, Json({"type": "number"})]
Bare = bool | JsonNumber | int | str | tuple[str, ...] | None
"""What a value is without its unit."""


@dataclass_transform(frozen_default=True, kw_only_default=True)
def datum(cls: type[T]) -> type[T]:
    """A frozen dataclass that stands for an object of the JSON."""
    config = {"extra": "forbid", "use_attribute_docstrings": True}
    cls.__pydantic_config__ = config  # type: ignore[attr-defined]
    return frozen(kw_only=True)(cls)


@datum
class FactInput:
    """A fact that another one rests on."""

    fact: str
    """Key of a fact in the same file."""


@datum
class DeclaredInput:
    """A value as a definition states it, and where: a leaf of a pedigree."""

    label: str
    subject: str
    """The position or port it is about; empty where it is about none."""
    value: Bare
    unit: str | None
    assumed: bool
    """Taken for granted by the project rather than stated of a part."""
    file: str | None
    """Path from the project folder; null where nobody declared the value."""
    line: int | None
    document: str | None
    """The source that the definition names."""
    page: str | None
    date: str | None


@datum
class FactData:
    """A value of a system with the first level of its pedigree."""

    key: str
    label: str
    subject: str
    """What it is about where there are several of a kind; empty elsewhere."""
    value: Bare
    """Rounded as documents print it; null where there is none, `shown` says why."""
    exact: JsonNumber | int | None
    """The number as it was worked out, in the same unit; null for words."""
    unit: str | None
    """ASCII symbol, such as `GiB` or `degC`; null for counts and words."""
    shown: str
    """Value and unit as documents print them."""
    basis: Basis
    formula: str
    assumes: str
    """What the formula takes for granted."""
    source: str
    inputs: tuple[FactInput | DeclaredInput, ...]
    """What it rests on; follow `fact` to walk down to lines of the definitions."""


def bare(value: Value) -> tuple[Bare, str | None]:
    """A value as number, words or None, and the symbol of its unit."""
    if isinstance(value, Quantity):
        number, _, unit = plain(value).partition(" ")
        return Decimal(number), unit
    if isinstance(value, Decimal):
        return Decimal(plain(value)), None
    if isinstance(value, tuple):
        return tuple(map(str, value)), None
    return str(value) if isinstance(value, Sayable) else value, None


def exact_of(value: Value) -> Decimal | int | None:
    """The number that `bare` rounds, in the same unit; None for words."""
    if isinstance(value, Quantity | Decimal):
        return exact(value)
    return value if isinstance(value, int) else None


def fact_record(fact: Fact) -> FactData:
    """A fact with the first level of its pedigree; deeper levels are facts of their own."""
    value, unit = bare(fact.value)
    return FactData(
        key=fact.key,
        label=str(fact.label),
        subject=fact.subject,
        value=value,
        exact=exact_of(fact.value),
        unit=unit,
        shown=show(fact.said),
        basis=fact.basis,
        formula=str(fact.formula),
        assumes=str(fact.assumes),
        source=str(fact.source),
        inputs=tuple(_input(entry) for entry in fact.inputs),
    )


def fact_data(fact: Fact) -> dict[str, object]:
    """The same as JSON holds it."""
    value = json_value(fact_record(fact))
    assert isinstance(value, dict)
    return value


def _input(entry: Fact | Declared) -> FactInput | DeclaredInput:
    if isinstance(entry, Fact):
        return FactInput(fact=entry.key)
    value, unit = bare(entry.value)
    span = entry.span
    source = entry.source if span.file else None  # of what is not written no document speaks
    return DeclaredInput(
        label=str(entry.label),
        subject=entry.subject,
        value=value,
        unit=unit,
        assumed=entry.assumed,
        file=span.file or None,
        line=span.line if span.file else None,
        document=source.document if source else None,
        page=source.page if source else None,
        date=str(source.date) if source and source.date else None,
    )


def json_value(value: object) -> object:
    """Dataclasses, tuples and numbers as `json` can write them. Raises TypeError for others.

    A number that a binary float cannot hold is the nearest one that can.
    """
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, str):
        return str(value) if isinstance(value, StrEnum) else value
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, tuple):
        return [json_value(entry) for entry in value]
    if isinstance(value, Mapping):
        return {str(key): json_value(entry) for key, entry in value.items()}
    if is_dataclass(value):
        return {field.name: json_value(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"no way to write {type(value).__name__} is known")
