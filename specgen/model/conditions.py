"""The circumstances a system is to work in."""

import re
from collections.abc import Mapping
from dataclasses import fields
from typing import Annotated, Final, Literal, TypeVar, get_args

from pydantic_core import PydanticCustomError

from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.model.fields import Number, Positive, Text, record, wrong
from specgen.model.labels import Called
from specgen.model.markers import After, Before, Bounds, Json
from specgen.quantity import (
    Current,
    Length,
    Mass,
    Pressure,
    Quantity,
    Temperature,
    TemperatureDifference,
    Voltage,
    plain,
)
from specgen.quantity.printing import InWords

REDUNDANCY_FORM = re.compile(r"^(?:none|([1-9])\+([1-9]))$")


@frozen
class Redundancy(InWords):
    """Supplies that carry the load, and how many more may fail: 1+1, 2+1, 2+2; none is 0 spare."""

    text: str
    spare: int

    def __str__(self) -> str:
        return self.text


def _redundancy(value: object) -> object:
    if isinstance(value, Redundancy):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError("empty", "empty")
    match = REDUNDANCY_FORM.fullmatch(value)
    if match is None:
        raise wrong(
            say("how many power supplies carry the load and how many more may fail"),
            say("write `none`, `1+1`, `2+1` or `2+2`"),
        )
    return Redundancy(str(value), int(match[2]) if match[2] else 0)


Redundant = Annotated[
    Redundancy,
    Before(_redundancy),
    Json({"type": "string", "pattern": REDUNDANCY_FORM.pattern}),
]


Supplied = Literal["ac", "dc"]
"""How a line supplies power."""
FeedName = Literal["A", "B", "C", "D"]
FEED_NAMES: tuple[FeedName, ...] = get_args(FeedName)
"""Feeds by their names, in their order."""
CircuitRule = Literal["nec", "iec"]
"""Whose practice says what a branch circuit may carry."""


@frozen
class SupplyLine(InWords):
    """What supplies connect to: a voltage, and whether it is AC or DC."""

    voltage: Voltage
    supplied: Supplied

    def __str__(self) -> str:
        return f"{plain(self.voltage)} {self.supplied.upper()}"


Q = TypeVar("Q", bound=Quantity)


def _within(least: Q, most: Q, why: Message, *, signed: bool = False) -> After:
    """Refuses what no system that the values hold for can meet with; `signed`, of either sign."""

    def look(value: Q) -> Q:
        size = type(value).of(abs(value.amount)) if signed else value
        if least <= size <= most:
            return value
        raise PydanticCustomError(
            "beyond", "beyond", {"least": least, "most": most, "given": value, "why": why}
        )

    return After(look)


BOUNDS: Final[Mapping[str, tuple[Quantity, Quantity]]] = {
    "line": (Voltage.of(12), Voltage.of(1000)),
    "inlet": (Temperature.of(-60), Temperature.of(80)),
    "altitude": (Length.of(-500), Length.of(9000)),
}
"""What conditions that rules speak of can be at least and at most; lines are of either sign."""

_LINE = _within(
    *BOUNDS["line"],
    say("the low-voltage range ends at 1000 V AC"),  # Source: IEC 60038, scope
    signed=True,
)
_INLET = _within(
    *BOUNDS["inlet"],
    say("values hold for air that a system can work in"),  # common practice, no source
)
_ALTITUDE = _within(
    *BOUNDS["altitude"],
    say("land lies no lower than the shore of the Dead Sea and no higher than the highest summit"),
)
_RISE = _within(
    TemperatureDifference.of("0.1"),
    TemperatureDifference.of(80),
    say("air that does not warm up carries no heat away, and airflow is worked out from it"),
)
_CIRCUIT = _within(Current.of("0.5"), Current.of(1000), say("rating of one branch circuit"))
_RACK = _within(Length.of("0.1"), Length.of(5), say("measures of one rack"))
_RACK_MASS = _within(Mass.of(0), Mass.of(2000), say("weight of one empty rack"))
_RACK_LOAD = _within(Mass.of(1), Mass.of(5000), say("load that one rack bears"))
_FLOOR = _within(
    Pressure.of("0.5", "kPa"),
    Pressure.of(100, "kPa"),
    say("floors of rooms bear a few kN/m², of halls some tens"),  # common practice, no source
)


@record
class Conditions:
    """What a build, else its platform, else the project states."""

    line: Annotated[Voltage, _LINE] | None = None
    """Voltage that the supplies connect to; negative for DC whose positive pole is earthed."""
    line_type: Supplied | None = None
    """`ac` or `dc`. Without it, a negative voltage is DC and any other AC."""
    feeds: Annotated[Positive, Bounds(ge=2, le=4)] | None = None
    """Independent feeds, A and B and so on. Which supply is on which, platform or build may say."""
    inlet: Annotated[Temperature, _INLET] | None = None
    """Temperature of the air that the server takes in."""
    altitude: Annotated[Length, _ALTITUDE] | None = None
    """Above sea level, `1500 m`: operating classes allow less from 900 m up."""
    redundancy: Redundant | None = None
    """Power supplies that carry the load, and how many more may fail: `1+1`, `2+1`, `2+2`,
    `none`."""
    rise: Annotated[TemperatureDifference, _RISE] | None = None
    """By how much the air may warm up on its way through."""
    circuit: Annotated[Current, _CIRCUIT] | None = None
    """Rating of the branch circuit that a cord is connected to."""
    circuit_rule: CircuitRule | None = None
    """`nec`: 80 % of the circuit's rating in continuous duty. `iec`, as without it: all of it."""
    outlet: Text | None = None
    """The outlet for the cords by its standard: `IEC 60320 C13`, `NEMA 5-15R`, `CEE 7/3`."""
    rack_units: Positive | None = None
    """Height of the rack, in rack units that systems can take."""
    rack_depth: Annotated[Length, _RACK] | None = None
    """Clear depth between the rack's front rails and its rear door."""
    rack_opening: Annotated[Length, _RACK] | None = None
    """Clear width between the rack's posts: 450 mm of most racks."""
    rail_distance: Annotated[Length, _RACK] | None = None
    """Distance between the rack's front and rear rails."""
    rack_width: Annotated[Length, _RACK] | None = None
    """Width of the floor that the rack stands on."""
    rack_length: Annotated[Length, _RACK] | None = None
    """Length of that floor."""
    rack_mass: Annotated[Annotated[Mass, _RACK_MASS] | None, Called("Rack weight")] = None
    """Mass of the rack with nothing in it."""
    rack_load_rating: Annotated[Mass, _RACK_LOAD] | None = None
    """The heaviest load the rack carries, standing still."""
    floor_load_rating: Annotated[Pressure, _FLOOR] | None = None
    """Floor load rating, spread evenly: 10 kN/m2."""
    per_rack: Positive | None = None
    """How many of the system stand in one rack."""
    energy_price: Number | None = None
    """Price of a kilowatt-hour, in `currency`."""
    currency: Text | None = None
    grid_factor: Number | None = None
    """Emissions of the grid, kilograms of CO2 equivalent a kilowatt-hour."""

    @property
    def supply_line(self) -> SupplyLine | None:
        """What the supplies connect to; None where no voltage is stated."""
        if self.line is None:
            return None
        return SupplyLine(self.line, self.line_type or ("dc" if self.line.amount < 0 else "ac"))


ANYWHERE = Conditions()
CONDITIONS = tuple(entry.name for entry in fields(Conditions))
