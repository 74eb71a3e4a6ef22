"""What every part has, whatever its kind."""

import re
from collections.abc import Mapping
from dataclasses import field
from datetime import date
from typing import Annotated, ClassVar, Literal

from specgen.messages import Message, Words
from specgen.model.fields import Count, Day, Id, Many, NameRange, Ref, Text, record
from specgen.model.labels import Called
from specgen.model.pedigree import Origin, Source, Unwritten
from specgen.model.position import NOTHING, Brings, Need
from specgen.model.rule import Rule
from specgen.quantity import Length as Distance
from specgen.quantity import Mass, Power, SoundPower, Temperature

NoiseEdition = Literal["ISO 9296:1988", "ISO 9296:2017"]
"""The one declares a statistical maximum, LWAd, the other a mean, LWA,m: they are not compared."""


@record
class Draw:
    """Power a part draws at the supplies' output; never less when it works harder."""

    idle: Annotated[Power | None, Called("Idle power")] = None
    """Switched on and without work. All three are of one part, behind the power supplies: their
    own losses come on top."""
    typical: Annotated[Power | None, Called("Typical power")] = None
    """At a usual mix of work: energy and cost of a year are worked out from it."""
    maximum: Annotated[Power, Called("Maximum power")]
    """The most it draws; sums take every part at its maximum at the same moment."""


@record
class Size:
    """Outer measures."""

    width: Annotated[Distance, Called("Width")]
    height: Annotated[Distance, Called("Height")]
    depth: Annotated[Distance, Called("Depth")]


LifeStatus = Literal["planned", "active", "last-time-buy", "discontinued"]


@record
class Life:
    """Whether a part can be ordered, and what takes its place.

    `since` is the day from which the status holds; `introduced` the first day on which the part
    can be ordered, `last_time_buy` the last one.
    """

    status: Annotated[LifeStatus, Called(noun="status")] = "active"
    since: Day | None = None
    introduced: Day | None = None
    last_time_buy: Annotated[Day | None, Called("Last-time buy")] = None
    replaced_by: Ref | None = None

    def on(self, day: date | None) -> LifeStatus:
        """The status on a day; the one declared where no day is known."""
        if day is None:
            return self.status
        if self.last_time_buy is not None and self.last_time_buy < day:
            return "discontinued"
        if self.introduced is not None and day < self.introduced:
            return "planned"
        if self.since is not None and day < self.since:
            return _BEFORE[self.status]
        return self.status


_BEFORE: Mapping[LifeStatus, LifeStatus] = {
    "planned": "planned",
    "active": "planned",
    "last-time-buy": "active",
    "discontinued": "last-time-buy",
}
"""The status of a part until the day from which the one declared holds."""


ACTIVE = Life()


@record
class EarlierPart:
    """What a part was before: the order number and the revision that it had, and the last day on
    which it was delivered so."""

    number: Annotated[Text | None, Called(noun="order number")] = None
    revision: Text | None = None
    until: Day | None = None


@record
class Part:
    """Something that can be ordered. Each kind is a subclass; its fields are its data sheet."""

    kind: ClassVar[str] = ""
    title: ClassVar[str] = ""
    plural: ClassVar[str] = ""
    subsystem: ClassVar[str] = "other"
    """The part of the system whose power and price it counts towards."""
    closes: ClassVar[bool] = False
    """Whether it only closes a position, which then counts as empty."""
    outside: ClassVar[bool] = False
    """Whether it lies outside of the chassis, whatever the side of its position."""
    choose_by: ClassVar[tuple[str, ...]] = ()
    """What one chooses a part by: fields, or `power.maximum` for one within a field."""
    listed_with: ClassVar[tuple[str, ...]] = ()
    """What parts lists say of a part behind its name; written as in `choose_by`."""
    compared_by: ClassVar[tuple[str, ...]] = ()
    """What comparisons of builds say of the parts of the kind; written as in `choose_by`."""
    boxed: ClassVar[bool] = False
    """Whether a topology shows the positions that take it even where no lanes are wired to them."""
    counted: ClassVar[bool] = False
    """Whether platforms are compared by how many positions take it."""

    own: ClassVar[bool] = False
    """Whether a project declares the kind: its words are the project's then, and no messages."""

    @classmethod
    def named(cls) -> Words:
        """The kind as pages name it."""
        return cls.title if cls.own else Message(cls.title)

    @classmethod
    def named_many(cls) -> Words:
        """Several of the kind."""
        return cls.plural if cls.own else Message(cls.plural)

    @classmethod
    def collection(cls) -> str:
        """What rules call all parts of the kind: `memory_modules`."""
        return cls.collection_of(cls.plural)

    @staticmethod
    def collection_of(plural: str) -> str:
        """The same for a kind that is called so: `io_modules` for I/O modules."""
        return re.sub(r"[\s-]+", "_", re.sub(r"[^\w\s-]", "", plural.lower()))

    id: Annotated[Id, Called(noun="model")]
    name: Text
    source: Source
    number: Annotated[Text | None, Called(noun="order number")] = None
    maker: Text | None = None
    summary: Text | None = None
    mass: Annotated[Mass | None, Called("Weight", "weight")] = None
    """Of one, without what is fitted in it."""
    size: Size | None = None
    power: Draw | None = None
    noise: Annotated[SoundPower | None, Called("Sound power")] = None
    """Declared A-weighted sound power: the statistical maximum LWAd in ISO 9296:1988, the mean
    LWA,m in ISO 9296:2017."""
    noise_edition: Annotated[NoiseEdition | None, Called("Sound power declared by")] = None
    noise_adder: Annotated[SoundPower | None, Called("Statistical adder Kv")] = None
    """Kv of ISO 9296:2017, which added to the mean gives the upper limit LWA,c."""
    inlet_limit: Annotated[Temperature | None, Called("Maximum inlet temperature")] = None
    """The warmest air at the inlet of the server that it stands, at any altitude."""
    brings: Brings = NOTHING
    needs: tuple[Need, ...] = ()
    blocks: Many[NameRange] = ()
    rules: tuple[Rule, ...] = ()
    """Rules of every system that holds it; `it` in them is this part."""
    key: Many[Text] = ()
    life: Life = ACTIVE
    earlier: tuple[EarlierPart, ...] = ()
    """What it was before, with another number or revision: pictures and texts may still show it."""
    price: Count | None = None
    """Of one, a whole number in one currency: the cheapest of several builds is found by it."""
    attributes: Mapping[Text, Text] = field(default_factory=dict)
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)
