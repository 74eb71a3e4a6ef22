"""What every part has, whatever its kind."""

from collections.abc import Mapping
from dataclasses import field
from typing import ClassVar, Literal

from specgen.model.fields import Count, Day, Id, Lanes, Many, Names, Positive, Text, record
from specgen.model.pedigree import Origin, Source, Unwritten
from specgen.model.position import NOTHING, Brings, Height, Length, Need
from specgen.model.rule import Rule
from specgen.quantity import Length as Distance
from specgen.quantity import Mass, Power, SoundPower, Temperature


@record
class Draw:
    """Power a part draws at the supplies' output; never less when it works harder."""

    idle: Power | None = None
    typical: Power | None = None
    maximum: Power


@record
class Size:
    """Outer measures."""

    width: Distance
    height: Distance
    depth: Distance


@record
class Life:
    """Whether a part can be ordered, and what takes its place."""

    status: Literal["planned", "active", "last-order", "withdrawn"] = "active"
    since: Day | None = None
    replaced_by: Id | None = None


ACTIVE = Life()


@record
class Part:
    """Something that can be ordered. Each kind is a subclass; its fields are its data sheet."""

    kind: ClassVar[str] = ""
    title: ClassVar[str] = ""
    plural: ClassVar[str] = ""
    subsystem: ClassVar[str] = "other"
    """The part of the machine whose power and price it counts towards."""
    closes: ClassVar[bool] = False
    """Whether it only closes a position, which then counts as empty."""

    id: Id
    name: Text
    source: Source
    number: Text | None = None
    maker: Text | None = None
    summary: Text | None = None
    mass: Mass | None = None
    size: Size | None = None
    power: Draw | None = None
    noise: SoundPower | None = None
    """Declared A-weighted sound power: the statistical maximum LWAd in ISO 9296:1988, the mean
    LWA,m in ISO 9296:2017."""
    noise_edition: Literal["ISO 9296:1988", "ISO 9296:2017"] | None = None
    noise_adder: SoundPower | None = None
    """Kv of ISO 9296:2017, which added to the mean gives the upper limit LWA,c."""
    inlet_limit: Temperature | None = None
    brings: Brings = NOTHING
    needs: tuple[Need, ...] = ()
    blocks: Many[Names] = ()
    rules: tuple[Rule, ...] = ()
    """Rules of every machine that holds it; `it` in them is this part."""
    key: Many[Text] = ()
    life: Life = ACTIVE
    price: Count | None = None
    attributes: Mapping[Text, Text] = field(default_factory=dict)
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


@record
class Card(Part):
    """A part on an expansion card or module: what it needs of its slot."""

    form: Text = "card"
    height: Height | None = None
    length: Length | None = None
    connector: Lanes | None = None
    lanes: Lanes | None = None
    generation: Positive | None = None
    places: Positive = 1
