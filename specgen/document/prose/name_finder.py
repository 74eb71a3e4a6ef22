"""Finds what running text names: platforms, builds and parts, by name or by id."""

import re
from collections.abc import Iterator
from typing import Final

from specgen.document.prose.passages import Passage
from specgen.document.prose.reference import BY_ID, FACT, BadReference, read_reference
from specgen.frozen import frozen
from specgen.model import Definitions

LEAST: Final = 3  # letters of a name that can be told from other words
_WORD: Final = re.compile(r"[^\W_]+")
_TELLING: Final = re.compile(r"[-\d]")
"""An id without a stroke or a digit (`tpm`) is an ordinary word too, and not looked for."""
_END: Final = re.compile(r"[.!?](?=\s+[^\W\d_a-z])|[.!?]\s*$|[。！？]", re.MULTILINE)


@frozen
class Named:
    """Something named, from and to in the passage's content."""

    id: str
    start: int
    end: int


class NameFinder:
    """All names and ids, found in a text in one walk over its words, the longest first."""

    def __init__(self, definitions: Definitions) -> None:
        self._by_word: dict[str, dict[str, str]] = {}
        for known in (definitions.parts, definitions.platforms, definitions.builds):
            for thing in known.values():
                self._add(thing.name, thing.id)
                if _TELLING.search(thing.id):
                    self._add(thing.id, thing.id)

    def _add(self, name: str, id_: str) -> None:
        first = _WORD.match(name)
        if first is not None and len(name) >= LEAST:
            self._by_word.setdefault(first[0], {})[name] = id_

    def within(self, passage: Passage) -> tuple[Named, ...]:
        """What a passage names, references included, in order."""
        found = [*self._written(passage.flat), *_referred(passage)]
        return tuple(sorted(found, key=lambda each: each.start))

    def _written(self, flat: str) -> Iterator[Named]:
        at = 0
        for word in _WORD.finditer(flat):
            names = self._by_word.get(word[0])
            if names is None or word.start() < at:  # most words begin no name
                continue
            fitting = [name for name in names if _stands(flat, word.start(), name)]
            if fitting:
                name = max(fitting, key=len)
                at = word.start() + len(name)
                yield Named(names[name], word.start(), at)


def _stands(flat: str, start: int, name: str) -> bool:
    """Whether the name stands there as words of its own; a line may end within it."""
    end = start + len(name)
    if " ".join(flat[start:end].split("\n")) != name:
        return False
    before, after = flat[start - 1 : start], flat[end : end + 2]
    return not (
        before.isalnum()
        or before in ("-", "_")
        or after[:1].isalnum()
        or (after[:1] in ("-", "_") and after[1:].isalnum())
    )


def _referred(passage: Passage) -> Iterator[Named]:
    for mention in passage.mentions:
        try:
            reference = read_reference(mention.inner)
        except BadReference:
            continue
        id_ = reference.name if reference.kind in BY_ID else reference.subject
        if id_ and (reference.kind != FACT or reference.subject):
            yield Named(id_, mention.start, mention.end)


def sentences(flat: str) -> Iterator[tuple[int, int]]:
    """From where to where each sentence reaches; a point within a number or a name ends none."""
    start = 0
    for end in _END.finditer(flat):
        yield start, end.end()
        start = end.end()
    if flat[start:].strip():
        yield start, len(flat)
