"""The texts of a project's own that documents print in words: what translators are handed.

Names, summaries, notes, reasons of rules, texts of kinds and values are those of `WORDS`; prose is
told passage by passage (`prose_texts`). What is printed on the board, order numbers, forms and
words in a table of a standard are none.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from specgen.diagnostics import Span
from specgen.frozen import frozen
from specgen.messages.language import one_line
from specgen.model import Definitions, Part, Platform
from specgen.model.assumptions import Assumed
from specgen.model.build import Allowance, Build
from specgen.model.illustration import Illustration, SampleDifference
from specgen.model.kinds.declared_kinds import DeclaredField, DeclaredKind
from specgen.model.pedigree import FieldPath, Revision
from specgen.model.platform import Cover, Fixture
from specgen.model.position import Need, Position
from specgen.model.project import Family, Project
from specgen.model.rule import Rule
from specgen.model.value import OwnValue
from specgen.rules.definitions.records import holding, records, things

WORDS: Final[Mapping[type[Any], tuple[str, ...]]] = {
    Project: ("title", "summary", "edition", "terms", "tools"),
    Family: ("name", "summary", "shared"),
    Rule: ("because",),
    Assumed: ("because",),
    OwnValue: ("label", "short", "formula", "assumes"),
    DeclaredKind: ("title", "plural", "description"),
    DeclaredField: ("label", "noun", "description"),
    Part: ("name", "summary"),
    Platform: ("name", "summary", "suitable_for", "limitations", "deletion"),
    Cover: ("name", "fastener", "open", "close"),
    Fixture: ("name", "what", "note"),
    Position: ("note",),
    Need: ("because",),
    Build: ("name", "summary", "suitable_for"),
    Revision: ("note",),
    Allowance: ("reason",),
    Illustration: ("alternative", "caption", "licence"),
    SampleDifference: ("colour", "note"),
}
"""The fields that hold words, by the record that has them."""


@frozen
class OwnText:
    """A text, the place where it is written, and what it is of: `platform ID: summary`."""

    text: str
    at: Span
    of: str


def texts_of_definitions(definitions: Definitions) -> Iterator[OwnText]:
    """Every text in the definitions that documents print in words; names of equal words come once
    for each that has them."""
    beside = (*definitions.declared, *definitions.illustrations.values())
    for thing in (*things(definitions), *beside):
        owner = f"{_sort_of(thing)} {thing.id}" if hasattr(thing, "id") else "project"
        for path, record in records(thing, held=_held):
            for name in _words_of(type(record)):
                for way, text in _texts(getattr(record, name)):
                    steps = (*path, name, *way)
                    of = f"{owner}: {_shown(steps)}"
                    yield OwnText(one_line(text), thing.origin.at(*steps), of)


_SORTS: Final[Mapping[type[Any], str]] = {
    Part: "part",
    Platform: "platform",
    Build: "build",
    DeclaredKind: "kind",
    Illustration: "picture",
}


def _sort_of(thing: Any) -> str:
    return next(word for cls, word in _SORTS.items() if isinstance(thing, cls))


_HELD: dict[type[Any], tuple[tuple[str, str], ...]] = {}  # by class, worked out once


def _held(cls: type[Any]) -> tuple[tuple[str, str], ...]:
    if cls not in _HELD:
        _HELD[cls] = tuple((name, key) for name, key, _ in holding(cls))
    return _HELD[cls]


def _words_of(cls: type[Any]) -> tuple[str, ...]:
    return next((names for each, names in WORDS.items() if issubclass(cls, each)), ())


def _texts(value: object) -> Iterator[tuple[FieldPath, str]]:
    """The texts that a field holds: one, several, or some by their keys."""
    if isinstance(value, str):
        if value:
            yield (), value
    elif isinstance(value, tuple):
        for at, each in enumerate(value):
            yield (at,), each
    elif isinstance(value, Mapping):
        for key, each in value.items():
            yield (str(key),), each


def _shown(steps: FieldPath) -> str:
    return ", ".join(str(each + 1 if isinstance(each, int) else each) for each in steps)
