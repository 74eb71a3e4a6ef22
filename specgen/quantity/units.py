"""Dimensions, and the one table of units with the source of every conversion.

A value in unit `u` is `number * u.factor / u.divisor` in the base unit of its dimension. All
factors are exact; the divisor is there for the few that have no finite decimal form (`m3/h`).
To add a unit, add one row to `UNITS`.
"""

from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Context, Decimal
from typing import Final

from specgen.frozen import frozen

ONE: Final = Decimal(1)

# Wide enough that 30 written digits times any factor, and sums of such, stay exact.
EXACT: Final = Context(prec=100, rounding=ROUND_HALF_EVEN)
# Values handed out are cut here, so that what a division left in the last places is not seen.
CLEAN: Final = Context(prec=80, rounding=ROUND_HALF_EVEN)


@frozen(eq=False)
class Dimension:
    """What is measured: its name in a sentence, its base unit, units to suggest, an example."""

    name: str
    base: str
    suggested: tuple[str, ...]
    example: str
    lowest: Decimal | None = None  # in the base unit; no value may lie below

    def __reduce__(self) -> tuple[Callable[[str], "Dimension"], tuple[str]]:
        return dimension_of, (self.name,)


@frozen(eq=False)
class Unit:
    """One unit: ASCII `symbol`, printed `sign`, `name` in words, exact factor to the base unit.

    `ladder` names the family of prefixes in which a computed value may move when it is printed.
    Units are single objects: compare them with `is`; a copy or a pickle gives the same object.
    """

    symbol: str
    name: str
    dimension: Dimension
    factor: Decimal
    source: str
    ladder: str
    divisor: Decimal
    sign: str
    also: tuple[str, ...]  # further spellings read, never printed

    def to_base(self, number: Decimal) -> Decimal:
        """The value in the base unit; exact unless `divisor` leaves no finite decimal."""
        amount = EXACT.multiply(number, self.factor)
        return amount if self.divisor is ONE else EXACT.divide(amount, self.divisor)

    def from_base(self, amount: Decimal) -> Decimal:
        """The amount of the base unit in this unit, to 80 significant digits."""
        if self.factor is ONE and self.divisor is ONE:
            return amount
        return CLEAN.plus(EXACT.divide(EXACT.multiply(amount, self.divisor), self.factor))

    def __reduce__(self) -> tuple[Callable[[str, str], "Unit"], tuple[str, str]]:
        return unit_of, (self.dimension.name, self.symbol)


POWER: Final = Dimension("power", "W", ("W",), "750 W")
ENERGY: Final = Dimension("energy", "J", ("Wh",), "12 Wh")
MASS: Final = Dimension("mass", "kg", ("kg",), "17.4 kg")
LENGTH: Final = Dimension("length", "m", ("mm",), "482.6 mm")
DATA_SIZE: Final = Dimension("data size", "B", ("GB", "GiB"), "64 GiB")
DATA_RATE: Final = Dimension("data rate", "B/s", ("Gbit/s", "GB/s"), "25 Gbit/s")
TRANSFER_RATE: Final = Dimension("transfer rate", "T/s", ("MT/s", "GT/s"), "5600 MT/s")
OPERATION_RATE: Final = Dimension("operation rate", "FLOP/s", ("GFLOP/s",), "1200 GFLOP/s")
FREQUENCY: Final = Dimension("frequency", "Hz", ("GHz",), "2.4 GHz")
VOLTAGE: Final = Dimension("voltage", "V", ("V",), "230 V")
CURRENT: Final = Dimension("current", "A", ("A",), "10 A")
APPARENT_POWER: Final = Dimension("apparent power", "VA", ("VA",), "870 VA")
TEMPERATURE: Final = Dimension("temperature", "degC", ("degC",), "35 degC", Decimal("-273.15"))
TEMPERATURE_DIFFERENCE: Final = Dimension("temperature difference", "K", ("K",), "15 K")
DURATION: Final = Dimension("duration", "s", ("s", "h"), "12 ms")
VOLUME_FLOW: Final = Dimension("volume flow", "m3/s", ("m3/h", "CFM", "l/min"), "65 CFM")
FLUID_VOLUME: Final = Dimension("fluid volume", "m3", ("l",), "2.5 l")
SOUND_POWER: Final = Dimension("sound power", "B", ("B", "dB"), "6.2 B")
PRESSURE: Final = Dimension("pressure", "Pa", ("Pa",), "250 Pa")
RATIO: Final = Dimension("ratio", "%", ("%",), "94 %")
ROTATION: Final = Dimension("rotational speed", "rpm", ("rpm",), "16000 rpm")

