"""Comparing and computing: exact, and only within one dimension."""

import decimal
from dataclasses import FrozenInstanceError
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.quantity import (
    QUANTITIES,
    DataSize,
    Magnitude,
    Mass,
    Power,
    Quantity,
    QuantityError,
    SoundPower,
    Temperature,
    TemperatureDifference,
)

MAGNITUDES = [kind for kind in QUANTITIES if issubclass(kind, Magnitude)]
NUMBERS = st.decimals(-(10**12), 10**12, places=6)


@st.composite
def alike(draw: st.DrawFn, count: int) -> list[Magnitude]:
    kind = draw(st.sampled_from(MAGNITUDES))
    return [kind.of(draw(NUMBERS)) for _ in range(count)]


def test_equal_amounts_are_equal_whatever_the_unit():
    assert Power.parse("1 kW") == Power.parse("1000 W") == Power.of(1000)
    assert hash(Power.parse("1 kW")) == hash(Power.parse("1000.0 W"))
    assert DataSize.parse("1 GiB") != DataSize.parse("1 GB")
    assert DataSize.parse("1 GiB") == DataSize.parse("1024 MiB")


def test_quantities_of_two_dimensions_are_never_equal():
    assert DataSize.of(1) != Power.of(1)
    assert SoundPower.of(1) != DataSize.of(1)
    assert Power.of(1) != 1
    assert len({DataSize.of(1), Power.of(1), SoundPower.of(1)}) == 3


def test_two_dimensions_do_not_mix():
    power: Quantity = Power.of(1)
    mass: Quantity = Mass.of(1)
    for mixed in (
        lambda: power + mass,
        lambda: power - mass,
        lambda: power / mass,
        lambda: power < mass,
        lambda: power >= mass,
        lambda: power + 1,
        lambda: power * 1.5,
        lambda: power * power,
        lambda: power / 1.5,
    ):
        with pytest.raises(TypeError):
            mixed()


def test_a_sum_is_printed_in_the_left_unit_and_nothing_takes_the_right_one():
    assert (Power.parse("1 kW") + Power.parse("500 W")).unit.symbol == "kW"
    modules = [DataSize.parse("64 GiB")] * 16
    total = sum(modules, DataSize.zero())
    assert total == DataSize.of(1, "TiB")
    assert total.unit.symbol == "GiB"
    assert total.digits is None


def test_scaling_and_sharing():
    assert 4 * Power.of(750) == Power.of(750) * 4 == Power.of(3, "kW")
    assert Power.of(750) * Decimal("0.5") == Power.of(375)
    assert Power.of(3000) / 4 == Power.of(750)
    assert Power.of(800) / Power.of(1, "kW") == Decimal("0.8")
    assert -Power.of(5) == Power.of(-5)
    assert abs(-Power.of(5)) == Power.of(5)


def test_order_min_and_max():
    small, large = DataSize.parse("1 GB"), DataSize.parse("1 GiB")
    assert small < large
    assert small <= large
    assert large > small
    assert large >= small
    assert min(large, small) is small
    assert max(small, large) is large
    assert sorted([large, small]) == [small, large]


def test_temperatures_differ_by_a_difference_and_do_not_add():
    inlet, outlet = Temperature.of(25), Temperature.of(40)
    assert outlet - inlet == TemperatureDifference.of(15)
    assert inlet + TemperatureDifference.of(15) == outlet
    assert outlet - TemperatureDifference.of(15) == inlet
    with pytest.raises(TypeError):
        inlet + outlet  # type: ignore[operator]
    with pytest.raises(TypeError):
        inlet - 5  # type: ignore[operator]


def test_sound_levels_do_not_add_as_numbers():
    with pytest.raises(TypeError):
        SoundPower.of(6) + SoundPower.of(6)  # type: ignore[operator]


def test_floats_and_what_is_not_finite_are_refused():
    with pytest.raises(TypeError):
        Power.of(0.1)  # type: ignore[arg-type]
    for endless in ("NaN", "Infinity"):
        with pytest.raises(ValueError):
            Power.of(Decimal(endless))


def test_a_unit_of_another_dimension_is_refused():
    for wrong in (
        lambda: Power.of(1, "GB"),
        lambda: Power.of(1).to("kg"),
        lambda: Power.of(1).in_unit("kw"),
    ):
        with pytest.raises(QuantityError):
            wrong()  # fmt: skip


def test_to_changes_the_print_unit_only():
    value = Power.parse("1500 W")
    assert value.to("kW") == value
    assert value.to("kW").unit.symbol == "kW"
    assert value.to("kW").in_unit("kW") == Decimal("1.5")


def test_quantities_cannot_be_changed():
    value = Power.of(1)
    with pytest.raises(FrozenInstanceError):
        value.amount = Decimal(2)  # type: ignore[misc]
    with pytest.raises((AttributeError, TypeError)):
        value.colour = "red"  # type: ignore[attr-defined]


def test_repr_can_be_pasted():
    assert repr(Power.parse("1.5 kW")) == "Power('1.5 kW')"


@given(alike(2))
def test_addition_commutes(pair):
    one, other = pair
    assert one + other == other + one


@given(alike(3))
def test_addition_is_exact_and_associates(three):
    one, other, third = three
    assert (one + other) + third == one + (other + third)
    assert (one + other) - other == one


@given(alike(3))
def test_all_at_once_is_one_after_the_other(three):
    one, *others = three
    for first in (one, type(one).zero()):
        summed, total = sum(others, first), first.with_all(others)
        assert (total, total.unit, total.digits) == (summed, summed.unit, summed.digits)


def test_all_at_once_mixes_no_dimensions_either():
    with pytest.raises(TypeError):
        Power.of(5).with_all([DataSize.of(5)])  # type: ignore[list-item]


@given(alike(1), st.integers(1, 1000))
def test_so_many_times_is_the_sum_of_so_many(single, count):
    (one,) = single
    assert one * count == sum([one] * min(count, 50), type(one).zero()) + one * (
        count - min(count, 50)
    )
    assert (one * count) / count == one  # fmt: skip


@given(alike(2))
def test_equal_quantities_have_equal_hashes(pair):
    one, _ = pair
    twin = type(one)(one.amount.normalize(decimal.Context(prec=60)), one.unit, 3)
    assert one == twin
    assert hash(one) == hash(twin)


def test_the_caller_s_decimal_context_changes_nothing():
    with decimal.localcontext(prec=3, rounding=decimal.ROUND_UP):
        total = Power.parse("12345.678 W") + Power.parse("0.001 W")
        assert total.in_unit("kW") == Decimal("12.345679")
