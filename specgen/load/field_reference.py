"""Every field of the definition files, for people: what it holds, and what it is.

Made from the classes that read the files, as the schemas for editors are: a field of the model
needs no line here.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final, get_args, get_origin

from specgen.load.docs import field_docs
from specgen.load.scaffold import (
    PLACEHOLDERS,
    accepts,
    bare_hint,
    fields_of,
    is_mapping,
    record_of,
    required,
    words_of,
)
from specgen.load.validation_errors import field_names
from specgen.model import KINDS, Build, Illustration, OwnValue, Part, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.model.labels import entries
from specgen.quantity import Quantity

FILE: Final = "fields.md"

_FILES: Final[tuple[tuple[str, type[Any]], ...]] = (
    ("specgen.yaml", Project),
    ("platforms/*.yaml", Platform),
    ("configured/*.yaml", Build),
    ("kinds/*.yaml", DeclaredKind),
    ("values/*.yaml", OwnValue),
    ("pictures/*.yaml", Illustration),
)
_HELD: Final[Mapping[str, str]] = {
    "to do": "text",
    "to-do": "name",
    "to_do": "name",
    "to.do": "key",
    "1": "number",
    "2026-01-01": "date",
    "true": "`true` or `false`",
    "TODO-1": "code",
    "50% 50%": "place, such as `31% 55%` or `412 220`",
}
"""What a field holds that takes a placeholder of new files; others stand as they are."""
_EXAMPLES: Final[Mapping[str, str]] = {
    "adjusts_from": "610 mm",
    "altitude": "1500 m",
    "cache": "96 MiB",
    "current": "10 A",
    "depth": "712 mm",
    "floor_load_rating": "10 kN/m2",
    "height": "43.6 mm",
    "mean_time_between_failures": "2000000 h",
    "memory_bandwidth": "1.6 TB/s",
    "noise_adder": "0.3 B",
    "random_block": "4 KiB",
    "reach": "70 m",
    "read": "7000 MB/s",
    "throughput": "16 GB/s",
    "warranty": "5 y",
    "write": "5200 MB/s",
}
"""What a field holds, where the example of its dimension is of another size or another use."""
_HEAD: Final = ("| Field | Holds | What it is |", "| --- | --- | --- |")


def reference(kinds: Mapping[str, type[Part]] = KINDS) -> str:
    """The reference as Markdown; `kinds` are those that parts can be of."""
    return "\n".join(_lines(kinds)) + "\n"


def _lines(kinds: Mapping[str, type[Part]]) -> Iterator[str]:
    yield "# Fields of definitions"
    yield ""
    yield "Made by `specgen schema`. A field in bold is required. Where a list may stand, one entry"
    yield "may stand without brackets."
    for name, cls in _FILES:
        yield from _section(f"## {name}", cls, fields_of(cls))
    shared = dict(fields_of(Part))
    yield from _section("## catalog/*.yaml, every part", Part, shared.items())
    for kind, cls in sorted(kinds.items()):
        own = [each for each in fields_of(cls) if each[0] not in shared]
        yield from _section(f"### `kind: {kind}`", cls, own)
    roots = [cls for _, cls in _FILES]
    yield from ("", "## What stands within them")
    for name, hint in sorted(_within((*roots, *kinds.values())).items()):
        record = record_of(hint)
        assert record is not None
        yield from _section(f"### {name}", record, fields_of(hint))


def _within(roots: Iterable[type[Any]]) -> Mapping[str, Any]:
    """The records that stand in the fields of others, by name; generic ones with what they hold."""
    found: dict[str, Any] = {}
    waiting: list[Any] = list(roots)
    while waiting:
        for _, hint in fields_of(waiting.pop()):
            bare = _innermost(hint)
            record = record_of(bare)
            if record is not None and record.__name__ not in found:
                found[record.__name__] = bare
                waiting.append(bare)
    return found


def _innermost(hint: Any) -> Any:
    """What a list or a mapping holds."""
    bare = bare_hint(hint)
    while get_origin(bare) is tuple or is_mapping(bare):
        bare = bare_hint(get_args(bare)[1 if is_mapping(bare) else 0])
    return bare


def _section(head: str, cls: type[Any], listed: Any) -> Iterator[str]:
    rows = [_row(cls, alias, hint) for alias, hint in listed]
    yield from ("", head)
    if rows:
        yield from ("", *_HEAD, *rows)


def _row(cls: type[Any], alias: str, hint: Any) -> str:
    name = f"**`{alias}`**" if required(cls, alias) else f"`{alias}`"
    field = field_names(cls)[alias]
    label = str(entries(cls)[field].called.label)
    about = " ".join(field_docs(cls).get(field, "").split())
    told = ". ".join(filter(None, (label, about)))
    return f"| {name} | {_held(hint, alias)} | {told.replace('|', chr(92) + '|')} |"


def _held(hint: Any, alias: str = "") -> str:
    """What a field with a type hint holds, in words."""
    bare = bare_hint(hint)
    words = words_of(bare)
    if words:
        return ", ".join(f"`{word}`" for word in words)
    if get_origin(bare) is tuple:
        return f"list: {_held(get_args(bare)[0])}"
    if is_mapping(bare):
        key, value = get_args(bare)
        return f"by {_held(key)}: {_held(value)}"
    record = record_of(bare)
    if record is not None:
        return f"[{record.__name__}](#{record.__name__.lower()})"
    if isinstance(bare, type) and issubclass(bare, Quantity):
        return f"quantity, such as `{_EXAMPLES.get(alias, bare.dimension.example)}`"
    taken = next((text for text in PLACEHOLDERS if accepts(hint, text)), "to do")
    return _HELD.get(taken, f"such as `{taken}`")
