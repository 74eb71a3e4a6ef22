"""A JSON Schema that says each thing once: what stands in it several times gets a name."""

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, Final

SHORTEST: Final = 48
"""Letters of a piece that is worth a name; a reference takes about 30."""
_HELD: Final = ("properties", "$defs")
"""Keys whose entries are names of the author's, with a schema each."""


def shared(schema: Mapping[str, Any]) -> dict[str, Any]:
    """The same schema, with pieces that are alike moved to `$defs` and referred to."""
    counts = Counter(_key(piece) for piece, _ in _pieces(schema, ""))
    names: dict[str, str] = {}
    taken = set(schema.get("$defs", ()))
    for piece, word in _pieces(schema, ""):
        key = _key(piece)
        if counts[key] > 1 and len(key) >= SHORTEST and key not in names:
            names[key] = _free(word or "piece", taken)
    moved: dict[str, Any] = {}

    def placed(piece: Any, top: bool = False) -> Any:
        if isinstance(piece, list):
            return [placed(each) for each in piece]
        if not isinstance(piece, dict):
            return piece
        name = None if top else names.get(_key(piece))
        if name is not None and name in moved:
            return {"$ref": f"#/$defs/{name}"}
        if name is not None:
            moved[name] = {}
        made = {
            key: {inner: placed(each) for inner, each in value.items()}
            if key in _HELD and isinstance(value, dict)
            else placed(value)
            for key, value in piece.items()
        }
        if name is None:
            return made
        moved[name] = made
        return {"$ref": f"#/$defs/{name}"}

    whole: dict[str, Any] = placed(dict(schema), top=True)
    definitions = {**whole.get("$defs", {}), **moved}
    return {**whole, "$defs": definitions} if definitions else whole


def _key(piece: Mapping[str, Any]) -> str:
    return json.dumps(piece, sort_keys=True)


def _free(word: str, taken: set[str]) -> str:
    """A name that nothing has, which it then has."""
    name, number = word, 1
    while name in taken:
        number += 1
        name = f"{word}-{number}"
    taken.add(name)
    return name


def _pieces(node: Any, word: str) -> Iterator[tuple[dict[str, Any], str]]:
    """Every schema within a schema, outer ones first, with the name of the field it is about."""
    if isinstance(node, list):
        for each in node:
            yield from _pieces(each, word)
    elif isinstance(node, dict):
        for key, value in node.items():
            if key in _HELD and isinstance(value, dict):
                for name, each in value.items():
                    if isinstance(each, dict):
                        if key == "properties":
                            yield each, name
                        yield from _pieces(each, name)
            else:
                if isinstance(value, dict) and key != "default":
                    yield value, word
                yield from _pieces(value, word)
