"""Input power of so many supplies of one model, worked out on paper: the curve of a supply of 500 W
is declared at 20, 40, 80 and 100 %, and every load here is one of these or halfway."""

from decimal import Decimal
from fractions import Fraction

import pytest

from specgen.fitness.curves import Curve
from specgen.limits.input_power import SupplyChoice, _first_beyond, best_first
from specgen.model import EfficiencyPoint, SupplyOutput
from specgen.quantity import Power, Ratio, Voltage

pytestmark = pytest.mark.arithmetic("limits of input power", "sums on paper")

HOME = SupplyOutput(from_=Voltage.of(200, "V"), to=Voltage.of(240, "V"), output=Power.of(500))
POINTS = ((20, 80), (40, 80), (80, 90), (100, 80))  # % of load, % of efficiency


def choice(count: int, spare: int = 0, lost: tuple[int, ...] = (), points=POINTS, lowered=None):
    curve = Curve(
        tuple(
            EfficiencyPoint(load=Decimal(load) / 100, efficiency=Decimal(value) / 100)
            for load, value in points
        ),
        Power.of(500),
        HOME,
        lowered=lowered,
    )
    return SupplyChoice("supply", curve, Power.of(500), spare, (((), count),), lost)


@pytest.mark.parametrize(
    ("supplies", "load", "most", "least"),
    [
        # one: 400 W are 80 % at 0.9
        (choice(1), 400, Decimal(400) / Decimal("0.9"), Decimal(400) / Decimal("0.9")),
        # two, none spare: 200 W each are 40 % at 0.8
        (choice(2), 400, 500, 500),
        # two, one spare: 500 W in both, 444 W in one; the worst state counts either way
        (choice(2, 1), 400, 500, 500),
        # 50 W each are 10 %, where the curve says nothing
        (choice(2), 100, None, None),
        # one carries it, two are beyond the curve: not known
        (choice(2, 1), 100, None, None),
        # 600 W: one alone cannot
        (choice(2, 1), 600, None, None),
        # three on two feeds, two on the one and one on the other. Three: 200 W each at 0.8; two:
        # 300 W each are 60 %, halfway between 0.8 and 0.9; one alone cannot, but could up to its
        # output of 500 W: 33 % each of three at 0.8, 50 % of two at 0.825, 100 % of one at 0.8
        (choice(3, 0, (2, 1)), 600, 750, 750),
        # at 500 W itself one carries it still: 500 / 0.8 in every state at the worst
        (choice(3, 0, (2, 1)), 500, 625, 625),
        # two feeds with one each, 400 W: one at 444 W, both at 500 W
        (choice(2, 0, (1, 1)), 400, 500, 500),
        # 800 W: both at 80 %, 889 W; at 500 W one alone carried it at 625 W, both at 50 % at 606 W
        (choice(2, 0, (1, 1)), 800, Decimal(800) / Decimal("0.9"), Decimal(800) / Decimal("0.9")),
    ],
)
def test_input_power_at_a_load(supplies, load, most, least):
    assert supplies.input(Decimal(load), most=True) == most
    assert supplies.input(Decimal(load), most=False) == least


def test_where_a_feed_less_carries_no_more_input_power_falls():
    """Efficiency of 0.5 from 90 % on. One alone carries up to 500 W, and draws 1000 W there; above
    that only both together count, 625 W just above it and 687.5 W at 550 W."""
    steep = choice(2, 0, (1, 1), ((20, 80), (60, 80), (90, 50), (100, 50)))
    assert steep.input(Decimal(550), most=True) == 1000
    assert steep.input(Decimal(550), most=False) == Decimal("687.5")
    assert steep.input(Decimal(450), most=True) == 900
    assert steep.input(Decimal(450), most=False) == 625
    assert steep.input(Decimal(500), most=True) == 1000
    assert steep.input(Decimal(500), most=False) == 625  # of a watt more


def test_input_rises_with_the_load_where_efficiency_grows_less_than_it_does():
    """0.8 x 40 > 0.8 x 20; 0.8 x 80 > 0.9 x 40. With 0.5 at 20 and 0.7 at 25 %, 12.5 < 14."""
    assert choice(1).rises
    assert not choice(1, points=((20, 50), (25, 70), (100, 90))).rises
    # equal: 0.5 x 40 = 1 x 20
    assert not choice(1, points=((20, 50), (40, 100))).rises
    # 0.6 x 30 > 0.85 x 20; less 20 points each 0.4 x 30 < 0.65 x 20
    doubtful = ((20, 60), (30, 85))
    assert choice(1, points=doubtful).rises
    assert not choice(1, points=doubtful, lowered=Ratio.of(20)).rises


def test_what_bounds_it_where_the_curve_does_not_say_it_is_the_worst_or_best_efficiency():
    one = choice(1)
    assert one.bound(Decimal(400), most=True) == Decimal(400) / Decimal("0.9")
    assert one.bound(Decimal(40), most=True) == 50  # 0.8
    assert one.bound(Decimal(45), most=False) == 50  # 0.9
    less = choice(1, lowered=Ratio.of(10))
    assert less.bound(Decimal(35), most=True) == 50  # 0.7
    assert less.bound(Decimal(40), most=False) == 50  # 0.8
    nothing = choice(1, lowered=Ratio.of(80))
    assert nothing.bound(Decimal(40), most=True) == Decimal("Infinity")


def test_the_most_promising_comes_first():
    one, two = choice(1), choice(2)
    loads = ((one, Decimal(400)), (two, Decimal(400)))
    assert [each for _, each in best_first(loads, most=True)] == [two, one]
    assert [each for _, each in best_first(loads, most=False)] == [one, two]


@pytest.mark.parametrize(
    ("bound", "most", "steps"),
    [
        # one of 500 W; 0.8 up to 200 W: 250 W drawn. In steps of 1 W
        (Decimal(250), True, 201),
        (Decimal(250), False, 199),
        (Decimal(249), True, 200),
        (Decimal(625), True, None),
        (Decimal(624), True, 500),
        (Decimal(0), False, None),
        (Decimal(626), False, 500),
        (Decimal(-1), True, 0),
    ],
)
def test_the_load_from_which_on_input_power_is_beyond_a_bound(bound, most, steps):
    assert _first_beyond(choice(1), Fraction(1), bound, most) == steps
