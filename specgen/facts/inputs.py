"""Where a calculator's inputs come from. Each reads a value and leaves a trail to its lines."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field
from functools import partial
from typing import Any, Protocol, runtime_checkable

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Facts, Rests, Trail
from specgen.facts.terms import STATE
from specgen.frozen import frozen, state
from specgen.grouped import grouped
from specgen.messages import NONE, Message, Words, say
from specgen.model import (
    Assumptions,
    Build,
    Conditions,
    Origin,
    Part,
    Platform,
    Redundancy,
    Span,
)
from specgen.model.labels import field_words
from specgen.model.pedigree import FieldPath


@state
class Context:
    """What inputs are read from: the assembly, the subject in hand, the other facts."""

    assembly: Assembly
    facts: Facts
    subject: str = ""
    fitted: dict[type[Part], tuple[tuple[Place, Part], ...]] = field(default_factory=dict)
    groups: dict[tuple[type[Part], "Chooser"], dict[str | None, list[tuple[Place, Part]]]] = field(
        default_factory=dict
    )
    """Fitted parts of a kind by the subject that each is chosen for."""
    seen: dict[tuple[object, str], tuple[Any, Rests]] = field(default_factory=dict)
    """What was read of a subject, for those that read the same."""

    def parts(self, kind: type[Part]) -> tuple[tuple[Place, Part], ...]:
        """Fitted parts of a kind; `Part` means all."""
        if kind not in self.fitted:
            self.fitted[kind] = tuple(self.assembly.fitted(kind))
        return self.fitted[kind]

    def chosen(self, kind: type[Part], when: "Chooser | None") -> tuple[tuple[Place, Part], ...]:
        """Those of them that are chosen for the subject."""
        if when is None:
            return self.parts(kind)
        if (kind, when) not in self.groups:
            self.groups[kind, when] = grouped((when(*each), each) for each in self.parts(kind))
        return tuple(self.groups[kind, when].get(self.subject, ()))

    def place(self) -> Place | None:
        """The position that the subject names."""
        return self.assembly.places.get(self.subject)


class Input(Protocol):
    """Reads one argument of a calculator, with what it rests on. None: there is no value.

    What reads other facts `needs` the calculators of their keys.
    """

    def read(self, context: Context) -> tuple[Any, Rests]: ...


def needs_of(entry: Input) -> frozenset[str]:
    """The keys of the calculators whose facts an input reads, in the end.

    `isinstance` with a protocol takes ten times as long, of 400 calculators in every run.
    """
    return getattr(entry, "needs", frozenset())


@runtime_checkable
class OfField(Protocol):
    """An input that reads one field of a class of the model, of one thing or of several."""

    @property
    def model(self) -> type[Any]: ...

    @property
    def path(self) -> FieldPath: ...


Chooser = Callable[[Place, Part], str | None]
"""For which subject a part is chosen, "" where there is but one; None for none."""


def _value(holder: Any, path: FieldPath) -> Any:
    for step in path:
        holder = holder.get(step) if isinstance(holder, dict) else getattr(holder, str(step))
        if holder is None:
            return None
    return holder


def leaf(place: Place, part: Part, path: FieldPath, value: Any) -> Declared:
    """A field of a fitted part, a table of values with its rows."""
    where = partial(part.origin.place, *path)
    name = ".".join(map(str, path))
    return Declared(labelled(part, path), value, where, part.source, place.name, name=name)


def labelled(thing: Part | Platform | Build, path: FieldPath) -> Words:
    """A field of a definition, named with its owner."""
    return of_thing(thing.name, field_words(type(thing), path))


def of_thing(thing: str, what: Words) -> Words:
    """Something of what has a name in the project."""
    return say("{thing}: {what}", thing=thing, what=what)


def fields_of(
    found: Iterable[tuple[Place, Part]], *path: str | int
) -> tuple[tuple[Any, ...], Callable[[], Trail]]:
    """The field at `path` of several parts, silent ones left out, and a leaf for each part."""
    read = [(place, part, _value(part, path)) for place, part in found]
    values = tuple(value for _, _, value in read if value is not None)
    return values, partial(_leaves, read, path)


def fit_leaf(place: Place) -> Declared:
    """What sits in a position, at the line that put it there."""
    part = place.part or place.closed_by
    what = part.name if part is not None else STATE[place.state]
    return Declared(say("fitted"), what, lambda: place.at, subject=place.name, name="fitted")


def position_leaf(place: Place, value: Any = None) -> Declared:
    """A position as its bringer declares it."""
    return Declared(
        say("position"), value or say("there"), lambda: place.declared_at, subject=place.name
    )


def _leaves(found: list[tuple[Place, Part, Any]], path: FieldPath) -> Trail:
    return tuple(leaf(place, part, path, value) for place, part, value in found)


def fit_leaves(places: Iterable[Place]) -> Trail:
    """What sits in each of several positions."""
    return tuple(fit_leaf(place) for place in places)


def position_leaves(places: Iterable[Place]) -> Trail:
    """Several positions, each with its state."""
    return tuple(position_leaf(place, STATE[place.state]) for place in places)


@frozen
class Each:
    """The same field of every fitted part of a kind, as a tuple; silent parts are left out, and
    named where all are silent.

    With `strict`, one silent part among those that have the field's parent gives no value: a sum
    with a hole in it is not a sum.
    """

    kind: type[Part]
    path: FieldPath
    when: Chooser | None = None
    strict: bool = False

    @property
    def model(self) -> type[Part]:
        return self.kind

    def read(self, context: Context) -> tuple[Any, Rests]:
        values = []
        found: list[tuple[Place, Part, Any]] = []
        silent: list[tuple[Place, Part, Any]] = []
        hole = False
        for place, part in context.chosen(self.kind, self.when):
            value = _value(part, self.path)
            if value is None:
                if not self.strict:
                    silent.append((place, part, None))
                elif _value(part, self.path[:-1]) is not None:
                    hole = True
                    found.append((place, part, None))
                continue
            values.append(value)
            found.append((place, part, value))
        return (None if hole else tuple(values)), partial(_leaves, found or silent, self.path)


@frozen
class Fitted:
    """The positions that hold a part of a kind, as a tuple of `Place`."""

    kind: type[Part]
    when: Chooser | None = None

    def read(self, context: Context) -> tuple[Any, Rests]:
        places = tuple(place for place, _ in context.chosen(self.kind, self.when))
        return places, partial(fit_leaves, places)


@frozen
class SubjectField:
    """A field of the part in the position that the subject names."""

    path: FieldPath

    def read(self, context: Context) -> tuple[Any, Rests]:
        place = context.place()
        if place is None or place.part is None:
            return None, ()
        value = _value(place.part, self.path)
        return value, partial(_leaves, [(place, place.part, value)], self.path)


@frozen
class PlatformField:
    """A field of the platform."""

    path: FieldPath

    @property
    def model(self) -> type[Platform]:
        return Platform

    def read(self, context: Context) -> tuple[Any, Rests]:
        platform = context.assembly.platform
        value = _value(platform, self.path)
        return value, partial(self._leaf, platform, value)

    def _leaf(self, platform: Platform, value: Any) -> Trail:
        where = partial(platform.origin.place, *self.path)
        return (
            Declared(
                labelled(platform, self.path),
                value,
                where,
                platform.source,
                name=".".join(map(str, self.path)),
            ),
        )


CONDITION_WORDS: Mapping[str, Message] = {
    "line": say("line voltage"),
    "inlet": say("inlet temperature"),
    "line_type": say("type of line"),
    "redundancy": say("PSU redundancy"),
    "rise": say("temperature rise of the air"),
    "circuit": say("rating of the branch circuit"),
    "circuit_rule": say("rule for branch circuits"),
    "per_rack": say("servers in a rack"),
    "rack_units": say("height of the rack in rack units"),
    "rack_opening": say("clear width of the rack"),
    "rack_load_rating": say("load rating of the rack"),
    "floor_load_rating": say("load rating of the floor"),
}


@frozen
class Condition:
    """A condition: from the build, else the platform, else the project."""

    name: str
    optional: bool = False
    """Whether a calculator is called all the same where nobody states it."""

    @property
    def model(self) -> type[Conditions]:
        return Conditions

    @property
    def path(self) -> FieldPath:
        return (self.name,)

    def read(self, context: Context) -> tuple[Any, Rests]:
        value = getattr(context.assembly.conditions, self.name)
        span = context.assembly.conditions_at.get(self.name)
        if value is None or span is None:
            return None, partial(self._leaf, None, Origin().at())
        return value, partial(self._leaf, value, span)

    def _leaf(self, value: Any, span: Span) -> Trail:
        if isinstance(value, Redundancy):
            value = value.text if value.spare else NONE
        return (Declared(self.label, value, lambda: span, name=self.name),)

    @property
    def label(self) -> Words:
        return CONDITION_WORDS.get(self.name) or field_words(Conditions, self.path)


@frozen
class Optionally:
    """An input that may have no value; of one that has none nothing is said."""

    input: Input
    optional: bool = True

    @property
    def needs(self) -> frozenset[str]:
        return needs_of(self.input)

    def read(self, context: Context) -> tuple[Any, Rests]:
        value, rests = self.input.read(context)
        return value, () if value is None else rests


@frozen
class Assumption:
    """A value that the project takes for granted, by its field in `Assumptions`."""

    name: str
    optional: bool = False
    """Whether a calculator is called all the same where the project does not declare it."""

    @property
    def label(self) -> Words:
        return field_words(Assumptions, (self.name,))

    def read(self, context: Context) -> tuple[Any, Rests]:
        project = context.assembly.definitions.project
        taken = getattr(project.assumptions, self.name)
        label = self.label
        where = partial(project.origin.place, "assumptions", self.name)
        if taken is None:
            return None, (Declared(label, None, where, assumed=True, name=self.name),)
        because = taken.because or ""
        return taken.value, (
            Declared(
                label,
                taken.value,
                where,
                taken.source,
                assumed=True,
                because=because,
                name=self.name,
            ),
        )


@frozen
class Inspected:
    """Something read off the assembly's structure by a function of its own."""

    look: Callable[[Assembly, str], tuple[Any, Rests]]

    def read(self, context: Context) -> tuple[Any, Rests]:
        key = (self.look, context.subject)
        if key not in context.seen:
            context.seen[key] = self.look(context.assembly, context.subject)
        return context.seen[key]


def each(kind: type[Part], *path: str | int, when: Chooser | None = None) -> Each:
    """The field at `path` of every fitted part of a kind."""
    return Each(kind, path, when)


def every(kind: type[Part], *path: str | int, when: Chooser | None = None) -> Each:
    """As `each`, but without a value where one part is silent."""
    return Each(kind, path, when, strict=True)


def of(*path: str | int) -> SubjectField:
    """A field of the part in the subject's position."""
    return SubjectField(path)


def platform(*path: str | int) -> PlatformField:
    """A field of the platform."""
    return PlatformField(path)
