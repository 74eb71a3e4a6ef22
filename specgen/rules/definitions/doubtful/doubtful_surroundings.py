"""Conditions, and what a project takes for granted, that hardly any place has.

Common practice without a source, unless one is named.
"""

from collections.abc import Iterator
from typing import Any, Final

from specgen.messages import AsWritten, say
from specgen.model import Assumptions, Definitions
from specgen.quantity import DataRate, Duration, Length, Quantity, Ratio, Temperature
from specgen.rules.definitions.contradicting.contradicting_lists import Look
from specgen.rules.definitions.contradicting.contradiction import Contradiction, far_from_usual

RATINGS: Final = frozenset(
    {
        *(6, 8, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500),
        *(15, 30, 35, 45, 60, 70, 90, 110, 150, 175, 225, 300, 350, 450, 600, 700, 800, 1000),
    }
)
"""Of circuit breakers. Sources: IEC 60898-1, IEC 60059 and NEC 240.6(A) (from memory)."""
SMALLEST: Final = 6
"""Amperes from which on ratings are standard; below, plants have what they need."""


def _circuit(record: Any, _: Definitions) -> Iterator[Contradiction]:
    rating = record.circuit
    if rating is None or rating.amount < SMALLEST or rating.amount in RATINGS:
        return
    near = sorted(RATINGS, key=lambda each: abs(each - rating.amount))[:2]
    yield Contradiction(
        ("circuit",),
        far_from_usual("circuit", AsWritten(rating)),
        say("circuit breakers have the ratings of IEC 60898-1 or NEC 240.6(A)"),
        help=say("nearest are {one} A and {two} A", one=min(near), two=max(near)),
    )


DIRTIEST: Final = 2
"""Kilograms of CO2 a kilowatt-hour; a plant that burns lignite emits a little above one."""


def _grid(record: Any, _: Definitions) -> Iterator[Contradiction]:
    factor = record.grid_factor
    if factor is not None and factor > DIRTIEST:
        yield Contradiction(
            ("grid_factor",),
            far_from_usual("grid_factor", str(factor)),
            say("it is in kilograms a kilowatt-hour: 0 to {most}", most=DIRTIEST),
        )


TAKEN: Final[dict[str, tuple[Quantity, Quantity]]] = {
    "rebuild_rate": (DataRate.of(1, "MB/s"), DataRate.of(20, "GB/s")),
    "replacement_time": (Duration.of(1, "min"), Duration.of(60, "d")),
    "endurance_span": (Duration.of(1, "y"), Duration.of(20, "y")),
    "read_share": (Ratio.of(1), Ratio.of(100)),
    "supply_sharing_error": (Ratio.of("0.1"), Ratio.of(30)),
    "board_loss": (Ratio.of("0.1"), Ratio.of(25)),
    "curve_allowance": (Ratio.of("0.01"), Ratio.of(10)),
    "cable_space": (Length.of(10, "mm"), Length.of(600, "mm")),
}
"""What a project takes for granted, where it takes anything."""


def _taken(record: Any, _: Definitions) -> Iterator[Contradiction]:
    if not isinstance(record, Assumptions):
        return
    for name, (least, most) in TAKEN.items():
        value = getattr(getattr(record, name), "value", None)
        whole = isinstance(value, Ratio) and value.fraction > 1  # no part of it: that is told
        if value is not None and value.amount and not whole and not least <= value <= most:
            yield Contradiction(
                (name, "value"),
                far_from_usual(name, AsWritten(value)),
                say("usual is {least} to {most}", least=AsWritten(least), most=AsWritten(most)),
                help=say("check the number and its unit"),
            )  # fmt: skip


PLACES: Final[dict[str, tuple[Quantity, Quantity]]] = {
    "inlet": (Temperature.of(5), Temperature.of(60)),
    "rack_opening": (Length.of(430, "mm"), Length.of(570, "mm")),
    "rack_depth": (Length.of(200, "mm"), Length.of("1.6")),
    "rack_width": (Length.of(300, "mm"), Length.of("1.5")),
    "rack_length": (Length.of(200, "mm"), Length.of(2)),
}
"""What rooms and racks have: air of class A4 from 5 degC on (ASHRAE TC 9.9); openings of 19, 21 and
23 inches (EIA/ECA-310-E, ETSI EN 300 119, from memory); depths are common practice."""
TALLEST: Final = 60
"""Rack units of a rack that passes a door."""


def _place(record: Any, _: Definitions) -> Iterator[Contradiction]:
    for name, (least, most) in PLACES.items():
        value = getattr(record, name, None)
        if isinstance(value, type(least)) and value.amount > 0 and not least <= value <= most:
            yield Contradiction(
                (name,),
                far_from_usual(name, AsWritten(value)),
                say("usual is {least} to {most}", least=AsWritten(least), most=AsWritten(most)),
                help=say("check the number and its unit"),
            )  # fmt: skip
    units = getattr(record, "rack_units", None)
    if isinstance(units, int) and units > TALLEST:
        yield Contradiction(
            ("rack_units",),
            far_from_usual("rack_units", units),
            say("a rack has up to {most} rack units", most=TALLEST),
        )


OF_SURROUNDINGS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("circuit",), _circuit),
    (("grid_factor",), _grid),
    (("rack_opening",), _place),
    (("rebuild_rate",), _taken),
)
"""Each with the fields of which a record has one, where it is asked."""
