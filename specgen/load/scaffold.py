"""Definition files to begin with, composed from the model's own field tables.

Required fields stand there with placeholders that their own validators accept, so the file loads
at once; fields it may have stand behind a `#`. A new kind or field of the model needs no line here.
"""

import json
import re
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields, is_dataclass
from typing import Annotated, Any, Final, Literal, TypeVar, get_args, get_origin, get_type_hints

from pydantic_core import ValidationError

from specgen.load.docs import field_docs
from specgen.load.validation_errors import field_names
from specgen.load.validators import validator
from specgen.model.labels import Called
from specgen.quantity import Quantity

TO_DO: Final = "to do"
PLACEHOLDERS: Final = (
    *("to do", "to-do", "to_do", "to.do", "1+1", "1", "x1", "2026-01-01", "true", "TODO-1"),
    "50% 50%",
)
"""Tried in this order; the first that a field's own validator takes is written."""
WIDEST: Final = 100
_PLAIN: Final = re.compile(r"[A-Za-z][\w ./+-]*[\w.+]|[0-9]+|[A-Za-z]")
_WORD: Final = re.compile(r"[A-Z][a-z]{2}")
_TO_QUOTE: Final = ("null", "true", "false", "yes", "no", "on", "off", "y", "n")


def fresh(
    cls: type[Any],
    values: Mapping[str, str],
    *,
    head: str = "",
    kind: str = "",
    below: Mapping[str, tuple[str, ...]] | None = None,
) -> str:
    """The text of a definition of `cls` that loads at once.

    `values` are YAML texts by the path of a field (`id`, `positions.takes`) that stand in place
    of placeholders; `head` is told above; `below` gives the lines of a mapping, indented.
    """
    lines = [f"# {line}" for line in textwrap.wrap(head, WIDEST - 2)]
    if kind:
        lines.append(f"kind: {kind}")
    named = dict(fields_of(cls))
    wanted = [name for name in named if required(cls, name) or name in values]
    for name in wanted:
        if below and name in below:
            empty = all(line.lstrip().startswith("#") for line in below[name])
            first = f"{name}: {{}}  # write an entry a line below, in place of the braces"
            lines += [first if empty else f"{name}:", *below[name]]
        elif name in values:
            lines.append(f"{name}: {values[name]}")
        else:
            value = sample(named[name], values, name)
            lines += _field(cls, name, named[name], value, TO_DO)
    others = [name for name in named if name not in wanted]
    if others:
        lines += ["", "# What it may have as well; take away the `# ` and write your own value."]
    for name in others:
        value = _default(cls, name, named[name])
        value = value or sample(named[name], values, name, example=True)
        lines += [_commented(line) for line in _field(cls, name, named[name], value, "")]
    return "\n".join(lines) + "\n"


def sample(hint: Any, values: Mapping[str, str], path: str, *, example: bool = False) -> str:
    """A placeholder in YAML's flow style that a field with this type hint takes.

    Quantities are a round one of their unit, or with `example` a value as such fields have.
    """
    if path in values:
        return values[path]
    bare = bare_hint(hint)
    if get_origin(bare) is tuple:
        return f"[{sample(get_args(bare)[0], values, path, example=example)}]"
    if is_mapping(bare):
        key, value = get_args(bare)
        return "{%s: %s}" % (  # noqa: UP031
            sample(key, values, f"{path}.[key]"),
            sample(value, values, path, example=example),
        )
    record = record_of(bare)
    if record is not None:
        entries = dict(fields_of(bare))
        shown = [name for name in entries if required(record, name)] or list(entries)[:1]
        inner = (
            f"{name}: {sample(entries[name], values, f'{path}.{name}', example=example)}"
            for name in shown
        )
        return "{" + ", ".join(inner) + "}"
    return _word(hint, bare, example)


def quoted(text: str) -> str:
    """A text as a YAML scalar, in quotes where it could be read as something else."""
    if _PLAIN.fullmatch(text) and text.lower() not in _TO_QUOTE:
        return text
    return json.dumps(text, ensure_ascii=False)


def accepts(hint: Any, text: str) -> bool:
    """Whether a field with this type hint takes the text."""
    try:
        validator(hint).validate_python(text)
    except ValidationError:
        return False
    return True


def _word(hint: Any, bare: Any, example: bool) -> str:
    if get_origin(bare) is Literal:
        return quoted(str(get_args(bare)[0]))
    tried: tuple[str, ...] = PLACEHOLDERS
    if isinstance(bare, type) and issubclass(bare, Quantity):
        round_ones = tuple(f"1 {unit}" for unit in bare.dimension.suggested)
        shown = (bare.dimension.example,)
        own = (
            f"1 {called.unit}" for called in getattr(hint, "__metadata__", ()) if _in_unit(called)
        )
        tried = (*own, *shown, *round_ones) if example else (*own, *round_ones, *shown)
    return next((text for text in tried if accepts(hint, text)), TO_DO)


