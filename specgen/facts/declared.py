"""The fields of a definition as facts: what a part's or a platform's page prints."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import partial
from typing import Final

from specgen.facts.fact import Basis, Declared, Fact, Value
from specgen.facts.inputs import labelled
from specgen.messages import NO, YES, Message, say
from specgen.model import Part, Platform, called
from specgen.quantity import Quantity, show

_APART: Final[Mapping[type[Part | Platform], frozenset[str]]] = {
    Part: frozenset(
        {
            *("id", "name", "source", "number", "maker", "summary", "life", "brings", "blocks"),
            *("key",),
        }
    ),
    Platform: frozenset(
        {
            *("id", "name", "source", "number", "summary", "family", "lists", "conditions"),
            *("suitable_for", "limitations", "shown"),
        }
    ),
}
"""Fields that a page shows in a way of its own; so are lists of records and tables of values."""


OWN: Final = "declared"
"""Goes before the path of a platform's field, whose bare key is a fact of the server:
`PLATFORM.declared.power.idle` is what the board draws, `power.idle` what all parts do."""


def declared_facts(thing: Part | Platform) -> tuple[Fact, ...]:
    """Every plain value a definition states, under `id.field`, in the order of its fields."""
    return tuple(_facts(thing, thing, ()))


def _facts(thing: Part | Platform, holder: object, path: tuple[str, ...]) -> Iterator[Fact]:
    if not is_dataclass(holder):
        return
    apart = _APART[Platform if isinstance(thing, Platform) else Part]
    for entry in fields(holder):
        if (not path and entry.name in apart) or not entry.init:
            continue
        value = getattr(holder, entry.name)
        here = (*path, entry.name)
        if value is None and (absent := called(type(thing), here).absent):
            value = Message(absent)
        if is_dataclass(value) and not isinstance(value, Quantity | Message):
            yield from _facts(thing, value, here)
        elif value is not None and value != () and not _tabled(value):
            yield declared_fact(thing, here, printable(value))


def _tabled(value: object) -> bool:
    """Whether a field holds records, or values by what they hold for."""
    if isinstance(value, tuple):
        return any(is_dataclass(entry) and not isinstance(entry, Quantity) for entry in value)
    return isinstance(value, Mapping)


def printable(value: object) -> Value:
    """A declared value as the value of a fact: yes or no in words, a list entry by entry."""
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, tuple):
        return tuple(show(printable(entry)) for entry in value)
    return value  # type: ignore[return-value]


def attributes_of(part: Part) -> tuple[Fact, ...]:
    """What a project states of a part under names of its own, labelled by these."""
    return tuple(
        replace(declared_fact(part, ("attributes", name), value), label=name.replace("_", " "))
        for name, value in part.attributes.items()
    )


def declared_fact(thing: Part | Platform, path: tuple[str | int, ...], value: Value) -> Fact:
    """One field of a definition as a fact."""
    if path[-1] in ("lanes", "connector") and isinstance(value, int):
        value = f"x{value}"
    own = () if isinstance(thing, Part) else (OWN,)
    where = partial(thing.origin.place, *path)
    leaf = Declared(labelled(thing, path), value, where, thing.source)
    return Fact(
        key=".".join((thing.id, *own, *(str(step) for step in path))),
        template="{definition}." + ".".join(str(step) for step in path),
        label=called(type(thing), path).words,
        value=value,
        basis=Basis.DECLARED,
        formula=say("as declared"),
        source=thing.source.document,
        rests=((leaf,),),
        subject=thing.id,
    )
