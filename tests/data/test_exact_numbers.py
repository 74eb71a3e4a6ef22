"""The number behind what is printed: unrounded, in the same unit; none of words."""

from decimal import Decimal

import pytest

from specgen.facts.fact_data import bare, exact_of
from specgen.quantity import Power, Ratio


@pytest.mark.parametrize(
    ("value", "printed", "number"),
    [
        (7, (7, None), 7),
        (Power.of("750"), (Decimal(750), "W"), Decimal(750)),
        (Ratio.of(94), (Decimal(94), "%"), Decimal(94)),
        (Decimal("1.5"), (Decimal("1.5"), None), Decimal("1.5")),
        ("x16 Gen 5", ("x16 Gen 5", None), None),
        (("one", "two"), (("one", "two"), None), None),
        (None, (None, None), None),
    ],
)
def test_a_value_as_number_and_unit(value, printed, number):
    assert bare(value) == printed
    assert exact_of(value) == number
