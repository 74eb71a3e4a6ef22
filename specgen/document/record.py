"""What a document keeps with it to be audited by: what it is about, and the values it states."""

import hashlib
import json
import re
from collections.abc import Iterable
from dataclasses import fields
from typing import Any, Final

from specgen.frozen import frozen

FORM: Final = 1
"""Of the record; one more where its fields change their meaning."""

_WORDS: Final = ("of", "document", "language", "number", "date", "edition", "digest")

Stated = tuple[tuple[str, str], ...]
"""Values in the order of the document: key, and number with unit as printed."""


@frozen
class Record:
    """`of` is a build's or a platform's id, `document` the name of a template, `at` the conditions
    that were asked for; `number`, `date` and `edition` are what it says of itself."""

    of: str
    document: str
    language: str
    at: tuple[str, ...] = ()
    number: str = ""
    date: str = ""
    edition: str = ""
    values: Stated = ()
    digest: str = ""
    """Of all the values, as `digest_of` gives it; "" where nothing says."""

    def as_json(self, *, with_values: bool = True) -> str:
        """In ASCII on one line, without two hyphens in a row: fit for a comment of any format."""
        data: dict[str, object] = {"form": FORM}
        data |= {each.name: getattr(self, each.name) for each in fields(self)}
        if not with_values:
            del data["values"]
        text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
        return text.replace("--", "-\\u002d")


def read_record(text: str) -> Record | None:
    """The record that `as_json` wrote; None for anything else."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(data, dict) or data.get("form") != FORM:
        return None
    words = [data.get(name) for name in _WORDS]
    at, values = data.get("at"), data.get("values", [])
    if not all(isinstance(each, str) for each in words) or not isinstance(at, list):
        return None
    if not all(isinstance(each, str) for each in at) or not _are_values(values):
        return None
    said = dict(zip(_WORDS, map(str, words), strict=True))
    stated = tuple((key, shown) for key, shown in values)
    return Record(at=tuple(at), values=stated, **said)


def _are_values(values: Any) -> bool:
    return isinstance(values, list) and all(
        isinstance(pair, list) and len(pair) == 2 and all(isinstance(each, str) for each in pair)
        for pair in values
    )


def digest_of(values: Stated) -> str:
    """The first 128 bits of SHA-256 (FIPS 180-4) of keys and values, in their order."""
    text = json.dumps(values, ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def one_line(text: str) -> str:
    """A printed value without what only sets it: narrow and unbroken spaces are spaces."""
    return re.sub(r"\s+", " ", text).strip()


@frozen
class Difference:
    """What a key stated in the order of the document, and what it states now."""

    key: str
    then: tuple[str, ...]
    now: tuple[str, ...]


def compared(then: Stated, now: Stated) -> tuple[int, tuple[Difference, ...]]:
    """How many keys agree, and those that do not, in the order of the document.

    A value that is printed more or fewer times than it was agrees, as long as it is one value;
    keys that are printed now only are no contradiction.
    """
    before, after = _by_key(then), _by_key(now)
    differing = tuple(
        Difference(key, told, after.get(key, ()))
        for key, told in before.items()
        if told != after.get(key)
    )
    return len(before) - len(differing), differing


def _by_key(stated: Iterable[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for key, shown in stated:
        found.setdefault(key, {})[shown] = None
    return {key: tuple(shown) for key, shown in found.items()}
