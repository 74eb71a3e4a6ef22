"""Supplies, cords, fans and heat sinks."""

from typing import Annotated, ClassVar

from specgen.model.fields import (
    Fraction,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import Called
from specgen.model.markers import Bounds
from specgen.model.part import Part
from specgen.model.position import CardHeight, Swap
from specgen.model.traits import ClosesPosition, Cools, DrawsPower, MovesAir, Swappable
from specgen.quantity import (
    Current,
    Length,
    Power,
    Voltage,
)


@record
class EfficiencyPoint:
    """Efficiency and power factor of a supply at a share of its rated load."""

    load: Fraction
    efficiency: Annotated[Fraction, Bounds(gt=0)]
    power_factor: Annotated[Fraction, Bounds(gt=0)] | None = None


@record
class SupplyOutput:
    """Output of a supply over a range of line voltage.

    `curve` is measured in this range, with loads as shares of this output; where it is empty the
    supply's own curve stands for it.
    """

    from_: Voltage
    to: Voltage
    output: Power
    curve: tuple[EfficiencyPoint, ...] = ()


@record
class PowerSupply(Swappable):
    kind: ClassVar[str] = "power-supply"
    title: ClassVar[str] = "Power supply"
    plural: ClassVar[str] = "Power supplies"
    choose_by: ClassVar[tuple[str, ...]] = ("form", "inlet", "swap", "input_current")
    counted: ClassVar[bool] = True

    form: Text
    outputs: tuple[SupplyOutput, ...]
    curve: tuple[EfficiencyPoint, ...] = ()
    """Loads are shares of the greatest of `outputs`."""
    several_outputs: YesNo = False
    """Whether it gives several voltages that carry load, standby apart."""
    inlet: Annotated[Text, Called("Power inlet")]
    input_current: Annotated[Current | None, Called("Rated input current")] = None
    swap: Annotated[Swap, Called("Swap type")] = "hot"


@record
class PowerCord(Part):
    kind: ClassVar[str] = "power-cord"
    title: ClassVar[str] = "Power cord"
    plural: ClassVar[str] = "Power cords"

    form: Text
    plug: Text
    current: Annotated[Current, Called("Rated current")]
    length: Length | None = None


@record
class Fan(Swappable, MovesAir, DrawsPower):
    kind: ClassVar[str] = "fan"
    title: ClassVar[str] = "Fan"
    plural: ClassVar[str] = "Fans"
    subsystem: ClassVar[str] = "cooling"
    choose_by: ClassVar[tuple[str, ...]] = ("form", "airflow", "power.maximum", "noise", "swap")
    counted: ClassVar[bool] = True

    form: Text
    swap: Annotated[Swap, Called("Swap type")] = "cold"


@record
class HeatSink(Cools):
    kind: ClassVar[str] = "heat-sink"
    title: ClassVar[str] = "Heat sink"
    plural: ClassVar[str] = "Heat sinks"
    choose_by: ClassVar[tuple[str, ...]] = ("height", "tdp_limit")

    socket: Text
    height: Annotated[CardHeight | None, Called("Height class")] = None
    tdp_limit: Annotated[Power, Called("Cools up to", "cooling limit")]


@record
class AirDuct(ClosesPosition):
    kind: ClassVar[str] = "air-duct"
    title: ClassVar[str] = "Air duct"
    plural: ClassVar[str] = "Air ducts"
