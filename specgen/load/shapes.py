"""What to write in place of a value of another shape: a word for a list, a list for fields."""

from collections.abc import Iterator
from dataclasses import MISSING, Field, fields
from typing import Any, Literal, get_args, get_origin, get_type_hints

from specgen.model.markers import written


def in_shape(shape: str, name: str, value: object, record: type[Any] | None) -> str:
    """How a value that is none of `shape` is to be written; `record` is what it should hold."""
    text = str(value) if isinstance(value, str) else ""
    needed = [] if record is None else [written(each.name) for each in _required(record)]
    if "list" in shape:
        if text and needed:
            first, *others = needed
            more = "".join(f", {other}: …" for other in others)
            return f"write `{name}: [{{{first}: {text}{more}}}]`"
        return f"write `{name}: [{text}]`" if text else f"begin each entry of `{name}` with `- `"
    if "mapping" not in shape:
        return ""
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        return f"`{name}` is no list: write `{{…}}` in place of `[…]`, or no `- ` before its fields"
    if "fields" not in shape or record is None:
        return f"write its entries below `{name}`, each as `name: value`"
    field = _field_for(record, text)
    if field:
        return f"write `{name}: {{{field}: {text}}}`"
    if text and len(needed) == 1:
        return f"write `{name}: {{{needed[0]}: {text}}}`"
    if needed:
        return "it needs " + ", ".join(f"`{each}`" for each in needed)
    return f"write its fields below `{name}`, each as `field: value`"


def _required(record: type[Any]) -> list[Field[Any]]:
    return [
        each
        for each in fields(record)
        if each.init and each.default is MISSING and each.default_factory is MISSING
    ]


def _field_for(record: type[Any], text: str) -> str:
    """The field of a record that may hold just this word, "" where none or any may."""
    hints = get_type_hints(record, include_extras=True) if text else {}
    found = [name for name, hint in hints.items() if text in _words(hint)]
    return written(found[0]) if len(found) == 1 else ""


def _words(hint: Any) -> Iterator[str]:
    for each in get_args(hint):
        if get_origin(hint) is Literal:
            yield str(each)
        else:
            yield from _words(each)
