"""Volumes as the build states them: their settings, their drives, what the drives declare."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Context, leaf
from specgen.frozen import frozen
from specgen.model import Drive, Volume, expand
from specgen.model.pedigree import FieldPath


def volume_named(assembly: Assembly, name: str) -> tuple[int, Volume]:
    """A volume of the build and where in its list it stands."""
    assert assembly.build is not None
    return next(
        (index, volume)
        for index, volume in enumerate(assembly.build.volumes)
        if volume.name == name
    )


def setting_leaf(assembly: Assembly, name: str, field: str) -> Declared:
    """A field of a volume, at the line of the build that states it."""
    index, volume = volume_named(assembly, name)
    assert assembly.build is not None
    where = partial(assembly.build.origin.place, "volumes", index, field)
    return Declared(f"{name}: {field}", getattr(volume, field), where)


def drives_of(assembly: Assembly, name: str, field: str) -> Iterator[tuple[Place, Drive]]:
    """The drives that a volume names as members (`drives`) or as `spares`, where one is fitted."""
    _, volume = volume_named(assembly, name)
    for text in getattr(volume, field):
        for member in expand(text):
            place = assembly.places.get(member)
            if place is not None and place.filled and isinstance(place.part, Drive):
                yield place, place.part


@frozen
class Setting:
    """A field of the volume in hand."""

    field: str

    @property
    def model(self) -> type[Volume]:
        return Volume

    @property
    def path(self) -> FieldPath:
        return (self.field,)

    def read(self, context: Context) -> tuple[Any, Trail]:
        _, volume = volume_named(context.assembly, context.subject)
        value = getattr(volume, self.field)
        return value, (setting_leaf(context.assembly, context.subject, self.field),)


@frozen
class OfMembers:
    """A field of each drive of the volume in hand, as a tuple.

    A silent drive gives no value: the slowest of drives is not known while one does not say.
    """

    field: str
    among: str = "drives"

    @property
    def model(self) -> type[Drive]:
        return Drive

    @property
    def path(self) -> FieldPath:
        return (self.field,)

    def read(self, context: Context) -> tuple[Any, Rests]:
        key = (self, context.subject)
        if key not in context.seen:
            context.seen[key] = self._read(context)
        return context.seen[key]

    def _read(self, context: Context) -> tuple[tuple[Any, ...] | None, Trail]:
        values, trail = [], [setting_leaf(context.assembly, context.subject, self.among)]
        for place, drive in drives_of(context.assembly, context.subject, self.among):
            value = getattr(drive, self.field)
            values.append(value)
            trail.append(leaf(place, drive, (self.field,), value))
        return (None if None in values else tuple(values)), tuple(trail)
