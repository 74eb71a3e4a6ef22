"""The table of units: sources, agreement with pint and with published conversions."""

import copy
import pickle
from decimal import Decimal
from fractions import Fraction

import pint
import pytest

from specgen.quantity import (
    QUANTITIES,
    UNITS,
    DataSize,
    Duration,
    Length,
    Mass,
    Power,
    Quantity,
    Ratio,
    SoundPower,
    VolumeFlow,
)
from specgen.quantity.units import LADDERS

# Our symbol -> pint's spelling, where it is another. pint's year is not 365 d, its decibel is a
# logarithmic unit, and it knows neither rack units nor transfers: those are checked by hand below.
PINT = {
    "BTU/h": "Btu_it / hour",
    "Wh": "watt_hour",
    "kWh": "kilowatt_hour",
    "MWh": "megawatt_hour",
    "t": "metric_ton",
    "in": "inch",
    "ft": "foot",
    "lb": "pound",
    "h": "hour",
    "d": "day",
    "min": "minute",
    "VA": "volt_ampere",
    "kVA": "kilovolt_ampere",
    "m3/s": "meter ** 3 / second",
    "m3": "m**3",
    "m3/h": "meter ** 3 / hour",
    "m3/min": "meter ** 3 / minute",
    "oz": "ounce",
    "CFM": "foot ** 3 / minute",
    "kN/m2": "kilonewton / meter ** 2",
    "%": "percent",
    "K": "kelvin",
    "rpm": "revolutions_per_minute",
}
NOT_IN_PINT = {"U", "T/s", "MT/s", "GT/s", "y", "B bel", "dB"}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    found = pint.UnitRegistry(non_int_type=Fraction)
    found.define("FLOP = [operations]")  # which pint leaves to its users; the prefixes are its own
    return found


def in_pint(symbol: str) -> str:
    if symbol in PINT:
        return PINT[symbol]
    return symbol.replace("bit", "\0").replace("B", "byte").replace("\0", "bit")


def key(unit_symbol: str, dimension: str) -> str:
    return "B bel" if (unit_symbol, dimension) == ("B", "sound power") else unit_symbol


CHECKED = [unit for unit in UNITS if key(unit.symbol, unit.dimension.name) not in NOT_IN_PINT]


@pytest.mark.parametrize("unit", CHECKED, ids=lambda unit: unit.symbol)
def test_factor_agrees_with_pint(registry, unit):
    one = registry.Quantity(Fraction(1), in_pint(unit.symbol))
    base = one.to(in_pint(unit.dimension.base)).magnitude
    ours = Fraction(unit.factor) / Fraction(unit.divisor)
    assert base == ours


def test_every_unit_names_a_source_and_a_name():
    assert [unit.symbol for unit in UNITS if not unit.source.strip() or not unit.name] == []


def test_every_dimension_has_a_class_and_its_base_unit_counts_one():
    assert {unit.dimension for unit in UNITS} == {kind.dimension for kind in QUANTITIES}
    for kind in QUANTITIES:
        assert kind.of(1).amount == 1
        assert kind.parse(kind.dimension.example).digits
        for symbol in kind.dimension.suggested:
            kind.of(1, symbol)


def test_a_ladder_climbs():
    for ladder in LADDERS.values():
        factors = [unit.factor for unit in ladder]
        assert factors == sorted(set(factors))
        assert len({unit.dimension for unit in ladder}) == 1


def test_symbols_are_ascii_so_that_plain_text_is():
    assert [unit.symbol for unit in UNITS if not unit.symbol.isascii()] == []


def test_units_stay_single_objects_when_copied_or_pickled():
    value = SoundPower.parse("6.20 B")
    for twin in (copy.deepcopy(value), pickle.loads(pickle.dumps(value))):
        assert twin == value
        assert twin.unit is value.unit
        assert twin.digits == 3


