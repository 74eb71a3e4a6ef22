"""Volumes as the build states them: their settings, their drives, what the drives declare."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Context, leaf, of_thing
from specgen.facts.terms import closed_word
from specgen.frozen import frozen
from specgen.messages import AsWritten, Message, listed, say
from specgen.model import Drive, Volume, expand
from specgen.model.labels import field_words
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
    return Declared(of_thing(name, field_words(Volume, (field,))), getattr(volume, field), where)


def drives_of(assembly: Assembly, name: str, field: str) -> Iterator[tuple[Place, Drive]]:
    """The drives that a volume names as members (`drives`) or as `spares`, where one is fitted."""
    _, volume = volume_named(assembly, name)
    for text in getattr(volume, field):
        for member in expand(text):
            place = assembly.places.get(member)
            if place is not None and place.filled and isinstance(place.part, Drive):
                yield place, place.part


def cannot_stand_by(spare: Drive, members: Sequence[Drive], level: int) -> Message | None:
    """Why a drive cannot take the place of a failed member, in words that end a sentence.

    It must hold what the smallest member counts with, and be of a medium and interface that the
    controller has in the volume already.  # common practice, no source
    """
    if level == 0:
        return say("RAID 0 keeps nothing that could be rebuilt")
    least = min((drive.capacity for drive in members), default=None)
    if least is not None and spare.capacity < least:
        return say(
            "it holds {spare}, and each member counts with {member}",
            spare=AsWritten(spare.capacity),
            member=AsWritten(least),
        )
    for field in ("interface", "medium"):
        found = {getattr(drive, field) for drive in members}
        own = getattr(spare, field)
        if found and own not in found:
            return say(
                "it is {spare}, and the members are {members}",
                spare=closed_word(own),
                members=listed([closed_word(each) for each in sorted(found)]),
            )
    return None


def standing_by(assembly: Assembly, name: str) -> Iterator[tuple[Place, Drive]]:
    """The hot spares of a volume that could take a member's place; the others are none."""
    members = [drive for _, drive in drives_of(assembly, name, "drives")]
    _, volume = volume_named(assembly, name)
    for place, drive in drives_of(assembly, name, "spares"):
        if cannot_stand_by(drive, members, volume.level) is None:
            yield place, drive


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