# The sources that rows name more than once.
SI: Final = "BIPM, The International System of Units (SI Brochure), 9th ed. 2019, tables 4, 7, 8"
IEC: Final = "IEC 80000-13:2008, prefixes for binary multiples; SI prefixes are decimal only"
YARD: Final = "international yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg"
BAR: Final = "BIPM, SI Brochure, 8th ed. 2006, table 8: 1 bar is 100 kPa (from memory)"
TRADE: Final = "common practice, no source: one transfer is one bit time of a lane or data line"
FLOP: Final = "common practice, no source: floating-point operations; prefixes as in the SI"


def _row(
    symbol: str,
    name: str,
    dimension: Dimension,
    factor: str,
    source: str,
    *,
    ladder: str = "",
    divisor: str = "1",
    sign: str = "",
    also: tuple[str, ...] = (),
) -> Unit:
    return Unit(
        symbol,
        name,
        dimension,
        ONE if factor == "1" else Decimal(factor),
        source,
        ladder,
        ONE if divisor == "1" else Decimal(divisor),
        sign or symbol,
        also,
    )


# Within a dimension, units of one ladder stand from small to large.
UNITS: Final[tuple[Unit, ...]] = (
    _row("W", "watt", POWER, "1", SI),
    _row("mW", "milliwatt", POWER, "0.001", SI),
    _row("kW", "kilowatt", POWER, "1000", SI),
    _row("MW", "megawatt", POWER, "1000000", SI),
    _row(
        "BTU/h",
        "British thermal unit per hour",
        POWER,
        "1055.05585262",
        "International Table Btu of 1055.05585262 J, as in scipy.constants; an hour of 3600 s",
        divisor="3600",
    ),
    _row("J", "joule", ENERGY, "1", SI),
    _row("kJ", "kilojoule", ENERGY, "1000", SI),
    _row("MJ", "megajoule", ENERGY, "1000000", SI),
    _row("Wh", "watt hour", ENERGY, "3600", SI),
    _row("kWh", "kilowatt hour", ENERGY, "3600000", SI),
    _row("MWh", "megawatt hour", ENERGY, "3600000000", SI),
    _row("kg", "kilogram", MASS, "1", SI),
    _row("g", "gram", MASS, "0.001", SI),
    _row("t", "tonne", MASS, "1000", SI),
    _row("lb", "pound", MASS, "0.45359237", YARD),
    _row("oz", "ounce", MASS, "0.028349523125", YARD + "; an ounce is 1/16 lb"),
    _row("m", "metre", LENGTH, "1", SI),
    _row("mm", "millimetre", LENGTH, "0.001", SI),
    _row("cm", "centimetre", LENGTH, "0.01", SI),
    _row("km", "kilometre", LENGTH, "1000", SI),
    _row("in", "inch", LENGTH, "0.0254", YARD),
    _row("ft", "foot", LENGTH, "0.3048", YARD),
    _row("U", "rack unit", LENGTH, "0.04445", "EIA-310 (DMTF Redfish RackUnits EIA_310): 1.75 in"),
    _row("bit", "bit", DATA_SIZE, "0.125", IEC, ladder="bit"),
    _row("kbit", "kilobit", DATA_SIZE, "125", IEC, ladder="bit"),
    _row("Mbit", "megabit", DATA_SIZE, "125000", IEC, ladder="bit"),
    _row("Gbit", "gigabit", DATA_SIZE, "125000000", IEC, ladder="bit"),
    _row("Tbit", "terabit", DATA_SIZE, "125000000000", IEC, ladder="bit"),
    _row("Kibit", "kibibit", DATA_SIZE, "128", IEC, ladder="binary bit"),
    _row("Mibit", "mebibit", DATA_SIZE, "131072", IEC, ladder="binary bit"),
    _row("Gibit", "gibibit", DATA_SIZE, "134217728", IEC, ladder="binary bit"),
    _row("Tibit", "tebibit", DATA_SIZE, "137438953472", IEC, ladder="binary bit"),
    _row("B", "byte", DATA_SIZE, "1", IEC, ladder="byte"),
    _row("kB", "kilobyte", DATA_SIZE, "1000", IEC, ladder="byte"),
    _row("MB", "megabyte", DATA_SIZE, "1000000", IEC, ladder="byte"),
    _row("GB", "gigabyte", DATA_SIZE, "1000000000", IEC, ladder="byte"),
    _row("TB", "terabyte", DATA_SIZE, "1000000000000", IEC, ladder="byte"),
    _row("PB", "petabyte", DATA_SIZE, "1000000000000000", IEC, ladder="byte"),
    _row("KiB", "kibibyte", DATA_SIZE, "1024", IEC, ladder="binary byte"),
    _row("MiB", "mebibyte", DATA_SIZE, "1048576", IEC, ladder="binary byte"),
    _row("GiB", "gibibyte", DATA_SIZE, "1073741824", IEC, ladder="binary byte"),
    _row("TiB", "tebibyte", DATA_SIZE, "1099511627776", IEC, ladder="binary byte"),
    _row("PiB", "pebibyte", DATA_SIZE, "1125899906842624", IEC, ladder="binary byte"),
    _row("bit/s", "bit per second", DATA_RATE, "0.125", IEC, ladder="bit/s"),
    _row("kbit/s", "kilobit per second", DATA_RATE, "125", IEC, ladder="bit/s"),
    _row("Mbit/s", "megabit per second", DATA_RATE, "125000", IEC, ladder="bit/s"),
    _row("Gbit/s", "gigabit per second", DATA_RATE, "125000000", IEC, ladder="bit/s"),
    _row("Tbit/s", "terabit per second", DATA_RATE, "125000000000", IEC, ladder="bit/s"),
    _row("B/s", "byte per second", DATA_RATE, "1", IEC, ladder="byte/s"),
    _row("kB/s", "kilobyte per second", DATA_RATE, "1000", IEC, ladder="byte/s"),
    _row("MB/s", "megabyte per second", DATA_RATE, "1000000", IEC, ladder="byte/s"),
    _row("GB/s", "gigabyte per second", DATA_RATE, "1000000000", IEC, ladder="byte/s"),
    _row("TB/s", "terabyte per second", DATA_RATE, "1000000000000", IEC, ladder="byte/s"),
    _row("KiB/s", "kibibyte per second", DATA_RATE, "1024", IEC, ladder="binary byte/s"),
    _row("MiB/s", "mebibyte per second", DATA_RATE, "1048576", IEC, ladder="binary byte/s"),
    _row("GiB/s", "gibibyte per second", DATA_RATE, "1073741824", IEC, ladder="binary byte/s"),
    _row("TiB/s", "tebibyte per second", DATA_RATE, "1099511627776", IEC, ladder="binary byte/s"),
    _row("T/s", "transfer per second", TRANSFER_RATE, "1", TRADE),
    _row("MT/s", "megatransfer per second", TRANSFER_RATE, "1000000", TRADE),
    _row("GT/s", "gigatransfer per second", TRANSFER_RATE, "1000000000", TRADE),
    _row("FLOP/s", "operation per second", OPERATION_RATE, "1", FLOP, ladder="FLOP/s"),
    _row("kFLOP/s", "1e3 operations per second", OPERATION_RATE, "1000", FLOP, ladder="FLOP/s"),
    _row("MFLOP/s", "1e6 operations per second", OPERATION_RATE, "1000000", FLOP, ladder="FLOP/s"),
    _row("GFLOP/s", "1e9 operations per second", OPERATION_RATE, "1e9", FLOP, ladder="FLOP/s"),
    _row("TFLOP/s", "1e12 operations per second", OPERATION_RATE, "1e12", FLOP, ladder="FLOP/s"),
    _row("PFLOP/s", "1e15 operations per second", OPERATION_RATE, "1e15", FLOP, ladder="FLOP/s"),
    _row("Hz", "hertz", FREQUENCY, "1", SI),
    _row("kHz", "kilohertz", FREQUENCY, "1000", SI),
    _row("MHz", "megahertz", FREQUENCY, "1000000", SI),
    _row("GHz", "gigahertz", FREQUENCY, "1000000000", SI),
    _row("V", "volt", VOLTAGE, "1", SI),
    _row("mV", "millivolt", VOLTAGE, "0.001", SI),
    _row("kV", "kilovolt", VOLTAGE, "1000", SI),
    _row("A", "ampere", CURRENT, "1", SI),
    _row("mA", "milliampere", CURRENT, "0.001", SI),
    _row("kA", "kiloampere", CURRENT, "1000", SI),
    _row("VA", "volt ampere", APPARENT_POWER, "1", SI),
    _row("kVA", "kilovolt ampere", APPARENT_POWER, "1000", SI),
    _row("degC", "degree Celsius", TEMPERATURE, "1", SI, sign="°C", also=("℃",)),
    _row("K", "kelvin", TEMPERATURE_DIFFERENCE, "1", SI),
    _row("s", "second", DURATION, "1", SI),
    _row("ms", "millisecond", DURATION, "0.001", SI),
    _row("min", "minute", DURATION, "60", SI),
    _row("h", "hour", DURATION, "3600", SI),
    _row("d", "day", DURATION, "86400", SI),
    _row("y", "year", DURATION, "31536000", "our convention, as in warranties: a year of 365 d"),
    _row("m3/s", "cubic metre per second", VOLUME_FLOW, "1", SI, sign="m³/s"),
    _row("m3/min", "cubic metre per minute", VOLUME_FLOW, "1", SI, divisor="60", sign="m³/min"),
    _row("m3/h", "cubic metre per hour", VOLUME_FLOW, "1", SI, divisor="3600", sign="m³/h"),
    _row(
        "CFM", "cubic foot per minute", VOLUME_FLOW, "0.0004719474432", YARD + "; a minute of 60 s"
    ),
    _row("l/s", "litre per second", VOLUME_FLOW, "0.001", SI, also=("L/s",)),
    _row("l/min", "litre per minute", VOLUME_FLOW, "0.001", SI, divisor="60", also=("L/min",)),
    _row("l/h", "litre per hour", VOLUME_FLOW, "0.001", SI, divisor="3600", also=("L/h",)),
    _row("m3", "cubic metre", FLUID_VOLUME, "1", SI, sign="m³"),
    _row("l", "litre", FLUID_VOLUME, "0.001", SI, also=("L",)),
    _row("ml", "millilitre", FLUID_VOLUME, "0.000001", SI, also=("mL",)),
    _row("B", "bel", SOUND_POWER, "1", SI),
    _row("dB", "decibel", SOUND_POWER, "0.1", SI),
    _row("Pa", "pascal", PRESSURE, "1", SI),
    _row("hPa", "hectopascal", PRESSURE, "100", SI),
    _row("kPa", "kilopascal", PRESSURE, "1000", SI),
    _row("kN/m2", "kilonewton per square metre", PRESSURE, "1000", SI, sign="kN/m²"),
    _row("bar", "bar", PRESSURE, "100000", BAR),
    _row("mbar", "millibar", PRESSURE, "100", BAR),
    _row("%", "percent", RATIO, "1", "BIPM, SI Brochure, 9th ed. 2019, section 5.4.7: 1 % is 0.01"),
    _row("rpm", "revolution per minute", ROTATION, "1", SI),
)


def _by_spelling() -> dict[str, dict[str, Unit]]:
    table: dict[str, dict[str, Unit]] = {}
    for unit in UNITS:
        spellings = table.setdefault(unit.dimension.name, {})
        for spelling in dict.fromkeys((unit.symbol, unit.sign, *unit.also)):
            assert spelling not in spellings, spelling
            spellings[spelling] = unit
    return table


def _by_ladder() -> dict[str, tuple[Unit, ...]]:
    table: dict[str, tuple[Unit, ...]] = {}
    for unit in UNITS:
        if unit.ladder:
            table[unit.ladder] = (*table.get(unit.ladder, ()), unit)
    return table


BY_DIMENSION: Final = _by_spelling()  # dimension's name -> spelling -> unit
LADDERS: Final = _by_ladder()  # ladder's name -> its units, small to large


def unit_of(dimension: str, spelling: str) -> Unit:
    """The unit of that dimension with that spelling; KeyError when there is none."""
    return BY_DIMENSION[dimension][spelling]


def dimension_of(name: str) -> Dimension:
    """The dimension of that name; KeyError when there is none."""
    return next(iter(BY_DIMENSION[name].values())).dimension
