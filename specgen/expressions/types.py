"""What an expression of a rule can be, and which attributes each thing has.

The attributes are the fields of the model's classes, read off their annotations, so a new field
of a part can be used in rules without a change here.
"""

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.messages.quantities import dimension_words
from specgen.model import Conditions, Part, Platform
from specgen.model.labels import UNCALLED, Called, entries
from specgen.quantity import Quantity
from specgen.quantity.printing import InWords


class TypeSort(StrEnum):
    """The sorts of value."""

    TRUTH = "truth"
    NUMBER = "number"
    TEXT = "text"
    QUANTITY = "quantity"
    PART = "part"
    RECORD = "record"
    LIST = "list"
    TABLE = "table"
    COLLECTION = "collection"
    NOTHING = "nothing"


_WORDS: Final[Mapping[TypeSort, Message]] = {
    TypeSort.TRUTH: say("a statement"),
    TypeSort.NUMBER: say("a number"),
    TypeSort.TEXT: say("text"),
    TypeSort.QUANTITY: say("a quantity"),
    TypeSort.PART: say("a part"),
    TypeSort.RECORD: say("a group of fields"),
    TypeSort.LIST: say("a list"),
    TypeSort.TABLE: say("a table"),
    TypeSort.COLLECTION: say("a collection"),
    TypeSort.NOTHING: say("nothing"),
}


class Namespace(StrEnum):
    """What a text names; such a text must name one that is defined."""

    PART = "part"
    PLATFORM = "platform"
    POSITION = "position"
    FAMILY = "family"


@frozen
class Type:
    """The static type of an expression.

    `quantity` is the dimension's class; `kinds` the kinds a part may be of; `record` the class of
    a group of fields; `entry` the type of the entries of a list or table; `choices` the only words
    a text can be, or the only ones that parts have `declared`; `names` what a text names.
    """

    sort: TypeSort
    quantity: type[Quantity] | None = None
    kinds: tuple[str, ...] = ()
    record: type[Any] | None = None
    entry: "Type | None" = None
    choices: tuple[str, ...] = ()
    declared: bool = False
    names: Namespace | None = None

    @property
    def words(self) -> Message:
        """How messages call it: `a number`, `a power`."""
        if self.quantity is None:
            return _WORDS[self.sort]
        dimension = self.quantity.dimension
        vowel = dimension.name[0] in "aeiou"
        pattern = say("an {dimension}") if vowel else say("a {dimension}")
        return pattern.filled(dimension=dimension_words(dimension))

    def like(self, other: "Type") -> bool:
        """Whether values of both can be told equal or not."""
        return self.sort is other.sort and self.quantity is other.quantity


TRUTH: Final = Type(TypeSort.TRUTH)
NUMBER: Final = Type(TypeSort.NUMBER)
TEXT: Final = Type(TypeSort.TEXT)
NOTHING: Final = Type(TypeSort.NOTHING)
COLLECTION: Final = Type(TypeSort.COLLECTION)

_APART: Final = frozenset({"origin", "source", "brings", "needs", "blocks", "rules"})
_ANY_PART: Final = "parts"


def part_of(*kinds: str) -> Type:
    """The type of a part of one of these kinds."""
    return Type(TypeSort.PART, kinds=kinds)


def quantity_of(cls: type[Quantity]) -> Type:
    """The type of an amount with a unit, such as a power."""
    return Type(TypeSort.QUANTITY, quantity=cls)


def of_hint(hint: Any) -> Type | None:
    """The type of a field by its annotation; None for what rules cannot speak of."""
    origin = get_origin(hint)
    if origin is Annotated:
        return of_hint(hint.__origin__)
    if origin in (Union, types.UnionType):
        found = {of_hint(each) for each in get_args(hint) if each is not type(None)}
        return found.pop() if len(found) == 1 else None  # words are of several classes, all text
    if origin is Literal:
        words = get_args(hint)
        return (
            Type(TypeSort.TEXT, choices=words) if all(isinstance(w, str) for w in words) else None
        )
    if origin is tuple:
        entry = of_hint(get_args(hint)[0])
        return None if entry is None else Type(TypeSort.LIST, entry=entry)
    if origin is not None and issubclass(origin, Mapping):
        entry = of_hint(get_args(hint)[1])
        return None if entry is None else Type(TypeSort.TABLE, entry=entry)
    return _of_class(hint) if isinstance(hint, type) else None


