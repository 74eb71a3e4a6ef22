"""How quantities and plain values are printed, in type and in ASCII."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.quantity import (
    QUANTITIES,
    UNITS,
    Current,
    DataRate,
    DataSize,
    Length,
    Mass,
    Power,
    Ratio,
    Temperature,
    VolumeFlow,
    parse_any,
    plain,
    show,
    split,
)
from specgen.quantity.printing import common_unit


def spaced(text: str) -> str:
    return text.replace("_", "\u202f").replace("-", "\u2212")


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("750 W", "750_W"),
        ("750.0W", "750.0_W"),
        ("0.50 kW", "0.50_kW"),
        ("0.00 W", "0.00_W"),
        ("1.92 TB", "1.92_TB"),
        ("1920 GB", "1920_GB"),
        ("12000 GB", "12_000_GB"),
        ("1234567.5 W", "1_234_567.5_W"),
        ("2666.67 MT/s", "2666.67_MT/s"),
        ("0.000123 W", "0.000123_W"),
        ("-5 degC", "-5_°C"),
        ("-0.0 degC", "0.0_°C"),
        ("12.50 m3/h", "12.50_m³/h"),
        ("0.05 m3/s", "0.05_m³/s"),
        ("3412 BTU/h", "3412_BTU/h"),
        ("16000 rpm", "16_000_rpm"),
        ("94.0 %", "94.0_%"),
    ],
)
def test_a_declared_value_keeps_its_digits_and_unit(written, printed):
    assert show(parse_any(written)) == spaced(printed)


@pytest.mark.parametrize(
    ("value", "printed"),
    [
        # power: whole watts from 100 W up, one decimal below
        (Power.of("852.5"), "852_W"),
        (Power.of("853.5"), "854_W"),
        (Power.of("99.96"), "100_W"),
        (Power.of("45.25"), "45.2_W"),
        (Power.of("45.04"), "45_W"),
        (Power.of("0.0516"), "0.052_W"),
        (Power.of("12345.6"), "12_346_W"),
        (Power.of("-200"), "-200_W"),
        (Power.of("-0.00"), "0_W"),
        (Power.of(12345).to("kW"), "12.34_kW"),
        # mass: whole from 1000 kg up, one decimal from 10 kg, two from 1 kg, three below
        (Mass.of("2298.9"), "2299_kg"),
        (Mass.of("999.94"), "999.9_kg"),
        (Mass.of("17.449"), "17.4_kg"),
        (Mass.of("123.45"), "123.4_kg"),
        (Mass.of("3.456"), "3.46_kg"),
        (Mass.of("0.1140"), "0.114_kg"),
        # data sizes move along their own family
        (DataSize.of(64, "GiB") * 16, "1_TiB"),
        (DataSize.of(64, "GiB") * 64, "4_TiB"),
        (DataSize.of(1536, "GiB"), "1.5_TiB"),
        (DataSize.of(1250, "GiB"), "1250_GiB"),  # no TiB with four digits are exactly that
        (DataSize.of(768, "GiB"), "768_GiB"),
        (DataSize.of(64, "GiB") * 192, "12_TiB"),
        (DataSize.of("7.68", "TB") * 24, "184.3_TB"),
        (DataSize.of("0.5", "GiB"), "512_MiB"),
        (DataSize.of("9999.5", "GB"), "10_TB"),
        (DataSize.of("9999.4", "GB"), "9999_GB"),
        (DataSize.of("1.92", "TB").to("TiB"), "1.746_TiB"),
        (DataSize.of(512, "GiB").to("GB"), "549.8_GB"),
        (DataSize.of(1920383410176), "1920_GB"),
        (DataSize.of(24, "Gbit") * 1000, "24_Tbit"),
        (DataSize.of("0.5"), "0.5_B"),
        (DataSize.of(123456, "PB"), "123_456_PB"),
        (DataSize.zero(), "0_B"),
        # and data rates likewise
        (DataRate.of(38400, "MB/s") * 12, "460.8_GB/s"),
        (DataRate.of(100, "Gbit/s") * 200, "20_Tbit/s"),
        (DataRate.of("0.25", "Gbit/s"), "250_Mbit/s"),
        # the rest: four significant digits, or the decimals of the table
        (VolumeFlow.of("0.0828363").to("m3/h"), "298.2_m³/h"),
        (VolumeFlow.of("0.0828363").to("CFM"), "175.5_CFM"),
        (Current.of("4.347826"), "4.35_A"),
        (Temperature.of("28.333"), "28.3_°C"),
        (Ratio.of_fraction(Decimal("0.46875")), "46.9_%"),
        (Ratio.of(100) / 3, "33.3_%"),
        (Length.of(2, "U").to("mm"), "88.9_mm"),
        (Length.of("123456.7", "mm"), "123_457_mm"),
    ],
)
def test_a_computed_value_is_rounded_as_the_policy_says(value, printed):
    assert show(value) == spaced(printed)


@pytest.mark.parametrize(
    ("value", "printed", "bare"),
    [
        (5, "5", "5"),
        (9999, "9999", "9999"),
        (10000, "10_000", "10000"),
        (-1234567, "-1_234_567", "-1234567"),
        (Decimal("1.23456"), "1.235", "1.235"),
        (Decimal("12345.6"), "12_346", "12346"),
        (Decimal("0.30"), "0.3", "0.3"),
        (True, "yes", "yes"),
        (False, "no", "no"),
        (None, "not declared", "not declared"),
        ((), "none", "none"),
    ],
)
def test_plain_values(value, printed, bare):
    assert show(value) == spaced(printed)
    assert split(value) == (spaced(printed), "")
    assert plain(value) == bare


def test_text_and_lists_of_text_pass_unchanged():
    assert show("SLOT 1 - low") == "SLOT 1 - low"
    assert show(("RAID 1", "RAID 5")) == "RAID 1, RAID 5"


def test_split_tells_number_from_unit():
    assert split(Power.of(12500)) == ("12\u202f500", "W")
    assert split(Temperature.of(-5)) == ("\u22125", "°C")


def test_programs_read_the_unit_that_was_summed_in():
    assert plain(DataSize.of(4096, "GiB")) == "4096 GiB"
    assert show(DataSize.parse("4096 GiB")) == spaced("4_TiB")


@pytest.mark.parametrize(
    ("values", "unit"),
    [
        (("480 GB", "3.84 TB", "20 TB"), "TB"),
        (("960 GB", "480 GB"), None),  # one already
        (("447 GiB", "27.94 TiB"), "TiB"),  # 28 611 GiB have five digits
        (("768 GiB", "4096 GiB"), "GiB"),
        (("2048 GiB", "4096 GiB"), None),  # both are whole TiB
        (("1 MB", "20 TB"), None),  # 0.000001 TB says nothing, and 20 million MB are not read
        (("64 GiB", "2 TB"), None),  # two families
    ],
)
def test_a_column_has_one_prefix(values, unit):
    found = common_unit([DataSize.parse(each) for each in values])
    assert (found.symbol if found else None) == unit


def test_a_value_is_printed_by_the_prefix_of_its_column():
    column = [DataSize.parse("480 GB"), DataSize.parse("20 TB")]
    unit = common_unit(column)
    assert [split(each, unit=unit) for each in column] == [("0.48", "TB"), ("20", "TB")]
    column = [DataSize.parse("768 GiB"), DataSize.parse("4096 GiB")]
    unit = common_unit(column)
    assert [split(each, unit=unit) for each in column] == [("768", "GiB"), ("4096", "GiB")]


def test_plain_is_ascii_without_groups():
    assert plain(Power.parse("12500 W")) == "12500 W"
    assert plain(Temperature.parse("−5 °C")) == "-5 degC"
    assert plain(VolumeFlow.parse("12.50 m³/h")) == "12.50 m3/h"


@pytest.mark.parametrize("value", [0.5, object(), ["a"], b"x"])
def test_what_has_no_form_of_its_own_is_a_bug_of_ours(value):
    for way in (show, split, plain):
        with pytest.raises(TypeError):
            way(value)


KINDS = {kind.dimension: kind for kind in QUANTITIES}
NUMBERS = st.decimals(-(10**15), 10**15, places=9).map(lambda number: format(number, "f"))


@given(st.sampled_from(UNITS), NUMBERS)
def test_reading_what_was_printed_gives_a_declared_value_back(unit, number):
    kind = KINDS[unit.dimension]
    if unit.symbol == "degC" and Decimal(number) < Decimal("-273.15"):
        number = number.lstrip("-")
    value = kind.parse(f"{number} {unit.symbol}")
    again = kind.parse(plain(value))
    assert again == value
    assert again.digits == value.digits
    assert plain(again) == plain(value)


@given(st.sampled_from(UNITS), st.integers(0, 9999))
def test_reading_what_was_printed_gives_a_computed_whole_back(unit, number):
    kind = KINDS[unit.dimension]
    value = kind.of(number, unit.symbol)
    assert kind.parse(plain(value)) == value


@given(st.sampled_from(UNITS), NUMBERS.filter(lambda number: not number.startswith("-")))
def test_rounding_stays_within_half_of_the_last_place(unit, number):
    value = KINDS[unit.dimension].of(number, unit.symbol)
    text, _, symbol = plain(value).partition(" ")
    printed = Decimal(text)
    exact = value.in_unit(symbol)
    assert abs(printed - exact) <= exact / 20  # two significant digits at the very least
    assert abs(printed - exact) <= Decimal("0.5")
    assert (printed == 0) == (exact == 0)


@given(st.sampled_from([unit for unit in UNITS if unit.ladder]), NUMBERS)
def test_data_values_stay_in_their_family_between_1_and_9999(unit, number):
    value = KINDS[unit.dimension].of(number, unit.symbol)
    text, _, symbol = plain(value).partition(" ")
    ladder = [other for other in UNITS if other.ladder == unit.ladder]
    chosen = next(other for other in ladder if other.symbol == symbol)
    assert abs(Decimal(text)) < 10_000 or chosen is ladder[-1]
    assert abs(Decimal(text)) >= 1 or chosen is ladder[0] or not value.amount
