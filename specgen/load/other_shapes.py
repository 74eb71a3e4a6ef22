"""What to write in place of a value of another shape: a word for a list, a list for fields."""

from collections.abc import Iterator
from dataclasses import MISSING, Field, fields
from typing import Any, Literal, get_args, get_origin, get_type_hints

from specgen.diagnostics import quoted
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model.markers import written

Shape = Literal["list", "mapping", "fields", "text"]


def in_shape(shape: Shape, name: str, value: object, record: type[Any] | None) -> Message | Nothing:
    """How a value that is none of `shape` is to be written; `record` is what it should hold."""
    text = str(value) if isinstance(value, str) else ""
    needed = [] if record is None else [written(each.name) for each in _required(record)]
    if shape == "list":
        if text and needed:
            first, *others = needed
            more = "".join(f", {other}: …" for other in others)
            return _write(f"{name}: [{{{first}: {text}{more}}}]")
        if text:
            return _write(f"{name}: [{text}]")
        return say("begin each entry of `{name}` with `- `", name=name)
    if shape == "text":
        return NOTHING
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        return say(
            "`{name}` is no list: write `{{…}}` in place of `[…]`, or no `- ` before its fields",
            name=name,
        )
    if shape == "mapping" or record is None:
        return say("write its entries below `{name}`, each as `name: value`", name=name)
    field = _field_for(record, text)
    if field:
        return _write(f"{name}: {{{field}: {text}}}")
    if text and len(needed) == 1:
        return _write(f"{name}: {{{needed[0]}: {text}}}")
    if needed:
        return say("it needs {names}", names=quoted(needed))
    return say("write its fields below `{name}`, each as `field: value`", name=name)


def _write(text: str) -> Message:
    return say("write `{text}`", text=text)


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
