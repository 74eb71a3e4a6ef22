"""The quantities, one class a dimension, so that a type checker tells power from mass."""

from decimal import Decimal
from typing import Final, overload

from specgen.quantity import units
from specgen.quantity.quantity import Magnitude, Quantity
from specgen.quantity.reading import read
from specgen.quantity.units import EXACT, Unit


class Power(Magnitude):
    """Active power; base unit W."""

    __slots__ = ()
    dimension = units.POWER


class Energy(Magnitude):
    """Energy; base unit J."""

    __slots__ = ()
    dimension = units.ENERGY


class Mass(Magnitude):
    """Mass; base unit kg."""

    __slots__ = ()
    dimension = units.MASS


class Length(Magnitude):
    """Length; base unit m."""

    __slots__ = ()
    dimension = units.LENGTH


class DataSize(Magnitude):
    """An amount of data; base unit B (byte). `GB` is decimal, `GiB` binary."""

    __slots__ = ()
    dimension = units.DATA_SIZE


class DataRate(Magnitude):
    """Data per time; base unit B/s."""

    __slots__ = ()
    dimension = units.DATA_RATE


class TransferRate(Magnitude):
    """Transfers per time, of a memory bus or a lane; base unit T/s."""

    __slots__ = ()
    dimension = units.TRANSFER_RATE


class OperationRate(Magnitude):
    """Floating-point operations per time; base unit FLOP/s."""

    __slots__ = ()
    dimension = units.OPERATION_RATE


class Frequency(Magnitude):
    """Frequency; base unit Hz."""

    __slots__ = ()
    dimension = units.FREQUENCY


class Voltage(Magnitude):
    """Voltage; base unit V."""

    __slots__ = ()
    dimension = units.VOLTAGE


class Current(Magnitude):
    """Electric current; base unit A."""

    __slots__ = ()
    dimension = units.CURRENT


class ApparentPower(Magnitude):
    """Apparent power of alternating current; base unit VA."""

    __slots__ = ()
    dimension = units.APPARENT_POWER


class TemperatureDifference(Magnitude):
    """A step between two temperatures; base unit K."""

    __slots__ = ()
    dimension = units.TEMPERATURE_DIFFERENCE


class Temperature(Quantity):
    """A point on the Celsius scale; base unit degC.

    Two of them cannot be added or scaled; they differ by a `TemperatureDifference`, which can be
    added to one and taken from it.
    """

    __slots__ = ()
    dimension = units.TEMPERATURE

    def __add__(self, step: TemperatureDifference) -> "Temperature":
        if not isinstance(step, TemperatureDifference):
            return NotImplemented
        return Temperature(EXACT.add(self.amount, step.amount), self.unit)

    @overload
    def __sub__(self, other: "Temperature") -> TemperatureDifference: ...
    @overload
    def __sub__(self, other: TemperatureDifference) -> "Temperature": ...
    def __sub__(
        self, other: "Temperature | TemperatureDifference"
    ) -> "Temperature | TemperatureDifference":
        if isinstance(other, Temperature):
            return TemperatureDifference.of(EXACT.subtract(self.amount, other.amount))
        if isinstance(other, TemperatureDifference):
            return Temperature(EXACT.subtract(self.amount, other.amount), self.unit)
        return NotImplemented


class Duration(Magnitude):
    """A span of time; base unit s. A year is 365 d."""

    __slots__ = ()
    dimension = units.DURATION


class VolumeFlow(Magnitude):
    """Volume of air or of a liquid per time; base unit m3/s."""

    __slots__ = ()
    dimension = units.VOLUME_FLOW


class FluidVolume(Magnitude):
    """Volume of a liquid or a gas; base unit m3."""

    __slots__ = ()
    dimension = units.FLUID_VOLUME


class SoundPower(Quantity):
    """A sound power level; base unit B (bel), 1 B = 10 dB.

    It has no `+`: levels of several sources add on the linear scale, 10 lg(sum of 10^(L/10)).
    """

    __slots__ = ()
    dimension = units.SOUND_POWER


class Pressure(Magnitude):
    """Pressure; base unit Pa."""

    __slots__ = ()
    dimension = units.PRESSURE


class Ratio(Magnitude):
    """A share of a whole; base unit % (so `amount` is 94 for 94 %, `fraction` is 0.94)."""

    __slots__ = ()
    dimension = units.RATIO

    @property
    def fraction(self) -> Decimal:
        """The share as a plain number: 0.94 for 94 %."""
        return EXACT.divide(self.amount, 100)

    @classmethod
    def of_fraction(cls, fraction: Decimal | int) -> "Ratio":
        """The share that a plain number stands for: 94 % for 0.94."""
        return cls.of(EXACT.multiply(fraction, Decimal(100)))


class Rotation(Magnitude):
    """Rotational speed; base unit rpm."""

    __slots__ = ()
    dimension = units.ROTATION


# Where two dimensions share a symbol (`B`: byte and bel) the earlier one wins in `parse_any`.
QUANTITIES: Final[tuple[type[Quantity], ...]] = (
    Power,
    Energy,
    Mass,
    Length,
    DataSize,
    DataRate,
    TransferRate,
    OperationRate,
    Frequency,
    Voltage,
    Current,
    ApparentPower,
    Temperature,
    TemperatureDifference,
    Duration,
    VolumeFlow,
    FluidVolume,
    SoundPower,
    Pressure,
    Ratio,
    Rotation,
)

_CLASSES: Final = {kind.dimension.name: kind for kind in QUANTITIES}


def _all_spellings() -> dict[str, Unit]:
    table: dict[str, Unit] = {}
    for kind in reversed(QUANTITIES):
        table |= units.BY_DIMENSION[kind.dimension.name]
    return table


_SPELLINGS: Final = _all_spellings()


def parse_any(text: str) -> Quantity:
    """Read a value of whatever dimension its unit has; raises QuantityError, and nothing else.

    `B` is read as byte; a sound power level in bels needs `SoundPower.parse`.
    """
    number, unit, digits = read(text, _SPELLINGS, None)
    return _CLASSES[unit.dimension.name](unit.to_base(number), unit, digits)
