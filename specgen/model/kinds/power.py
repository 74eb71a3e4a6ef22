"""Supplies, cords, fans and heat sinks."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from specgen.model.fields import (
    Fraction,
    Text,
    YesNo,
    record,
)
from specgen.model.part import Part
from specgen.model.position import Swap
from specgen.quantity import (
    Airflow,
    Current,
    Length,
    Power,
    Voltage,
)


@record
class EfficiencyPoint:
    """Efficiency and power factor of a supply at a share of its rated load."""

    load: Fraction
    efficiency: Annotated[Fraction, Field(gt=0)]
    power_factor: Annotated[Fraction, Field(gt=0)] | None = None


@record
class SupplyOutput:
    """Output of a supply over a range of line voltage.

    `curve` is measured in this range, with loads as shares of this output; where it is empty the
    supply's own curve stands for it.
    """

    from_: Annotated[Voltage, Field(alias="from")]
    to: Voltage
    output: Power
    curve: tuple[EfficiencyPoint, ...] = ()


@record
class PowerSupply(Part):
    kind: ClassVar[str] = "power-supply"
    title: ClassVar[str] = "Power supply"
    plural: ClassVar[str] = "Power supplies"

    form: Text
    outputs: tuple[SupplyOutput, ...]
    curve: tuple[EfficiencyPoint, ...] = ()
    """Loads are shares of the greatest of `outputs`."""
    several_outputs: YesNo = False
    """Whether it gives several voltages that carry load, standby apart."""
    inlet: Text
    input_current: Current | None = None
    swap: Swap = "hot"


@record
class PowerCord(Part):
    kind: ClassVar[str] = "power-cord"
    title: ClassVar[str] = "Power cord"
    plural: ClassVar[str] = "Power cords"

    form: Text
    plug: Text
    current: Current
    length: Length | None = None


@record
class Fan(Part):
    kind: ClassVar[str] = "fan"
    title: ClassVar[str] = "Fan"
    plural: ClassVar[str] = "Fans"
    subsystem: ClassVar[str] = "cooling"

    form: Text
    airflow: Airflow | None = None
    swap: Swap = "cold"


@record
class HeatSink(Part):
    kind: ClassVar[str] = "heat-sink"
    title: ClassVar[str] = "Heat sink"
    plural: ClassVar[str] = "Heat sinks"

    socket: Text
    height: Literal["low", "full"] | None = None
    tdp_limit: Power


@record
class AirDuct(Part):
    kind: ClassVar[str] = "air-duct"
    title: ClassVar[str] = "Air duct"
    plural: ClassVar[str] = "Air ducts"
    closes: ClassVar[bool] = True
