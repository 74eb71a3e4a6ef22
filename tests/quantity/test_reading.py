"""Text to quantity: what is read, what is refused, and what help is given."""

import pickle
import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.diagnostics.bad_quantities import described
from specgen.quantity import (
    QUANTITIES,
    UNITS,
    DataRate,
    DataSize,
    Energy,
    Frequency,
    Length,
    Mass,
    Power,
    Problem,
    Quantity,
    QuantityError,
    Ratio,
    SoundPower,
    Temperature,
    TransferRate,
    Voltage,
    VolumeFlow,
    parse_any,
)


def said(error):
    """What the author is told, in English: what is wrong, and what to write instead."""
    _, message, help_ = described(error)
    return str(message), str(help_)


@pytest.mark.parametrize(
    ("kind", "text", "amount"),
    [
        (Power, "750 W", "750"),
        (Power, "750W", "750"),
        (Power, "+0.5   kW", "500"),
        (Power, "750\u00a0W", "750"),
        (Power, "750\u202fW", "750"),
        (Power, " 750 W ", "750"),
        (DataSize, "1.92 TB", "1920000000000"),
        (DataSize, "64 GiB", "68719476736"),
        (DataSize, "16 Gbit", "2000000000"),
        (DataRate, "25 Gbit/s", "3125000000"),
        (TransferRate, "2666.67 MT/s", "2666670000"),
        (Temperature, "-5 degC", "-5"),
        (Temperature, "\u22125 degC", "-5"),
        (Temperature, "35 °C", "35"),
        (VolumeFlow, "3600 m³/h", "1"),
        (VolumeFlow, "1 m3/s", "1"),
        (SoundPower, "62 dB", "6.2"),
        (Energy, "12 Wh", "43200"),
        (Length, "2 U", "0.0889"),
    ],
)
def test_reads_values_exactly(kind, text, amount):
    value = kind.parse(text)
    assert type(value) is kind
    assert value.amount == Decimal(amount)


@pytest.mark.parametrize(
    ("text", "digits"), [("750 W", 3), ("750.0 W", 4), ("1000 W", 4), ("0.50 W", 2), ("0.00 W", 3)]
)
def test_a_declared_value_knows_how_many_digits_it_was_written_with(text, digits):
    assert Power.parse(text).digits == digits


