"""Quantities: values with units that are read, computed with and printed exactly.

One class a dimension (`Power.parse("750 W")`), so that a type checker tells power from mass.
Amounts are Decimals and never floats. The table of units is `units.UNITS`, the rounding policy
stands in `printing`.
"""

from specgen.quantity.dimensions import (
    QUANTITIES,
    ApparentPower,
    Current,
    DataRate,
    DataSize,
    Duration,
    Energy,
    FluidVolume,
    Frequency,
    Length,
    Mass,
    OperationRate,
    Power,
    Pressure,
    Ratio,
    Rotation,
    SoundPower,
    Temperature,
    TemperatureDifference,
    TransferRate,
    Voltage,
    VolumeFlow,
    parse_any,
)
from specgen.quantity.printing import NARROW_SPACE, NOT_DECLARED, exact, plain, show, split
from specgen.quantity.problems import Instead, Problem, QuantityError
from specgen.quantity.quantity import Magnitude, Quantity
from specgen.quantity.units import UNITS, Dimension, Unit

__all__ = [
    "NARROW_SPACE",
    "NOT_DECLARED",
    "QUANTITIES",
    "UNITS",
    "ApparentPower",
    "Current",
    "DataRate",
    "DataSize",
    "Dimension",
    "Duration",
    "Energy",
    "FluidVolume",
    "Frequency",
    "Instead",
    "Length",
    "Magnitude",
    "Mass",
    "OperationRate",
    "Power",
    "Pressure",
    "Problem",
    "Quantity",
    "QuantityError",
    "Ratio",
    "Rotation",
    "SoundPower",
    "Temperature",
    "TemperatureDifference",
    "TransferRate",
    "Unit",
    "Voltage",
    "VolumeFlow",
    "exact",
    "parse_any",
    "plain",
    "show",
    "split",
]
