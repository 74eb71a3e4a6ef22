"""A platform: a chassis with its board, and what can go into it."""

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated, Literal

from specgen.model.conditions import ANYWHERE, Conditions, FeedName
from specgen.model.fields import (
    Id,
    Many,
    NameRange,
    Positive,
    Ref,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import Called
from specgen.model.part import Draw, Size
from specgen.model.pedigree import Origin, Revision, Source, Unwritten
from specgen.model.position import Area, Lead, Outline, Position, PowerConnector, offered
from specgen.model.rule import Rule
from specgen.quantity import Length, Mass, TransferRate

AlikeField = Literal["capacity", "speed", "ranks", "device_width", "maker", "model"]
AlikeWithin = Literal["channel", "processor", "system"]


@record
class Fixture:
    """Something built in that takes no part: a button, an indicator, a connector, a label."""

    name: Text
    area: Area
    outline: Outline | None = None
    what: Text
    note: Text | None = None
    count: Positive = 1


@record
class Cover:
    """What is opened or lifted out to reach positions and takes no part: a top cover, a baffle.

    `over` names positions, kinds of part, other covers, or a side, all that lies on it: `inside`.
    """

    name: Text
    over: Many[Text]
    number: Annotated[Text | None, Called(noun="order number")] = None
    fastener: Text | None = None
    """What holds it: a latch, two captive screws."""
    tool: Many[Ref] = ()
    """The tools that it takes, by their names under `tools` of specgen.yaml."""
    open: Text | None = None
    """How it is opened or lifted out, a sentence."""
    close: Text | None = None
    """How it is put back, a sentence."""


@record
class Population:
    """The order in which alike positions are filled, and the numbers that give a balanced set.

    `order` lists positions, first to last; `balanced` the counts that spread evenly.
    """

    of: Text | None = None
    order: tuple[NameRange, ...]
    balanced: tuple[Positive, ...] = ()


@record
class Platform:
    """A chassis with its board. Its first positions are here; parts bring the rest."""

    id: Annotated[Id, Called(noun="model")]
    name: Text
    like: Annotated[Ref | None, Called("Taken over from")] = field(default=None, compare=False)
    """The platform that this one takes over, but for what is said here. What tells of one alone
    (`number`, `history`, `shown`) is not taken over."""
    without: Many[Text] = field(default=(), compare=False)
    """What is not taken over: fields, or what is in them: `positions.SLOT 2`, `power.idle`."""
    family: Ref
    source: Source
    number: Annotated[Text | None, Called(noun="order number")] = None
    history: tuple[Revision, ...] = ()
    summary: Text
    suitable_for: tuple[Text, ...] = ()
    limitations: tuple[Text, ...] = ()
    shown: Annotated[Ref | None, Called("Build in the pictures")] = None
    """The build in pictures of the platform; else its first published one without errors."""
    documents: Many[Text] = ("guide",)
    """Documents about it that the site publishes beside its page: `[guide, service-guide]`."""
    alternatives: Many[NameRange] = ()
    """Positions of which the guide shows what goes in side by side: `[FRONT, RISER]`."""
    rack_units: Annotated[Positive, Called(noun="height in rack units")]
    """Of one server."""
    size: Size
    mass: Annotated[Mass, Called("Weight", "weight")]
    """Of the chassis with its board, nothing fitted."""
    body_width: Length | None = None
    """Width of what goes between the posts of a rack, rails with it: without the ears in front."""
    power: Draw | None = None
    """Of the board and all that is built in, behind the power supplies."""
    operating_class: Literal["A1", "A2", "A3", "A4"]
    """Of ASHRAE TC 9.9; the upper limit falls from 900 m up, by the class."""
    regulated_as: Literal[
        "server", "blade", "multi-node", "resilient", "high-performance", "integrated-accelerator"
    ] = "server"
    """What it is to Regulation (EU) 2019/424; the last three have no limit of idle power."""
    year: Positive | None = None
    """Year of manufacture."""
    deletion: Text | None = None
    """How data is deleted securely, or the document that says it."""
    memory_speed: Mapping[Positive, TransferRate] = field(default_factory=dict)
    """Highest rate that the board allows, by modules on a channel."""
    memory_speed_by_ranks: Mapping[Positive, TransferRate] = field(default_factory=dict)
    """The same by ranks on a channel."""
    memory_apart: Annotated[YesNo, Called("Memory speed per processor")] = False
    """Whether the memory of each processor runs at a rate of its own, rather than all at one."""
    memory_alike: Mapping[AlikeField, AlikeWithin] = field(default_factory=dict)
    """In what memory modules must not differ, and within what: `ranks: channel`. What is not
    named may be mixed; form factor and error correction never are."""
    positions: tuple[Position, ...]
    leads: Mapping[Text, Lead] = field(default_factory=dict)
    """Connectors on the board that a cable's far end can go to: `EDGE 1: {from: CPU1.P3, …}`."""
    resources: Mapping[Text, Positive] = field(default_factory=dict)
    """How much there is of what parts need by name."""
    connectors: tuple[PowerConnector, ...] = ()
    feeds: Mapping[FeedName, Many[NameRange]] = field(default_factory=dict)
    """Which supplies are on which feed, where conditions state feeds: `A: PSU 1..2`. Those that
    neither build nor platform names go to the feed with the fewest, so in turn."""
    population: tuple[Population, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    covers: tuple[Cover, ...] = ()
    """What is opened before positions are reached, outermost first."""
    lists: Many[Ref] = ()
    rules: tuple[Rule, ...] = ()
    conditions: Conditions = ANYWHERE
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)

    @property
    def offered(self) -> Mapping[str, int]:
        """How much of each resource the board offers, that of its connectors among it."""
        return offered(self.resources, self.connectors)
