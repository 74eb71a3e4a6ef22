"""Kinds of part that a project declares: what is written, and the class that comes of it.

The class is made as the shipped ones are, so whoever works with these works with those.
"""

import keyword
import re
from collections.abc import Mapping
from dataclasses import field, fields
from functools import lru_cache
from typing import Annotated, Any, Final, Literal

from specgen.messages import say
from specgen.model.fields import Count, Id, Many, Number, Text, YesNo, record, text_of, wrong
from specgen.model.labels import Called
from specgen.model.markers import Before, Json
from specgen.model.part import Part
from specgen.model.pedigree import Origin, Unwritten
from specgen.model.traits import (
    Card,
    Carries,
    ClosesPosition,
    Connects,
    Cools,
    DrawsPower,
    HasEthernet,
    HasLink,
    MovesAir,
    Stores,
    Swappable,
)
from specgen.quantity import QUANTITIES, Quantity
from specgen.quantity.units import BY_DIMENSION

TraitName = Literal[
    "card",
    "carries",
    "closes-position",
    "connects",
    "cools",
    "draws-power",
    "ethernet-ports",
    "link",
    "moves-air",
    "stores",
    "swap",
]
TRAITS: Final[Mapping[TraitName, type[Part]]] = {
    "card": Card,
    "carries": Carries,
    "closes-position": ClosesPosition,
    "connects": Connects,
    "cools": Cools,
    "draws-power": DrawsPower,
    "ethernet-ports": HasEthernet,
    "link": HasLink,
    "moves-air": MovesAir,
    "stores": Stores,
    "swap": Swappable,
}
"""What a kind can have in common with the shipped ones; the docstrings say what each means."""

FieldType = Literal["text", "whole-number", "number", "yes-no", "choice", "quantity"]
_HINTS: Final[Mapping[FieldType, Any]] = {
    "text": Text,
    "whole-number": Count,
    "number": Number,
    "yes-no": YesNo,
}
_NAME: Final = re.compile(r"[a-z][a-z0-9_]*\Z")


def _field_name(value: object) -> object:
    text = text_of(value)
    if not _NAME.match(text) or keyword.iskeyword(text):
        raise wrong(
            say(
                "a name of lower-case letters, digits and underscores that no language keeps "
                "for itself"
            ),
            say("such as `flow_rate`"),
        )
    return text


FieldName = Annotated[str, Before(_field_name), Json({"type": "string", "pattern": "^[a-z]"})]


@record
class DeclaredField:
    """A field of a kind: what its parts declare under this name."""

    name: FieldName
    type: FieldType
    label: Text | None = None
    """What pages call it; without one, its name."""
    noun: Text | None = None
    """What a sentence calls it, where the label cannot stand in one: `number of cores`."""
    description: Text | None = None
    """What an author should know who fills it in."""
    unit: Text | None = None
    """Of a quantity: a unit of its dimension, such as `l/min`."""
    dimension: Text | None = None
    """Of a quantity: its dimension, such as `volume flow`, where the unit does not tell it."""
    choices: Many[Text] = ()
    """Of a choice: the words there are."""
    list: YesNo = False
    """Whether it may hold several values."""
    required: YesNo = False
    """Whether every part must have it."""


@record
class Shown:
    """Which tables show which fields; `power.maximum` is one within a field.

    The page of a part shows all of them.
    """

    choices: Many[Text] = ()
    """Tables of such parts: those to choose from, on platforms' pages, and those of a build."""
    parts_list: Many[Text] = ()
    """Parts lists, behind the name of the part."""
    comparison: Many[Text] = ()
    """Comparisons of builds."""
    topology: YesNo = False
    """Whether a topology shows the positions for it even where no lanes are wired to them."""


NOTHING_SHOWN: Final = Shown()


@record
class DeclaredKind:
    """A kind of part that the project declares."""

    id: Id
    title: Text
    plural: Text
    description: Text | None = None
    """What such a part is."""
    subsystem: Id = "other"
    """What its power counts towards: a shipped subsystem, or one of the project's own."""
    traits: Many[TraitName] = ()
    """What it has in common with shipped kinds; each brings fields, sums and checks with it."""
    fields: tuple[DeclaredField, ...] = ()
    shown: Shown = NOTHING_SHOWN
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


def bases_of(declared: DeclaredKind) -> tuple[type[Part], ...]:
    """The classes a declared kind inherits from, none that another of them brings along."""
    wanted = tuple(dict.fromkeys(TRAITS[name] for name in declared.traits))
    bases = tuple(
        cls for cls in wanted if not any(cls is not o and issubclass(o, cls) for o in wanted)
    )
    return bases or (Part,)


def quantities_of(declared: DeclaredField) -> tuple[type[Quantity], ...]:
    """The dimensions that a quantity can be of by its unit and dimension as written."""
    return tuple(
        cls
        for cls in QUANTITIES
        if declared.dimension in (None, cls.dimension.name)
        and (declared.unit is None or declared.unit in BY_DIMENSION[cls.dimension.name])
    )


def hint_of(declared: DeclaredField) -> Any:
    """The type of the field's value, a list or what is left out aside.

    Raises `IndexError` for a quantity of no dimension.
    """
    match declared.type:
        case "quantity":
            return quantities_of(declared)[0]
        case "choice":
            return Literal.__getitem__(declared.choices)
    return _HINTS[declared.type]


@lru_cache(maxsize=256)
def kind_of(declared: DeclaredKind) -> type[Part]:
    """The class of a declared kind; equal declarations have the same one."""

    def reduced(part: Part) -> tuple[Any, ...]:
        """How a part goes to another process: its kind as declared, its fields."""
        values = {each.name: getattr(part, each.name) for each in fields(part) if each.init}
        return _restored, (declared, values, part.origin)

    body: dict[str, Any] = {
        "__doc__": declared.description or declared.title,
        "__module__": __name__,
        "__qualname__": declared.id,
        "__annotations__": {},
        "__reduce__": reduced,
        "kind": declared.id,
        "own": True,
        "title": declared.title,
        "plural": declared.plural,
        "subsystem": declared.subsystem,
        "choose_by": declared.shown.choices,
        "listed_with": declared.shown.parts_list,
        "compared_by": declared.shown.comparison,
        "boxed": declared.shown.topology,
        "counted": "closes-position" not in declared.traits,
    }
    for entry in declared.fields:
        hint = hint_of(entry)
        called = Called(
            entry.label or "",
            entry.noun or "",
            entry.description or "",
            entry.unit or "",
            own=True,
        )
        if entry.list:
            hint = Many[hint]  # type: ignore[valid-type]
        elif not entry.required:
            hint = hint | None
        body["__annotations__"][entry.name] = Annotated[hint, called]
        if not entry.required:
            body[entry.name] = () if entry.list else None
    return record(type(declared.id, bases_of(declared), body))


def _restored(declared: DeclaredKind, values: Mapping[str, Any], origin: Origin) -> Part:
    part = kind_of(declared)(**values)
    object.__setattr__(part, "origin", origin)
    return part