REFUSED = [
    (Power, "40", Problem.NO_UNIT, "power value without a unit", "write `40 W`"),
    (DataSize, "64", Problem.NO_UNIT, "data size value without a unit",
     "write `64 GB` or `64 GiB`"),
    (Power, "700 GB", Problem.WRONG_DIMENSION, "`GB` is a unit of data size, not of power",
     "write power with its unit, such as `750 W`"),
    (Temperature, "300 K", Problem.WRONG_DIMENSION,
     "`K` is a unit of temperature difference, not of temperature",
     "write temperature with its unit, such as `35 degC`"),
    (DataRate, "10 GB", Problem.WRONG_DIMENSION, "`GB` is a unit of data size, not of data rate",
     "write `10 GB/s`"),
    (DataSize, "64 KB", Problem.UNKNOWN_UNIT, "no unit of data size is named `KB`",
     "write `64 kB` (1 kB is 1000 B) or `64 KiB` (1 KiB is 1024 B)"),
    (DataSize, "64 K", Problem.UNKNOWN_UNIT, "no unit of data size is named `K`",
     "write `64 kB` (1 kB is 1000 B) or `64 KiB` (1 KiB is 1024 B)"),
    (DataSize, "1 Gib", Problem.UNKNOWN_UNIT, "no unit of data size is named `Gib`",
     "write `1 GiB`"),
    (Power, "2 kw", Problem.UNKNOWN_UNIT, "no unit of power is named `kw`", "write `2 kW`"),
    (Frequency, "2.4 GHZ", Problem.UNKNOWN_UNIT, "no unit of frequency is named `GHZ`",
     "write `2.4 GHz`"),
    (DataRate, "25 Gb/s", Problem.UNKNOWN_UNIT, "no unit of data rate is named `Gb/s`",
     "write `25 Gbit/s`"),
    (DataRate, "25 Gbps", Problem.UNKNOWN_UNIT, "no unit of data rate is named `Gbps`",
     "write `25 Gbit/s`"),
    (Voltage, "230 V AC", Problem.UNKNOWN_UNIT, "no unit of voltage is named `V AC`",
     "write `230 V`"),
    (Power, "3 kilowatts", Problem.UNKNOWN_UNIT, "no unit of power is named `kilowatts`",
     "write `3 kW`"),
    (Mass, "3 kilogrmas", Problem.UNKNOWN_UNIT, "no unit of mass is named `kilogrmas`",
     "write `3 kg`"),
    (Mass, "3 stone", Problem.UNKNOWN_UNIT, "no unit of mass is named `stone`",
     "units of mass: `kg`, `g`, `t`, `lb`, `oz`"),
    (Ratio, "0.85", Problem.NO_UNIT, "ratio value without a unit", "write `85 %` or `0.85 %`"),
    (Ratio, "85", Problem.NO_UNIT, "ratio value without a unit", "write `85 %`"),
    (Temperature, "95 °F", Problem.UNKNOWN_UNIT, "no unit of temperature is named `°F`",
     "units of temperature: `degC`"),
    (DataSize, "1 920 GB", Problem.THOUSANDS_SEPARATOR, "`1 920 GB` has a thousands separator",
     "write `1920 GB`"),
    (DataSize, "1,920 GB", Problem.THOUSANDS_SEPARATOR, "`1,920 GB` has a thousands separator",
     "write `1920 GB`, or `1.920 GB` if the comma is a decimal one"),
    (DataSize, "1,92 TB", Problem.COMMA, "`1,92 TB` has a comma in the number",
     "write `1.92 TB`"),
    (Power, "1e3 W", Problem.EXPONENT, "`1e3 W` has an exponent", "write `1000 W`"),
    (Power, "1e3", Problem.EXPONENT, "`1e3` has an exponent", "write `1000 W`"),
    (Power, ".5 W", Problem.BARE_POINT, "`.5 W` has no digit on one side of the point",
     "write `0.5 W`"),
    (Power, "5. W", Problem.BARE_POINT, "`5. W` has no digit on one side of the point",
     "write `5 W`"),
    (Power, "", Problem.EMPTY, "power value is empty",
     "write power with its unit, such as `750 W`"),
    (Power, "NaN W", Problem.NOT_A_NUMBER, "`NaN W` is not a number with a unit",
     "write power with its unit, such as `750 W`"),
    (Power, "inf", Problem.NOT_A_NUMBER, "`inf` is not a number with a unit",
     "write power with its unit, such as `750 W`"),
    (Power, "٣ W", Problem.NOT_A_NUMBER, "`٣ W` is not a number with a unit",
     "write power with its unit, such as `750 W`"),
    (Power, "1" * 31 + " W", Problem.TOO_MANY_DIGITS, "power value has 31 digits, 30 are the most",
     "write power with its unit, such as `750 W`"),
    (Temperature, "-274 degC", Problem.TOO_LOW, "`-274 degC` lies below -273.15 degC",
     "write temperature with its unit, such as `35 degC`"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "text", "problem", "message", "help_"), REFUSED)
def test_refuses_with_a_reason_and_a_repair(kind, text, problem, message, help_):
    with pytest.raises(QuantityError) as caught:
        kind.parse(text)
    assert caught.value.problem is problem
    assert said(caught.value) == (message, help_)


@pytest.mark.parametrize(("kind", "text", "problem", "message", "help_"), REFUSED)
def test_what_the_help_says_to_write_can_be_read(kind, text, problem, message, help_):
    for written in re.findall(r"`([+-]?\d[^`]*)`", help_):
        kind.parse(written)


def test_an_error_travels_between_processes_whole():
    with pytest.raises(QuantityError) as caught:
        Power.parse("40")
    twin = pickle.loads(pickle.dumps(caught.value))
    assert twin == caught.value
    assert said(twin) == said(caught.value)


