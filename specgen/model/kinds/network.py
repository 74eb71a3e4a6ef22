"""Adapters, their ports, transceivers, and the management controller."""

from typing import ClassVar, Literal

from specgen.model.fields import (
    Names,
    Text,
    YesNo,
    record,
)
from specgen.model.part import Card, Part
from specgen.quantity import (
    DataRate,
    Length,
)


@record
class EthernetPort:
    """Ports of an adapter: `PORT 1..2`, their speed and what plugs in."""

    name: Names
    speed: DataRate
    connector: Literal["rj45", "sfp+", "sfp28", "sfp56", "qsfp28", "qsfp56", "qsfp-dd", "osfp"]
    medium: Literal["copper", "fibre", "cage"]
    management: YesNo = False
    shared: YesNo = False
    """Whether the management controller can be reached through it as well."""


@record
class NetworkAdapter(Card):
    kind: ClassVar[str] = "network-adapter"
    title: ClassVar[str] = "Network adapter"
    plural: ClassVar[str] = "Network adapters"
    subsystem: ClassVar[str] = "network"

    ethernet: tuple[EthernetPort, ...]


@record
class Transceiver(Part):
    kind: ClassVar[str] = "transceiver"
    title: ClassVar[str] = "Transceiver"
    plural: ClassVar[str] = "Transceivers"
    subsystem: ClassVar[str] = "network"

    form: Text
    speed: DataRate
    medium: Literal["copper", "fibre"]
    reach: Length | None = None
    laser_class: Text | None = None


@record
class ManagementController(Part):
    """The baseboard management controller, with its own network port where it has one."""

    kind: ClassVar[str] = "management-controller"
    title: ClassVar[str] = "Management controller"
    plural: ClassVar[str] = "Management controllers"
    subsystem: ClassVar[str] = "board"

    form: Text = "board"
    ethernet: tuple[EthernetPort, ...] = ()
    video: Text | None = None
    interfaces: tuple[Text, ...] = ()
