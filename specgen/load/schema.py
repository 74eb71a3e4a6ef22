"""JSON Schemas of the definition files, for editors: made from the same classes that read them."""

import json
from collections.abc import Mapping
from typing import Any

from pydantic import TypeAdapter

from specgen.load.decode import adapter
from specgen.model import KINDS, Build, Platform, Project

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> Mapping[str, str]:
    """File name to JSON text: `project`, `platform`, `build` and `part`."""
    return {
        "project.json": _text("A specgen project", _schema(Project)),
        "platform.json": _text("Platforms", _one_or_many(_schema(Platform))),
        "build.json": _text("Builds", _one_or_many(_schema(Build))),
        "part.json": _text("Parts", _parts()),
    }


def _schema(cls: type[Any]) -> dict[str, Any]:
    return adapter(cls).json_schema(by_alias=True)


def _text(title: str, schema: dict[str, Any]) -> str:
    whole = {"$schema": DIALECT, **schema, "title": title}
    return json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def _one_or_many(schema: dict[str, Any]) -> dict[str, Any]:
    definitions = schema.pop("$defs", {})
    return {"$defs": definitions, "anyOf": [schema, {"type": "array", "items": schema}]}


def _parts() -> dict[str, Any]:
    inputs: list[tuple[str, Any, TypeAdapter[Any]]] = [
        (kind, "validation", adapter(cls)) for kind, cls in KINDS.items()
    ]
    by_kind, shared = TypeAdapter.json_schemas(inputs, by_alias=True)
    definitions: dict[str, Any] = dict(shared.get("$defs", {}))
    branches = []
    for kind in KINDS:
        reference = by_kind[kind, "validation"]
        name = str(reference["$ref"]).rsplit("/", 1)[-1]
        whole = definitions[name]
        properties = {"kind": {"const": kind}, **whole["properties"]}
        definitions[f"{name}-alone"] = {
            **whole,
            "properties": properties,
            "required": ["kind", *whole["required"]],
        }
        definitions[f"{name}-shared"] = {
            key: value for key, value in whole.items() if key != "required"
        }
        group = {
            "type": "object",
            "required": ["kind", "parts"],
            "additionalProperties": False,
            "properties": {
                "kind": {"const": kind},
                "common": {"$ref": f"#/$defs/{name}-shared"},
                "parts": {"type": "array", "items": {"$ref": f"#/$defs/{name}-shared"}},
            },
        }
        branches.append(
            {
                "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
                "then": {
                    "if": {"required": ["parts"]},
                    "then": group,
                    "else": {"$ref": f"#/$defs/{name}-alone"},
                },
            }
        )
    one = {
        "type": "object",
        "required": ["kind"],
        "properties": {"kind": {"enum": sorted(KINDS)}},
        "allOf": branches,
    }
    definitions["definition"] = one
    return {
        "$defs": definitions,
        "anyOf": [
            {"$ref": "#/$defs/definition"},
            {"type": "array", "items": {"$ref": "#/$defs/definition"}},
        ],
    }
