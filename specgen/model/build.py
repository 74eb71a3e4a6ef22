"""A build: a platform with parts in positions, volumes and conditions."""

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated, Any, Literal

from specgen.model.conditions import ANYWHERE, Conditions, FeedName
from specgen.model.fields import (
    Count,
    Day,
    Id,
    Many,
    NameRange,
    Number,
    Positive,
    Ref,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import Called
from specgen.model.markers import Before, Short
from specgen.model.part import NoiseEdition
from specgen.model.pedigree import Origin, Revision, Source, Unwritten
from specgen.quantity import Power, SoundPower


@record
class Fill:
    """The part in a position, and for a cable the port its far end goes to."""

    part: Ref
    to: Text | None = None


def _fill(value: Any) -> Any:
    return {"part": value} if isinstance(value, str) else value


FillField = Annotated[Fill, Before(_fill), Short({"type": "string"})]


MemoryMode = Literal["independent", "mirrored", "spare-rank"]


@record
class Volume:
    """Drives joined at a RAID level; `groups` is the number of sets striped over at 50 and 60."""

    name: Text
    level: Count
    """RAID 0, 1, 5, 6, 10, 50 or 60."""
    drives: Many[NameRange]
    """Its members; each counts with the capacity of the smallest."""
    spares: Many[NameRange] = ()
    """Hot spares; several volumes may name the same one."""
    groups: Positive = 2
    """At RAID 50 and 60: sets that the volume is striped over."""


@record
class Allowance:
    """A warning that was decided on: not shown as open any more, and why."""

    code: Text
    reason: Text


@record
class Measured:
    """What was measured on a system configured so, and the report of it.

    `of` is a digest of the parts that were measured, as `specgen check` tells it: of a build with
    other parts it is no measurement.
    """

    source: Source
    of: Text | None = None
    idle: Annotated[Power | None, Called("Idle power")] = None
    """At the cords, not behind the power supplies."""
    idle_warm: Annotated[Power | None, Called("Idle power at the class's upper temperature")] = None
    """At the upper temperature of the operating class."""
    maximum: Annotated[Power | None, Called("Maximum power")] = None
    """At the cords."""
    performance: Annotated[Number | None, Called("Performance of the processors")] = None
    """Of the processors, as the test of the active state gives it."""
    efficiency: Annotated[Number | None, Called("Active state efficiency")] = None
    """Of the active state, Regulation (EU) 2019/424."""
    noise: Annotated[SoundPower | None, Called("Sound power")] = None
    noise_edition: Annotated[NoiseEdition | None, Called("Sound power declared by")] = None
    noise_adder: Annotated[SoundPower | None, Called("Statistical adder Kv")] = None
    """Sound power that is declared for the system as a whole, and by which edition."""


@record
class Build:
    """One configured system."""

    id: Id
    name: Text
    like: Annotated[Ref | None, Called("Taken over from")] = field(default=None, compare=False)
    """The build that this one takes over, but for what is said here. What tells of one alone
    (`number`, `date`, `allow` and so on) is not taken over."""
    without: Many[Text] = field(default=(), compare=False)
    """What is not taken over: fields, or what is in them: `fit.BAY 0..3`, `volumes.Data`."""
    platform: Ref
    summary: Text
    suitable_for: tuple[Text, ...] = ()
    number: Text | None = None
    revision: Text = ""
    date: Day | None = None
    history: tuple[Revision, ...] = ()
    published: YesNo = True
    conditions: Conditions = ANYWHERE
    fit: Mapping[NameRange, FillField]
    feeds: Mapping[FeedName, Many[NameRange]] = field(default_factory=dict)
    """Which supplies are on which feed; it goes before what the platform says."""
    volumes: tuple[Volume, ...] = ()
    measured: Measured | None = None
    memory_mode: MemoryMode | None = None
    """How modules stand in for one another; independent where nothing is said."""
    allow: tuple[Allowance, ...] = ()
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)
