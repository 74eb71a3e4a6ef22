"""Texts that come from definitions and from prose: never translated, never taken for a message."""

import re
import typing
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from functools import lru_cache
from typing import Any, Final

from specgen.document.tree import Column, Text
from specgen.facts.kinds import of_own_kinds
from specgen.model import Definitions

MODEL: Final = "specgen.model"
NO_NAME: Final = "none"
"""A word of the program that definitions use, as they use the names of kinds."""
SHORTEST_NAME: Final = 3
LONGEST_NAME: Final = 90
_LETTER: Final = re.compile(r"[^\W\d_]")


@dataclass(frozen=True, slots=True)
class Given:
    """The texts of a project, in its own `language`; `starts`: its names by their first word."""

    texts: frozenset[str] = frozenset()
    starts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    language: str = "en"

    def name_at(self, text: str, at: int, word: str) -> str:
        """The longest name of the project that stands at that place of a text, "" for none."""
        for name in self.starts.get(word, ()):
            end = at + len(name)
            if text.startswith(name, at) and not text[end : end + 1].isalnum():
                return name
        return ""


NOTHING_GIVEN: Final = Given()


def given_of(definitions: Definitions) -> Given:
    """What a project's definitions say in words of their own."""
    if not _held or _held[0][0] is not definitions:
        _held[:] = [(definitions, _given(definitions))]
    return _held[0][1]


_held: list[tuple[Definitions, Given]] = []
"""One project at a time: every document of it asks."""


def _given(definitions: Definitions) -> Given:
    texts: set[str] = set()
    project = definitions.project
    platforms, builds = definitions.platforms.values(), definitions.builds.values()
    for each in (project, *definitions.declared, *definitions.parts.values(), *platforms, *builds):
        texts.update(text for text in _texts(each) if len(text) > 1 and _LETTER.search(text))
    texts -= {*definitions.kinds, NO_NAME}
    texts |= {str(calculator.label) for calculator in of_own_kinds(definitions)}
    texts |= {text.removesuffix(".") for text in texts}
    names = {project.title, project.publisher.name, *(each.name for each in project.families)}
    names |= {*(each.name for each in platforms), *(each.name for each in builds)}
    names |= {text for text in texts if _is_name(text)}
    starts: dict[str, list[str]] = {}
    for name in sorted(names, key=lambda each: (-len(each), each)):
        starts.setdefault(first_word(name), []).append(name)
    by_word = {word: tuple(several) for word, several in starts.items()}
    return Given(frozenset(texts), by_word, project.language)


def _is_name(text: str) -> bool:
    """Whether a text of a definition may stand within a sentence and be known there.

    A single word may not, since it could be anybody's, unless it is all capitals: a position.
    """
    fits = SHORTEST_NAME <= len(text) <= LONGEST_NAME and (not text.isalpha() or text.isupper())
    return fits and (text[0].isupper() or text[0].isdigit() or "-" in text)


def words_in(tree: object) -> Iterator[str]:
    """Every text of blocks and inlines, the titles of columns too."""
    if isinstance(tree, Text):
        yield tree.text
    elif isinstance(tree, tuple):
        for each in tree:
            yield from words_in(each)
    elif isinstance(tree, Column):
        yield str(tree.title)
    elif is_dataclass(tree):
        for each in fields(tree):
            yield from words_in(getattr(tree, each.name))


def first_word(text: str) -> str:
    """Letters and digits up to the first sign that is neither."""
    for at, sign in enumerate(text):
        if not sign.isalnum():
            return text[:at]
    return text


def _texts(value: object) -> Iterator[str]:
    """Every text in fields that hold text of any kind; words of fixed lists are no such text."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, Iterable):
        for each in value:
            yield from _texts(each)
    elif type(value).__module__.startswith(MODEL):
        kind: Any = type(value)
        for name in _free(kind):
            yield from _texts(getattr(value, name))


@lru_cache(512)
def _free(kind: Any) -> tuple[str, ...]:
    """The fields of a record that may hold a text of an author's choice, at any depth."""
    hints = typing.get_type_hints(kind, include_extras=False)
    told = (each for each in fields(kind) if each.name != "origin")
    return tuple(each.name for each in told if _may_hold_text(hints.get(each.name, str)))


def _may_hold_text(hint: Any) -> bool:
    if typing.get_origin(hint) is typing.Literal:
        return False
    inner = typing.get_args(hint)
    if inner:
        return any(_may_hold_text(each) for each in inner)
    return hint is str or (isinstance(hint, type) and hint.__module__.startswith(MODEL))
