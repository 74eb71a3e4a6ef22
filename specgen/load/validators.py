"""The annotations of the model as schemas of pydantic-core, which then validates trees.

pydantic makes such schemas of any annotation there can be, field by field and class by class: 330
ms for the records of a project, whose kinds of part share most of their fields. What the model's
annotations say is little and stands here, each hint and each record once: 15 ms (measured). Tests
hold this to the same values and the same errors as pydantic's own.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import partial
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, TypeVar, Union, get_args, get_origin

from pydantic_core import SchemaValidator

from specgen.model.markers import Marker, Schema, written

_PLAIN: Final[Mapping[Any, str]] = {
    str: "str",
    int: "int",
    bool: "bool",
    Decimal: "decimal",
    date: "date",
}
Bound = Mapping[Any, Any]
"""What type variables of a generic record stand for."""

_RECORDS: dict[Any, tuple[Schema, tuple[Any, ...]]] = {}
"""By record: its schema, and the records that its fields hold."""
_FIELDS: dict[Field[Any], tuple[Schema, tuple[Any, ...]]] = {}
"""The same by field: kinds of part inherit most of theirs."""
_VALIDATORS: dict[Any, SchemaValidator] = {}


def validator(hint: Any) -> SchemaValidator:
    """What validates a tree, or a text, as a value of this type; made once."""
    if hint not in _VALIDATORS:
        held: list[Any] = []
        schema = _of(hint, {}, held)
        definitions = [_record(each)[0] for each in _reached(held)]
        if definitions:
            schema = {"type": "definitions", "schema": schema, "definitions": definitions}
        _VALIDATORS[hint] = SchemaValidator(schema)
    return _VALIDATORS[hint]


def _reached(held: list[Any]) -> list[Any]:
    """These records and all that they lead to, each once."""
    found: dict[Any, None] = {}
    waiting = [*held]
    while waiting:
        hint = waiting.pop()
        if hint not in found:
            found[hint] = None
            waiting += _record(hint)[1]
    return [*found]


def _of(hint: Any, bound: Bound, held: list[Any]) -> Schema:
    """The schema of a type; the records that it refers to are added to `held`."""
    origin = get_origin(hint)
    if isinstance(hint, TypeVar):
        return _of(bound[hint], bound, held)
    if hint in _PLAIN:
        return {"type": _PLAIN[hint]}
    if hasattr(origin or hint, "__get_pydantic_core_schema__"):
        own: Schema = hint.__get_pydantic_core_schema__(hint, None)
        return own
    if is_dataclass(origin or hint):
        held.append(hint)
        return {"type": "definition-ref", "schema_ref": _name(hint)}
    if origin is Annotated:
        inner = _of(hint.__origin__, bound, held)
        for marker in hint.__metadata__:
            inner = marker.core(inner) if isinstance(marker, Marker) else inner
        return inner
    if origin is Literal:
        return {"type": "literal", "expected": [*get_args(hint)]}
    if origin in (Union, UnionType):
        choices = [_of(each, bound, held) for each in get_args(hint) if each is not NoneType]
        inner = choices[0] if len(choices) == 1 else {"type": "union", "choices": choices}
        return {"type": "nullable", "schema": inner} if NoneType in get_args(hint) else inner
    if origin is tuple:
        item, _ = get_args(hint)
        items = [_of(item, bound, held)]
        return {"type": "tuple", "items_schema": items, "variadic_item_index": 0}
    if origin is Mapping:
        key, value = (_of(each, bound, held) for each in get_args(hint))
        return {"type": "dict", "keys_schema": key, "values_schema": value}
    raise TypeError(f"no field of the model has been of the type {hint}")


def _record(hint: Any) -> tuple[Schema, tuple[Any, ...]]:
    if hint not in _RECORDS:
        cls = get_origin(hint) or hint
        bound = dict(zip(getattr(cls, "__parameters__", ()), get_args(hint), strict=True))
        held: list[Any] = []
        _RECORDS[hint] = _schema(hint, cls, bound, held), tuple(held)
    return _RECORDS[hint]


def _schema(hint: Any, cls: Any, bound: Bound, held: list[Any]) -> Schema:
    inner: Schema = {
        "type": "dataclass-args",
        "dataclass_name": cls.__name__,
        "fields": [_field(each, bound, held) for each in fields(cls)],
        "collect_init_only": False,
    }
    return {
        "type": "dataclass",
        "ref": _name(hint),
        "cls": cls,
        "schema": inner,
        "fields": [each.name for each in fields(cls)],
        "post_init": hasattr(cls, "__post_init__"),
        "slots": True,
        "config": {"extra_fields_behavior": "forbid"},
    }


def _field(field: Field[Any], bound: Bound, held: list[Any]) -> Schema:
    if bound:
        return _made(field, bound, held)
    if field not in _FIELDS:
        own: list[Any] = []
        _FIELDS[field] = _made(field, {}, own), tuple(own)
    schema, more = _FIELDS[field]
    held += more
    return schema


def _made(field: Field[Any], bound: Bound, held: list[Any]) -> Schema:
    if not field.init:  # no text gives it
        assert field.default_factory is not MISSING
        made: Schema = {"type": "any"}
        schema = {"type": "default", "schema": made, "default_factory": field.default_factory}
        return {"type": "dataclass-field", "name": field.name, "init": False, "schema": schema}
    schema = _of(field.type, bound, held)
    if field.default is not MISSING and is_dataclass(field.default):
        # as a default, pydantic-core would copy it for each record; it is frozen
        schema = {"type": "default", "schema": schema, **_factory(partial(_same, field.default))}
    elif field.default is not MISSING:
        schema = {"type": "default", "schema": schema, "default": field.default}
    elif field.default_factory is not MISSING:
        schema = {"type": "default", "schema": schema, **_factory(field.default_factory)}
    core_field: Schema = {"type": "dataclass-field", "name": field.name, "schema": schema}
    if written(field.name) != field.name:
        core_field["validation_alias"] = written(field.name)
    return core_field


def _factory(make: Callable[[], Any]) -> Schema:
    return {"default_factory": make, "default_factory_takes_data": False}


def _same(value: Any) -> Any:
    return value


def _name(hint: Any) -> str:
    """What refers to a record, of a name that no other has."""
    return f"{hint}:{id(hint)}"
