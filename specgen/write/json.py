"""Builds and parts lists as JSON, and the schemas of both."""

import json
from collections.abc import Mapping
from functools import cache
from typing import Any, Final

from specgen.document.data import BuildData, PartsList
from specgen.facts.fact_data import json_value

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_FORMS: Final[Mapping[str, tuple[str, type[Any]]]] = {
    "build-data.json": ("A build with every value and its pedigree", BuildData),
    "parts-list.json": ("What to order for builds", PartsList),
}


def text(data: BuildData | PartsList) -> bytes:
    """UTF-8 JSON with keys in the order of the schema: small, and still read line by line."""
    return lines(json_value(data)).encode("utf-8", "replace")


def lines(value: object) -> str:
    """JSON text with a line for each key at the top and for each entry of a list below it."""
    if not isinstance(value, dict):
        return _entries(value, "") + "\n"
    entries = (f" {_bare(key)}: {_entries(each, ' ')}" for key, each in value.items())
    return "{\n" + ",\n".join(entries) + "\n}\n"


def _entries(value: object, indent: str) -> str:
    if not isinstance(value, list) or not value:
        return _bare(value)
    return "[\n" + ",\n".join(f"{indent} {_bare(entry)}" for entry in value) + f"\n{indent}]"


def _bare(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


@cache
def schemas() -> Mapping[str, str]:
    """File name to JSON text: the schemas of what `text` writes."""
    return {name: _schema(title, form) for name, (title, form) in _FORMS.items()}


def _schema(title: str, form: type[Any]) -> str:
    from pydantic import TypeAdapter  # writing does without

    schema = TypeAdapter(form).json_schema(mode="serialization")
    whole = {"$schema": DIALECT, **schema, "title": title}
    return json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
