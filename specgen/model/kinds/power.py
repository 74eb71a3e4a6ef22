"""Supplies, cords, fans and heat sinks."""

from typing import Annotated, ClassVar

from specgen.model.conditions import Supplied, SupplyLine
from specgen.model.fields import (
    Fraction,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import FORM, Called
from specgen.model.markers import Bounds
from specgen.model.position import CardHeight, Swap
from specgen.model.traits import ClosesPosition, Connects, Cools, DrawsPower, MovesAir, Swappable
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
    """Share of the output, 0 to 1: `0.5` is half of it."""
    efficiency: Annotated[Fraction, Bounds(gt=0)]
    """Output / input, 0 to 1."""
    power_factor: Annotated[Fraction, Bounds(gt=0)] | None = None
    """Real power / apparent power, 0 to 1; DC has none."""


@record
class SupplyOutput:
    """Output of a supply over a range of supply voltage: AC, or DC of either polarity.

    `curve` is measured in this range, with loads as shares of this output; where it is empty the
    supply's own curve stands for it, if it was measured in this range.
    """

    from_: Voltage
    """Range of line voltage, both ends included."""
    to: Voltage
    type: Supplied | None = None
    """`ac` or `dc`. Without it, a negative voltage is DC and any other AC."""
    output: Power
    """What one gives to the server in this range, not what it draws from the line."""
    curve: tuple[EfficiencyPoint, ...] = ()
    """Measured in this range; without it that of the power supply, if it was measured here."""

    @property
    def supplied(self) -> Supplied:
        negative = self.from_.amount < 0 or self.to.amount < 0
        return self.type or ("dc" if negative else "ac")

    def spans(self, voltage: Voltage) -> bool:
        """Whether a voltage lies in the range, written from its least or from its greatest."""
        least, most = sorted((self.from_, self.to))
        return least <= voltage <= most

    def holds(self, line: SupplyLine) -> bool:
        """Whether the supply works in this range on a line."""
        return self.supplied == line.supplied and self.spans(line.voltage)


@record
class PowerSupply(Swappable):
    kind: ClassVar[str] = "power-supply"
    title: ClassVar[str] = "Power supply"
    plural: ClassVar[str] = "Power supplies"
    choose_by: ClassVar[tuple[str, ...]] = ("form", "inlet", "swap", "input_current")
    counted: ClassVar[bool] = True

    form: Annotated[Text, FORM]
    outputs: tuple[SupplyOutput, ...]
    curve: tuple[EfficiencyPoint, ...] = ()
    """Loads are shares of the output in the range that it was measured in."""
    curve_at: Annotated[Voltage | None, Called("Curve measured at")] = None
    """The voltage at which `curve` was measured; without it, it is that of the only range."""
    several_outputs: YesNo = False
    """Whether it gives several voltages that carry load, standby apart."""
    inlet: Annotated[Text, Called("Power inlet")]
    input_current: Annotated[Current | None, Called("Rated input current")] = None
    """That of its label, the greatest of all ranges."""
    swap: Annotated[Swap, Called("Swap type")] = "hot"


@record
class PowerCord(Connects):
    kind: ClassVar[str] = "power-cord"
    title: ClassVar[str] = "Power cord"
    plural: ClassVar[str] = "Power cords"

    form: Annotated[Text, Called("Connector")]
    """The end at the supply by its standard: `C13`, `C19` of IEC 60320."""
    plug: Text
    """The end at the outlet by its standard: `IEC 60320 C14`, `NEMA 5-15P`, `CEE 7/7`."""
    current: Annotated[Current, Called("Rated current")]
    """Of cord, plug and connector together."""
    rated_voltage: Voltage | None = None
    length: Length | None = None


@record
class Fan(Swappable, MovesAir, DrawsPower):
    kind: ClassVar[str] = "fan"
    title: ClassVar[str] = "Fan"
    plural: ClassVar[str] = "Fans"
    subsystem: ClassVar[str] = "cooling"
    choose_by: ClassVar[tuple[str, ...]] = ("form", "airflow", "power.maximum", "noise", "swap")
    counted: ClassVar[bool] = True

    form: Annotated[Text, FORM]
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
    """The greatest TDP of a processor below it."""


@record
class AirDuct(ClosesPosition):
    kind: ClassVar[str] = "air-duct"
    title: ClassVar[str] = "Air duct"
    plural: ClassVar[str] = "Air ducts"
