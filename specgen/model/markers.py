"""What annotations of fields tell whoever reads text: how it is read, and how editors are told.

pydantic-core validates by them (`load.validators`), and pydantic makes JSON Schemas of them. Both
ask the same markers, so that a command which reads definitions need not import pydantic itself,
which takes 80 ms: five times as long as Python takes to start.
"""

import keyword
from collections.abc import Callable
from functools import cache
from typing import Any

from pydantic_core import PydanticOmit

Schema = dict[str, Any]
"""A schema of pydantic-core."""


class Marker:
    """Something that an annotation says of the type that it stands at."""

    def core(self, inner: Schema) -> Schema:
        """The schema of the type with what the marker adds."""
        return inner

    def __get_pydantic_core_schema__(self, source: Any, handler: Callable[[Any], Schema]) -> Schema:
        return self.core(handler(source))


class Before(Marker):
    """A function that makes what is written into what the type holds."""

    def __init__(self, function: Callable[[Any], object]) -> None:
        self.function = function

    def core(self, inner: Schema) -> Schema:
        function = {"type": "no-info", "function": self.function}
        return {"type": "function-before", "function": function, "schema": inner}


class After(Before):
    """A function that looks at what came of it."""

    def core(self, inner: Schema) -> Schema:
        return {**super().core(inner), "type": "function-after"}


class Bounds(Marker):
    """Limits of a number, of the names `ge`, `gt`, `le` and `lt`."""

    def __init__(self, **limits: int) -> None:
        self.limits = limits

    def core(self, inner: Schema) -> Schema:
        if "schema" in inner:  # the number stands within what reads it
            return {**inner, "schema": self.core(inner["schema"])}
        return {**inner, **self.limits}


class AtLeast(Marker):
    """How many entries a list must have."""

    def __init__(self, number: int) -> None:
        self.number = number

    def core(self, inner: Schema) -> Schema:
        return {**inner, "min_length": self.number}


class Json(Marker):
    """The JSON Schema of what is written, where the type does not tell it."""

    def __init__(self, schema: Schema) -> None:
        self.schema = schema

    def __get_pydantic_json_schema__(self, _core: Any, _handler: Any) -> Schema:
        return dict(self.schema)


class Short(Marker):
    """Tells editors of a short form: one value for a list, or text for a mapping."""

    def __init__(self, form: Schema | None = None) -> None:
        self.form = form

    def __get_pydantic_json_schema__(self, core: Any, handler: Callable[[Any], Schema]) -> Schema:
        schema = handler(core)
        return {"anyOf": [self.form or schema["items"], schema]}


class NotWritten(Marker):
    """A field that no text gives."""

    def __get_pydantic_json_schema__(self, _core: Any, _handler: Any) -> Schema:
        raise PydanticOmit


@cache
def written(name: str) -> str:
    """The name of a field in YAML: `from` of `from_`, since Python keeps the word for itself."""
    stem = name.removesuffix("_")
    return stem if keyword.iskeyword(stem) else name
