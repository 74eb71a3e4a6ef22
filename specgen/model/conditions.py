"""The circumstances a machine is to work in."""

import re
from dataclasses import dataclass, fields
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from specgen.model.fields import Number, Positive, Text, record, wrong
from specgen.quantity import Current, Length, Mass, Temperature, TemperatureDifference, Voltage

_REDUNDANCY = re.compile(r"^(?:none|([1-9])\+([1-9]))$")


@dataclass(frozen=True, slots=True)
class Redundancy:
    """Supplies that carry the load, and how many more may fail: 1+1, 2+1, 2+2; none is 0 spare."""

    text: str
    spare: int

    def __str__(self) -> str:
        return self.text


def _redundancy(value: object) -> object:
    if isinstance(value, Redundancy):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError("empty", "is empty")
    match = _REDUNDANCY.fullmatch(value)
    if match is None:
        raise wrong("a redundancy", "write `none`, `1+1`, `2+1` or `2+2`")
    return Redundancy(str(value), int(match[2]) if match[2] else 0)


Redundant = Annotated[
    Redundancy,
    BeforeValidator(_redundancy),
    WithJsonSchema({"type": "string", "pattern": _REDUNDANCY.pattern}),
]


@record
class Conditions:
    """What a build, else its platform, else the project states."""

    line: Voltage | None = None
    inlet: Temperature | None = None
    altitude: Length | None = None
    redundancy: Redundant | None = None
    rise: TemperatureDifference | None = None
    """By how much the air may warm up on its way through."""
    circuit: Current | None = None
    """Rating of the branch circuit that a cord hangs on."""
    rack_depth: Length | None = None
    """Clear depth between the rack's front rails and its rear door."""
    rail_distance: Length | None = None
    """Distance between the rack's front and rear rails."""
    rack_width: Length | None = None
    rack_length: Length | None = None
    """Width and length of the floor that the rack stands on."""
    rack_mass: Mass | None = None
    """Mass of the rack with nothing in it."""
    per_rack: Positive | None = None
    """How many of the machine stand in one rack."""
    energy_price: Number | None = None
    """Price of a kilowatt-hour, in `currency`."""
    currency: Text | None = None
    grid_factor: Number | None = None
    """Emissions of the grid, kilograms of CO2 equivalent a kilowatt-hour."""


ANYWHERE = Conditions()
CONDITIONS = tuple(entry.name for entry in fields(Conditions))