@pytest.mark.parametrize(
    ("binary", "decimal", "ratio"),
    [
        # Source: IEC 80000-13:2008 (ratio of the prefixes' definitions)
        ("KiB", "kB", "1.024"),
        ("MiB", "MB", "1.048576"),
        ("GiB", "GB", "1.073741824"),
        ("TiB", "TB", "1.099511627776"),
        ("PiB", "PB", "1.125899906842624"),
        ("Kibit", "kbit", "1.024"),
        ("Gibit", "Gbit", "1.073741824"),
    ],
)
def test_binary_prefix_exceeds_the_decimal_one_by_the_published_ratio(binary, decimal, ratio):
    assert DataSize.of(1, binary) / DataSize.of(1, decimal) == Decimal(ratio)


@pytest.mark.parametrize(
    ("written", "unit", "expected"),
    [
        # Source: IEC 80000-13:2008, computed from the definitions
        ("480 GB", "GiB", "447.0348"),
        ("960 GB", "GiB", "894.0697"),
        ("1.92 TB", "TiB", "1.746230"),
        ("1.92 TB", "GiB", "1788.1393"),
        ("3.84 TB", "TiB", "3.492460"),
        ("3.84 TB", "GiB", "3576.2787"),
        ("7.68 TB", "TiB", "6.984919"),
        ("15.36 TB", "TiB", "13.969839"),
        ("30.72 TB", "TiB", "27.939677"),
        ("512 GiB", "GB", "549.755813888"),
    ],
)
def test_drive_sizes_in_binary_units(written, unit, expected):
    assert round_like(DataSize.parse(written).in_unit(unit), expected) == Decimal(expected)


@pytest.mark.parametrize(
    ("watts", "btu_per_hour"),
    [
        # Source: International Table Btu, 1055.05585262 J (scipy.constants)
        (100, "341.2141633"),
        (500, "1706.0708166"),
        (750, "2559.1062248"),
        (1000, "3412.1416331"),
        (1200, "4094.5699598"),
        (2000, "6824.2832663"),
    ],
)
def test_heat_in_btu_per_hour(watts, btu_per_hour):
    heat = Power.of(watts).in_unit("BTU/h")
    assert round_like(heat, btu_per_hour) == Decimal(btu_per_hour)


@pytest.mark.parametrize(
    ("quantity", "unit", "expected"),
    [
        # Source: international yard and pound agreement, 1959; one minute of 60 s
        (VolumeFlow.of(1), "CFM", "2118.880003"),
        (VolumeFlow.of("0.0828363"), "m3/h", "298.211"),
        (VolumeFlow.of("298.211", "m3/h"), "CFM", "175.520"),
        (Length.of(1, "in"), "mm", "25.4"),
        (Length.of(19, "in"), "mm", "482.6"),
        (Mass.of(51, "lb"), "kg", "23.13"),
        # Source: EIA-310, as the DMTF Redfish enumeration RackUnits states it
        (Length.of(1, "U"), "mm", "44.45"),
        (Length.of(1, "U"), "in", "1.75"),
        (Length.of(42, "U"), "mm", "1866.90"),
        # Source: ISO 9296 / ECMA-109, bels and decibels of one level
        (SoundPower.of("6.23"), "dB", "62.3"),
    ],
)
def test_published_conversions(quantity, unit, expected):
    assert round_like(quantity.in_unit(unit), expected) == Decimal(expected)


def test_what_pint_lacks_or_defines_otherwise():
    assert Duration.of(1, "y") == Duration.of(365, "d")
    assert Ratio.of(94).fraction == Decimal("0.94")
    assert Ratio.of_fraction(Decimal("0.94")) == Ratio.parse("94 %")


def test_converting_there_and_back_gives_the_same_value():
    for unit in UNITS:
        kind = next(kind for kind in QUANTITIES if kind.dimension is unit.dimension)
        value: Quantity = kind.of("123.456", unit.symbol)
        assert value.in_unit(unit.symbol) == Decimal("123.456")
        assert value.to(unit.symbol) is value


def round_like(number: Decimal, pattern: str) -> Decimal:
    return number.quantize(Decimal(pattern))


def test_every_unit_says_where_its_factor_comes_from():
    assert [unit.symbol for unit in UNITS if not unit.source] == []
