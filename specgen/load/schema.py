"""JSON Schemas of the definition files, for editors: made from the same classes that read them."""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from typing import Any, Final

from pydantic import TypeAdapter

from specgen.load.docs import field_docs
from specgen.load.likeness import OWN
from specgen.load.shared import shared
from specgen.load.validation_errors import field_names
from specgen.load.value_files import VALUES
from specgen.model import KINDS, Build, Illustration, OwnValue, Part, Platform, Project
from specgen.model.fields import KIND
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.model.labels import entries

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]


def schemas(kinds: Mapping[str, type[Part]] = KINDS) -> Mapping[str, str]:
    """File name to JSON text: `project`, `kind`, `value`, `part`, `platform`, `build` and
    `picture`.

    `kinds` are those that parts can be of, a project's own among them.
    """
    return {
        "project.json": _text("A specgen project", _schema(Project), kinds),
        "kind.json": _text("Kinds of part", _one_or_many(_schema(DeclaredKind)), kinds),
        "value.json": _text("Values of a project", _values(), kinds),
        "part.json": _text("Parts", _parts(kinds), kinds),
        "platform.json": _text("Platforms", _one_or_many(_or_like(_schema(Platform))), kinds),
        "build.json": _text("Builds", _one_or_many(_or_like(_schema(Build))), kinds),
        "picture.json": _text("Pictures", _one_or_many(_schema(Illustration)), kinds),
    }


_ADAPTERS: dict[type[Any], TypeAdapter[Any]] = {}


def _adapter(cls: type[Any]) -> TypeAdapter[Any]:
    """What pydantic makes of a record, once; reading does without (`validators`)."""
    if cls not in _ADAPTERS:
        _ADAPTERS[cls] = TypeAdapter(cls)
    return _ADAPTERS[cls]


def _schema(cls: type[Any]) -> Schema:
    schema: Schema = _adapter(cls).json_schema(by_alias=True)
    definitions = schema.pop("$defs", {})
    schemas = {**definitions, cls.__name__: schema}
    _describe((cls,), schemas)
    return {"$defs": definitions, **schema}