def alternatives_of(hint: Any) -> tuple[Type, ...]:
    """The types that a value can be of by its annotation, what rules cannot speak of left out."""
    union = get_origin(hint) in (Union, types.UnionType)
    hints = get_args(hint) if union else (hint,)
    found = (of_hint(each) for each in hints if each is not type(None))
    return tuple(dict.fromkeys(type_ for type_ in found if type_ is not None))


def _of_class(cls: type[Any]) -> Type | None:
    if cls is bool:
        return TRUTH
    if issubclass(cls, int | Decimal):
        return NUMBER
    if issubclass(cls, str | InWords):
        return TEXT
    if issubclass(cls, Quantity):
        return quantity_of(cls)
    return Type(TypeSort.RECORD, record=cls) if is_dataclass(cls) else None


_TABLES: dict[type[Any], Mapping[str, Type]] = {}  # by class, worked out once


def table_of(cls: type[Any]) -> Mapping[str, Type]:
    """The attributes of a model class by name."""
    if cls not in _TABLES:
        known = [entry for entry in fields(cls) if entry.init and entry.name not in _APART]
        typed = [(entry.name, of_hint(entry.type)) for entry in known]
        _TABLES[cls] = {name: type_ for name, type_ in typed if type_ is not None}
    return _TABLES[cls]


_OF_PLATFORM: Final = (
    *("id", "name", "family", "number", "rack_units", "size", "mass", "power"),
    *("operating_class", "regulated_as", "year", "resources"),
)
"""What a rule may ask of the platform."""


@cache
def attributes_of_platform() -> Mapping[str, Type]:
    """What rules may ask of the platform, with the type of each."""
    table = {name: type_ for name, type_ in table_of(Platform).items() if name in _OF_PLATFORM}
    return {
        **table,
        "id": Type(TypeSort.TEXT, names=Namespace.PLATFORM),
        "family": Type(TypeSort.TEXT, names=Namespace.FAMILY),
    }


@cache
def conditions() -> Mapping[str, Type]:
    """The conditions by name."""
    return table_of(Conditions)


class Kinds:
    """The kinds of part of a project: the collections of them, and what each part has."""

    def __init__(self, classes: Mapping[str, type[Part]]) -> None:
        self.classes = classes
        self.collections: Mapping[str, tuple[str, ...]] = {
            _ANY_PART: tuple(classes),
            **{cls.collection(): (name,) for name, cls in classes.items()},
        }
        """The names of collections and the kinds of part in each."""
        self._of_any_part: Mapping[str, Type] = {
            "kind": Type(TypeSort.TEXT, choices=tuple(classes)),
            "position": Type(TypeSort.TEXT, names=Namespace.POSITION),
            "soldered": TRUTH,
            "id": Type(TypeSort.TEXT, names=Namespace.PART),
        }
        self._known: dict[Type, Mapping[str, Type]] = {}

    def attributes(self, type_: Type) -> Mapping[str, Type]:
        """The attributes of whatever has some; of parts of several kinds, those of any of them.

        An attribute that means another thing with another kind is left out.
        """
        if type_ not in self._known:
            self._known[type_] = self._attributes(type_)
        return self._known[type_]

    def called(self, type_: Type, name: str) -> Called:
        """How an attribute is called, where it is a field that says so."""
        classes = [cls for kind in type_.kinds if (cls := self.classes.get(kind)) is not None]
        for cls in classes if type_.record is None else [type_.record]:
            if name in entries(cls):
                return entries(cls)[name].called
        return UNCALLED

    def _attributes(self, type_: Type) -> Mapping[str, Type]:
        if type_.record is Platform:
            return attributes_of_platform()
        if type_.record is not None:
            return table_of(type_.record)
        found: dict[str, Type] = {}
        unlike: set[str] = set()
        if frozenset(type_.kinds) == frozenset(self.classes):
            return {**table_of(Part), **self._of_any_part}
        for kind in type_.kinds:
            for name, each in {**table_of(self.classes[kind]), **self._of_any_part}.items():
                if name in found and not found[name].like(each):
                    unlike.add(name)
                elif name in found and found[name] != each:
                    words = tuple(dict.fromkeys((*found[name].choices, *each.choices)))
                    free = not (found[name].choices and each.choices)
                    found[name] = Type(
                        each.sort,
                        quantity=each.quantity,
                        record=each.record,
                        entry=each.entry,
                        choices=() if free else words,
                    )
                else:
                    found[name] = each
        return {name: each for name, each in found.items() if name not in unlike}
