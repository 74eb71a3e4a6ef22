"""Rows are rounded when printed, and their sum by itself: a table says where that shows."""

import pytest

from specgen.document.cells.rounded_rows import adds_up
from specgen.quantity import ApparentPower, Mass, Power


@pytest.mark.parametrize(
    ("watts", "adds"),
    [
        (("150.4", "250.4"), False),  # 150 W and 250 W, 401 W: 400.8
        (("150.4", "250.3"), False),  # 400.7
        (("150.2", "250.2"), True),  # 400.4
        (("99.04", "0.04"), False),  # 99 W and 0.04 W, 99.1 W: 99.08
        ((), True),
    ],
)
def test_printed_rows_are_held_against_the_printed_sum(watts, adds):
    rows = [Power.of(each) for each in watts]
    assert adds_up(rows, sum(rows, Power.zero())) is adds


def test_only_amounts_of_one_unit_are_added():
    assert adds_up([Mass.of("0.2", "kg"), Mass.of(300, "g")], Mass.of("0.6", "kg"))
    assert adds_up([1, 2], 4)
    assert adds_up([None, "none"], ApparentPower.of(3))
