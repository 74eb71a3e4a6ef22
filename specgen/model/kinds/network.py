"""Adapters, their ports, transceivers, and the management controller."""

from typing import Annotated, ClassVar, Literal

from specgen.model.fields import Text, record
from specgen.model.labels import FORM
from specgen.model.part import Part
from specgen.model.traits import Card, DrawsPower, EthernetPort, HasEthernet
from specgen.quantity import (
    DataRate,
    Length,
)


@record
class NetworkAdapter(Card, HasEthernet, DrawsPower):
    kind: ClassVar[str] = "network-adapter"
    title: ClassVar[str] = "Network adapter"
    plural: ClassVar[str] = "Network adapters"
    subsystem: ClassVar[str] = "network"
    choose_by: ClassVar[tuple[str, ...]] = ("lanes", "generation", "power.maximum")
    boxed: ClassVar[bool] = True
    counted: ClassVar[bool] = True

    ethernet: tuple[EthernetPort, ...]


@record
class Transceiver(Part):
    kind: ClassVar[str] = "transceiver"
    title: ClassVar[str] = "Transceiver"
    plural: ClassVar[str] = "Transceivers"
    subsystem: ClassVar[str] = "network"
    choose_by: ClassVar[tuple[str, ...]] = ("form", "speed", "medium", "reach", "laser_class")

    form: Annotated[Text, FORM]
    speed: DataRate
    """Line rate, one way; a port with it runs at the lesser of both."""
    medium: Literal["copper", "fibre"]
    reach: Length | None = None
    """Over the fibre or cable that it is made for."""
    laser_class: Text | None = None


@record
class ManagementController(HasEthernet):
    """The baseboard management controller, with its own network port where it has one."""

    kind: ClassVar[str] = "management-controller"
    title: ClassVar[str] = "Management controller"
    plural: ClassVar[str] = "Management controllers"
    subsystem: ClassVar[str] = "board"

    form: Annotated[Text, FORM] = "board"
    video: Text | None = None
    interfaces: tuple[Text, ...] = ()
