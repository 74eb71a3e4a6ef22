"""Traits: what parts of several kinds have in common, and what calculators and checks ask for.

A kind inherits from as many as it has. Whoever asks for a trait gets every kind that has it, those
too that a project declares; whoever asks for a kind gets that one alone.
"""

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Final, Literal

from specgen.model.fields import (
    Count,
    Lanes,
    Many,
    NameRange,
    Positive,
    Text,
    YesNo,
    record,
    trait,
)
from specgen.model.labels import FORM, Called
from specgen.model.part import Part
from specgen.model.position import CardHeight, CardLength, Interface, Swap
from specgen.quantity import DataRate, DataSize, Power, VolumeFlow


@trait
class DrawsPower(Part):
    """Every part of the kind draws power: one that does not say how much is missed in the sums."""

    __slots__ = ()


@trait
class ClosesPosition(Part):
    """It only closes a position, which then counts as empty."""

    __slots__ = ()
    closes: ClassVar[bool] = True


@trait
class HasLink(Part):
    """It is reached over lanes: how many it uses, at what generation."""

    __slots__ = ()
    lanes: Annotated[Lanes | None, Called("Lanes used", "number of lanes used")] = None
    generation: Annotated[Positive | None, Called("PCIe generation")] = None


@trait
class Card(HasLink):
    """It sits on an expansion card or module: what it needs of its slot."""

    __slots__ = ()
    form: Annotated[Text, FORM] = "card"
    height: Annotated[CardHeight | None, Called("Bracket height")] = None
    length: CardLength | None = None
    connector: Annotated[Lanes | None, Called("Connector")] = None
    places: Annotated[Positive, Called("Slots it covers", "width in slots")] = 1


@trait
class Swappable(Part):
    """It is replaced while the system runs (`hot`) or with the power off (`cold`)."""

    __slots__ = ()
    swap: Annotated[Swap | None, Called("Swap type")] = None


@trait
class Stores(Part):
    """It stores data: how much, and over which protocol."""

    __slots__ = ()
    capacity: DataSize
    """As it is sold: `3.84 TB` is 3.84 x 1000^4 bytes, `1 TiB` 1024^4."""
    interface: Interface


@trait
class Carries(Part):
    """It is taken out with what sits in the positions that it brings; these are reached then."""

    __slots__ = ()


@trait
class Connects(Part):
    """It is a cable or a cord: disconnected before what it leads to is taken out."""

    __slots__ = ()


@record
class EthernetPort:
    """Ports of an adapter: `PORT 1..2`, their speed and what plugs in."""

    name: NameRange
    speed: DataRate
    """Line rate of one port, one way."""
    connector: Literal[
        "rj45", "sfp+", "sfp28", "sfp56", "sfp112",
        "qsfp28", "qsfp56", "qsfp112", "qsfp-dd", "qsfp-dd800", "osfp",
    ]  # fmt: skip
    medium: Literal["copper", "fibre", "pluggable"]
    management: YesNo = False
    """Whether it leads to the management controller alone."""
    shared: YesNo = False
    """Whether the management controller can be reached through it as well."""


@trait
class HasEthernet(Part):
    """It has Ethernet ports."""

    __slots__ = ()
    ethernet: tuple[EthernetPort, ...] = ()


@trait
class Cools(Part):
    """It takes the heat of what sits in the position that its own position cools."""

    __slots__ = ()
    tdp_limit: Annotated[Power | None, Called("Cools up to", "cooling limit")] = None


@trait
class MovesAir(Part):
    """It moves air through the system."""

    __slots__ = ()
    airflow: VolumeFlow | None = None
    """Of one, at its greatest speed and as it works in the server."""


READ_BY_NAME: Final[Mapping[str, Any]] = {
    "connector": Lanes,
    "ethernet": tuple[EthernetPort, ...],
    "form": Text,
    "generation": Positive,
    "height": CardHeight,
    "interface": Interface,
    "lanes": Lanes,
    "length": CardLength,
    "raid": Many[Count],
    "socket": Text,
    "swap": Swap,
    "tdp": Power,
    "tdp_limit": Power,
}
"""Fields that positions and checks ask any part for, whatever its kind, and what they hold.

A kind that has one under another meaning would be taken for something else.
"""
