"""How a field is called: on a page, at the head of a column, within a sentence.

A field whose name reads well says nothing; another is declared as `Annotated[Power, Called("Thermal
design power")]`, and everyone who prints it asks here.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, Final, get_args, get_origin

from specgen.frozen import frozen
from specgen.messages import Message, Within, Words, say
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import Quantity


@frozen
class Called:
    """A field's label on pages; `noun` is for sentences where the label cannot stand in one.

    `about` tells authors what it is, where no line below the field does; `unit` is the one that
    they write it in, where its dimension has several.
    """

    label: str = ""
    noun: str = ""
    about: str = ""
    unit: str = ""
    own: bool = False
    """Whether a project declares the field: its label is the project's then, and no message."""
    absent: str = ""
    """What pages print of a part that leaves the field out, where that tells something."""

    @property
    def words(self) -> Words:
        """The label as pages print it."""
        return self.label if self.own else Message(self.label)


@frozen
class FieldEntry:
    """A field of a record: how it is called, and the record that it leads to, where it does."""

    called: Called
    record: type[Any] | None


UNCALLED: Final = Called()
FORM: Final = Called("Form factor", "form factor")
_NO_ENTRY: Final = FieldEntry(UNCALLED, None)
_ENTRIES: dict[type[Any], Mapping[str, FieldEntry]] = {}  # by class, read once


def entries(cls: type[Any]) -> Mapping[str, FieldEntry]:
    """The fields of a record by their names in Python and in YAML."""
    if cls not in _ENTRIES:
        found: dict[str, FieldEntry] = {}
        for field in fields(cls):
            hint: Any = field.type
            extras = getattr(hint, "__metadata__", ())
            own = next((each for each in extras if isinstance(each, Called)), UNCALLED)
            found[field.name] = FieldEntry(own, _record_in(hint))
            found[written(field.name)] = found[field.name]
        _ENTRIES[cls] = found
    return _ENTRIES[cls]


def called(cls: type[Any], path: FieldPath) -> Called:
    """How the field at `path` of a record is called; its label is never empty.

    One that declares no label is called by the words of its path.
    """
    entry, holder = _NO_ENTRY, cls
    for step in path:
        if isinstance(step, int):
            continue
        entry = entries(holder).get(step, _NO_ENTRY)
        if entry.record is None:
            break
        holder = entry.record
    words = " ".join(str(step) for step in path).replace("_", " ").strip()
    return replace(entry.called, label=entry.called.label or words[:1].upper() + words[1:])


def label_of_field(cls: type[Any], *path: str) -> Words:
    """The label of a field as pages print it: for the fact that it states, above its column."""
    return called(cls, path).words


def field_words(cls: type[Any], path: FieldPath) -> Words:
    """The field at `path` of a record as it stands behind its owner: label, then keys of tables."""
    record: Any = cls
    return _field_words(record, path)


@cache
def _field_words(cls: Any, path: FieldPath) -> Words:
    steps = [step for step in path if not isinstance(step, int)]
    label, holder = Within(called(cls, tuple(steps)).words), cls
    while steps and holder is not None:
        holder = entries(holder).get(steps.pop(0), _NO_ENTRY).record
    keys = " ".join(map(str, steps))
    return say("{label} {keys}", label=label, keys=keys) if keys else label


@cache  # many fields are of a few types
def _record_in(hint: Any) -> type[Any] | None:
    """The record that a type hint leads to, through what is optional, listed or annotated."""
    cls = get_origin(hint) or hint
    if isinstance(cls, type) and is_dataclass(cls) and not issubclass(cls, Quantity):
        return cls
    found = (_record_in(each) for each in get_args(hint))
    return next((cls for cls in found if cls is not None), None)