def _in_unit(extra: object) -> bool:
    return isinstance(extra, Called) and bool(extra.unit)


def _field(cls: type[Any], name: str, hint: Any, value: str, marked: str) -> list[str]:
    """The lines of one field: what is known about it behind the value, or above where it is long.

    A list of records is written an entry a line, which is marked as well.
    """
    description = "; ".join(filter(None, (_doc(cls, name), _choices(hint, marked), _others(hint))))
    listed = marked and get_origin(bare_hint(hint)) is tuple and value.startswith("[{")
    line = f"{name}:" if listed else f"{name}: {value}"
    entries = [f"  - {value[1:-1]}  # {marked}"] if listed else []
    note = ": ".join(filter(None, (marked, description)))
    if not note:
        return [line, *entries]
    if len(line) + len(note) + 6 <= WIDEST:
        return [f"{line}  # {note}", *entries]
    above = [f"#   {each}" for each in textwrap.wrap(description, WIDEST - 8)]
    return [*above, f"{line}  # {marked}" if marked else line, *entries]


def _commented(line: str) -> str:
    return line if line.startswith("#") else f"# {line}"


def _choices(hint: Any, marked: str) -> str:
    """The words that a field takes, where these are few."""
    bare = bare_hint(hint)
    if get_origin(bare) is tuple:
        bare = bare_hint(get_args(bare)[0])
    if get_origin(bare) is Literal:
        return "one of " + ", ".join(map(str, get_args(bare)))
    if marked and isinstance(bare, type) and issubclass(bare, Quantity):
        return f"such as {bare.dimension.example}"
    return ""


def _others(hint: Any) -> str:
    """The further fields of a record."""
    bare = bare_hint(hint)
    if get_origin(bare) is tuple:
        bare = bare_hint(get_args(bare)[0])
    elif is_mapping(bare):
        bare = bare_hint(get_args(bare)[1])
    record = record_of(bare)
    if record is None:
        return ""
    named = [name for name, _ in fields_of(bare)]
    needed = [name for name in named if required(record, name)] or named[:1]
    more = [name for name in named if name not in needed]
    return f"may also have {', '.join(more)}" if more else ""


def fields_of(cls: Any) -> Iterator[tuple[str, Any]]:
    """Each field that YAML may give, by its YAML name, with its type hint."""
    own: type[Any] = get_origin(cls) or cls
    arguments = dict(zip(getattr(own, "__parameters__", ()), get_args(cls), strict=False))
    hints = get_type_hints(own, include_extras=True)
    for alias, name in field_names(own).items():
        hint = hints[name]
        yield alias, arguments[hint] if isinstance(hint, TypeVar) else hint


def _default(cls: type[Any], alias: str, hint: Any) -> str:
    """What a field is where nothing is written, as YAML; "" where that cannot be written."""
    name = field_names(cls)[alias]
    value = next(each for each in fields(cls) if each.name == name).default
    if isinstance(value, tuple) and value and all(isinstance(each, str) for each in value):
        return "[" + ", ".join(map(quoted, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str | int) and accepts(hint, str(value)):
        return quoted(str(value))
    return ""


def required(cls: type[Any], alias: str) -> bool:
    """Whether a field, by its name in YAML, has no default."""
    name = field_names(cls)[alias]
    entry = next(each for each in fields(cls) if each.name == name)
    return entry.default is MISSING and entry.default_factory is MISSING


def bare_hint(hint: Any) -> Any:
    """A type hint without `None` and without what is annotated."""
    while True:
        options = [each for each in get_args(hint) if each is not type(None)]
        if get_origin(hint) is Annotated:
            hint = get_args(hint)[0]
        elif type(None) in get_args(hint):
            hint = options[0]
        else:
            return hint


def is_mapping(bare: Any) -> bool:
    """Whether a hint is of a table of names and values."""
    origin = get_origin(bare)
    return isinstance(origin, type) and issubclass(origin, Mapping)


def record_of(bare: Any) -> type[Any] | None:
    """The class of the model that is read from a mapping of fields, None for anything else."""
    cls = get_origin(bare) or bare
    known = isinstance(cls, type) and is_dataclass(cls) and hasattr(cls, "__pydantic_config__")
    return cls if known else None


def words_of(bare: Any) -> tuple[str, ...]:
    """The words that a field takes, where it takes no others."""
    return tuple(map(str, get_args(bare))) if get_origin(bare) is Literal else ()


def _doc(cls: type[Any], alias: str) -> str:
    """The first sentence that the model says of a field, "" where it says none."""
    text = field_docs(cls).get(field_names(cls)[alias], "")
    first = re.split(r"(?<=[.;]) ", text)[0].rstrip(".;")
    return first[0].lower() + first[1:] if _WORD.match(first) else first