def test_thirty_digits_are_read_exactly():
    digits = "123456789012345678901234567.891"
    value = DataSize.parse(f"{digits} TiB")
    assert value.in_unit("TiB") == Decimal(digits)
    assert value.digits == 30


def test_absolute_zero_can_be_written_and_nothing_below():
    assert Temperature.parse("-273.15 degC").amount == Decimal("-273.15")


def test_parse_any_finds_the_dimension_by_the_unit():
    assert parse_any("750 W") == Power.of(750)
    assert parse_any("62 dB") == SoundPower.of("6.2")
    assert parse_any("5 B") == DataSize.of(5)
    for unit in UNITS:
        read = parse_any(f"3 {unit.symbol}")
        assert read.unit is unit or unit.dimension.name == "sound power"


def test_parse_any_helps_without_knowing_the_dimension():
    for text, help_ in [
        ("40", "write `40 W`"),
        ("40 kw", "write `40 kW`"),
        ("x", "write a number and its unit, such as `750 W`"),
        ("5 wobbles", "write a number and its unit, such as `750 W`"),
    ]:
        with pytest.raises(QuantityError) as caught:
            parse_any(text)
        assert said(caught.value)[1] == help_


ODD_TEXT = st.one_of(
    st.text(max_size=60),
    st.from_regex(
        r"[+\-−]?[0-9.,_' ]{0,40}([eE][+-]?[0-9]{0,9})? ?[A-Za-z%°/³`]{0,6}", fullmatch=True
    ),
    st.builds(
        "{}{}{}".format,
        st.decimals(allow_nan=True, allow_infinity=True),
        st.sampled_from(["", " ", "\u202f", "\n"]),
        st.sampled_from([unit.symbol for unit in UNITS]),
    ),
)  # fmt: skip


@given(ODD_TEXT, st.sampled_from([*(kind.parse for kind in QUANTITIES), parse_any]))
def test_any_text_is_a_quantity_or_a_quantity_error(text, parse):
    try:
        value = parse(text)
    except QuantityError as error:
        refusal = error
    else:
        assert isinstance(value, Quantity)
        assert value.amount.is_finite()
        return
    message, help_ = said(refusal)
    assert message
    assert help_
    assert not message.endswith(".")
    assert "\n" not in message + help_
    assert len(message) + len(help_) < 500


@pytest.mark.parametrize(
    "text", ["1" * 100_000, "1," * 50_000, "x" * 100_000, "1" + " " * 100_000 + "!"]
)
def test_long_text_is_refused_shortly(text):  # fmt: skip
    with pytest.raises(QuantityError) as caught:
        Power.parse(text)
    assert len(said(caught.value)[0]) < 120


# How the trade spells rates and sizes: bytes with `B`, bits with `b`, whatever the prefix
SPELT = [
    *((DataRate, f"10 {prefix}Bps", f"10 {prefix}B/s") for prefix in "kMGT"),
    *((DataRate, f"10 {prefix}bps", f"10 {prefix}bit/s") for prefix in "kMGT"),
    *((DataRate, f"10 {prefix}b/s", f"10 {prefix}bit/s") for prefix in "kMGT"),
    *((DataSize, f"10 {prefix}b", f"10 {prefix}bit") for prefix in "kMGT"),
    *((DataSize, f"10 {prefix}", f"10 {prefix}B") for prefix in "MGT"),
    *((TransferRate, f"10 {prefix}Tps", f"10 {prefix}T/s") for prefix in "MG"),
    *((Power, f"10 {word}", "10 W") for word in ("watt", "watts", "Watts")),
    *((Mass, f"10 {word}", "10 kg") for word in ("kilogram", "kilograms", "kgs")),
    *((Length, f"10 {word}", "10 in") for word in ("inch", '"', "inches")),
    *((VolumeFlow, f"10 {text}", "10 m3/h") for text in ("m^3/h", "m3/hr")),
]


@pytest.mark.parametrize(("kind", "text", "meant"), SPELT)
def test_other_spellings_of_a_unit_lead_to_it(kind, text, meant):
    with pytest.raises(QuantityError) as caught:
        kind.parse(text)
    assert f"`{meant}`" in said(caught.value)[1]
