"""Between which sums more load never means less input power: three power supplies of 500 W on two
feeds, so that the loss of one leaves fewer, and at last none that carries the load."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from specgen.limits.learnt import DC_LOAD, WITHOUT_FEED, _piece
from specgen.quantity import Mass, Power, Quantity

pytestmark = pytest.mark.arithmetic("what limits learn", "sums on paper")


def piece(
    sum_: Quantity, load: Quantity | None, output: Quantity | None, *left: int, key: str = DC_LOAD
) -> tuple[Decimal | None, Decimal | None]:
    """Of a sum in hand; `left` are the power supplies that each feed leaves when it is lost."""
    values: dict[str, object] = {"power.load": load, "power.supply_output": output}
    values |= {
        f"power.{state}.supplies": count for state, count in zip(WITHOUT_FEED, left, strict=False)
    }
    facts = SimpleNamespace(value=values.get)
    return _piece(facts, SimpleNamespace(key=key, value=sum_))  # type: ignore[arg-type]


def watts(amount: int) -> Power:
    return Power.of(amount)


@pytest.mark.parametrize(
    ("sum_", "load", "left", "ends"),
    [
        # one supply carries up to 500 W, two up to 1000 W
        (400, 400, (1, 2), (None, 500)),
        (500, 500, (1, 2), (None, 500)),  # it still does
        (501, 501, (1, 2), (500, 1000)),
        (1000, 1000, (1, 2), (500, 1000)),
        (1200, 1200, (1, 2), (1000, None)),
        (1200, 1200, (2, 1), (1000, None)),
        # a quarter more is lost before the parts: 500 W come from 400 W of them
        (300, 375, (1, 2), (None, 400)),
        (500, 625, (1, 2), (400, 800)),
        (300, 300, (), (None, None)),
        (0, 0, (1,), (None, 500)),
    ],
)
def test_the_sums_at_which_what_is_left_goes_out(sum_, load, left, ends):
    assert piece(watts(sum_), watts(load), watts(500), *left) == ends


def test_no_other_sum_has_such_ends():
    assert piece(Mass.of(9), watts(400), watts(500), 1, 2, key="mechanics.mass") == (None, None)
    assert piece(watts(400), None, None, 1, 2) == (None, None)