def _text(title: str, schema: Schema, kinds: Iterable[str]) -> str:
    schema = _naming({**KIND}, {"enum": sorted(kinds)}, schema)
    whole = {"$schema": DIALECT, **shared(schema), "title": title}
    return json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def _naming(what: Schema, known: Schema, schema: Any) -> Any:
    """The schema with `known` wherever it says `what`; what is said beside it stays."""
    if isinstance(schema, list):
        return [_naming(what, known, each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    if what.items() <= {k: v for k, v in schema.items() if isinstance(v, str)}.items():
        schema = {**{k: v for k, v in schema.items() if k not in what}, **known}
    return {key: _naming(what, known, each) for key, each in schema.items()}


def _one_or_many(schema: Schema) -> Schema:
    definitions = schema.pop("$defs", {})
    return {"$defs": definitions, "anyOf": [schema, {"type": "array", "items": schema}]}


def _or_like(schema: Schema) -> Schema:
    """The same, and what must be there only where nothing is taken over: fields of the definition
    and of all that it holds. A name is its own in any case."""
    definitions = schema.pop("$defs", {})
    needed = _needed(schema, definitions)
    plain = _without_needs(schema)
    return {
        "$defs": _without_needs(definitions),
        **plain,
        "required": [name for name in schema["required"] if name in OWN],
        "if": {"required": ["like"]},
        "else": needed,
    }


def _needed(schema: Schema, definitions: Schema) -> Schema:
    """What must be there, of a schema and of those within it, as a schema of nothing else."""
    if "$ref" in schema:
        return _needed(definitions[str(schema["$ref"]).rsplit("/", 1)[-1]], definitions)
    found: Schema = {"required": schema["required"]} if "required" in schema else {}
    for each in schema.get("anyOf", ()):  # each is of another type, so all can be asked at once
        found |= _needed(each, definitions)
    for key in ("items", "additionalProperties"):
        inner = schema.get(key)
        if isinstance(inner, dict) and (needed := _needed(inner, definitions)):
            found[key] = needed
    held = {
        name: needed
        for name, each in schema.get("properties", {}).items()
        if (needed := _needed(each, definitions))
    }
    return {**found, "properties": held} if held else found


def _without_needs(schema: Any) -> Any:
    """A schema in which nothing must be there."""
    if isinstance(schema, list):
        return [_without_needs(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    return {
        key: _without_needs(each)
        for key, each in schema.items()
        if not (key == "required" and isinstance(each, list))
    }


def _values() -> Schema:
    """What a file of values holds: one, several, or several under a name of theirs."""
    schema = _schema(OwnValue)
    definitions = {**schema.pop("$defs", {}), "value": schema}
    one = {"$ref": "#/$defs/value"}
    several = {"type": "array", "items": one}
    named = {
        "type": "object",
        "required": [VALUES],
        "additionalProperties": False,
        "properties": {VALUES: several},
    }
    return {"$defs": definitions, "anyOf": [one, several, named]}


def _parts(kinds: Mapping[str, type[Part]]) -> Schema:
    inputs: list[tuple[str, Any, TypeAdapter[Any]]] = [
        (kind, "validation", _adapter(cls)) for kind, cls in kinds.items()
    ]
    by_kind, whole = TypeAdapter.json_schemas(inputs, by_alias=True)
    definitions: Schema = whole["$defs"]
    names = {kind: str(by_kind[kind, "validation"]["$ref"]).rsplit("/", 1)[-1] for kind in kinds}
    _describe(
        tuple(kinds.values()),
        {cls.__name__: definitions[names[kind]] for kind, cls in kinds.items()} | definitions,
    )
    branches = [_branch(kind, definitions[names[kind]], names[kind]) for kind in kinds]
    definitions["definition"] = {
        "type": "object",
        "required": ["kind"],
        "properties": {"kind": {"enum": sorted(kinds)}},
        "allOf": branches,
    }
    one = {"$ref": "#/$defs/definition"}
    return {"$defs": definitions, "anyOf": [one, {"type": "array", "items": one}]}


def _branch(kind: str, part: Schema, name: str) -> Schema:
    """What a definition of a kind is: one part, or several with what they have in common.

    The fields of the kind stand in one place; what must be there, where a part stands alone.
    """
    reference = {"$ref": f"#/$defs/{name}"}
    required = part.pop("required")
    part["properties"] = {"kind": {"const": kind}, **part["properties"]}
    several = {
        "required": ["parts"],
        "additionalProperties": False,
        "properties": {
            "kind": True,
            "common": reference,
            "parts": {"type": "array", "items": reference},
        },
    }
    return {
        "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
        "then": {
            "if": {"required": ["parts"]},
            "then": several,
            "else": {"allOf": [reference, {"required": required}]},
        },
    }


def _describe(roots: tuple[type[Any], ...], schemas: Mapping[str, Schema]) -> None:
    """Gives each field its label and what the model says of it, in place of made-up titles.

    What is left out need not be told: that a field may be missing, and empty defaults.
    """
    for cls in records(roots):
        schema = schemas.get(cls.__name__)
        if schema is None:
            continue
        schema.pop("title", None)
        docs, names = field_docs(cls), field_names(cls)
        for alias, entry in schema.get("properties", {}).items():
            described = {
                "title": entries(cls)[alias].called.label,
                "description": docs.get(names[alias]),
            }
            plain = {key: value for key, value in _plain(entry).items() if key != "title"}
            schema["properties"][alias] = {**plain, **{k: v for k, v in described.items() if v}}


def _plain(entry: Schema) -> Schema:
    """A field that may be missing, as what it is where it is there."""
    options = [each for each in entry.get("anyOf", ()) if each != {"type": "null"}]
    if len(options) == 1:
        entry = {**{key: value for key, value in entry.items() if key != "anyOf"}, **options[0]}
    if isinstance(entry.get("default", ""), dict | list | None):
        del entry["default"]
    return entry


def records(roots: tuple[type[Any], ...]) -> Iterator[type[Any]]:
    """Records, and those that their fields lead to, each once."""
    seen: dict[type[Any], None] = {}
    waiting = list(roots)
    while waiting:
        cls = waiting.pop()
        if cls not in seen:
            seen[cls] = None
            inner = (entries(cls)[each.name].record for each in fields(cls))
            waiting += [record for record in inner if record is not None]
    yield from seen
