"""The one place that knows how numbers and quantities are printed.

The rounding policy, everywhere:

- A declared value keeps the digits it was written with: `64.0 GiB` stays `64.0 GiB`.
- A computed value is rounded half to even to 4 significant digits, or to the decimals that
  `DECIMALS` gives for its unit (power: whole watts from 100 W up, one decimal below; mass: whole
  kilograms from 1000 kg up, one decimal from 10 kg up, two from 1 kg up, three below). Temperatures
  and their differences are rounded down: those worked out are limits, and what is to spare below
  one. Three things overrule that: digits before the point are never rounded away; two significant
  digits always stay, so that what is not nothing is never printed as nothing; noughts at the end of
  the decimals are left out.
- A computed data size or rate stays in its unit while the number lies from 1 to 9999, else it
  moves along the prefixes of its own family (decimal or binary, bits or bytes).
- For readers, a binary size that the next prefix gives as exactly goes by that one: 4096 GiB are
  4 TiB. Where a column compares values, all of them go by one prefix (`common_unit`): 0.96 TB
  above 3.84 TB. `plain`, which programs read, does neither.
- Groups of three digits from five digits up, a narrow no-break space between them and before the
  unit, and a true minus sign; `plain` leaves all that out and uses ASCII.
"""

from collections.abc import Callable, Iterable
from decimal import ROUND_FLOOR, Decimal
from functools import partial
from typing import Final

from specgen.frozen import frozen
from specgen.quantity.dimensions import Duration
from specgen.quantity.quantity import Quantity
from specgen.quantity.reading import MINUS
from specgen.quantity.units import EXACT, LADDERS, Unit

NARROW_SPACE: Final = "\u202f"
NOT_DECLARED: Final = "not declared"
BEYOND: Final = "more than 1 million years"
"""What is printed of a span that long: the value of a model, of which no digit means anything."""
LONGEST: Final = Decimal(10**6) * 365 * 86400  # in seconds
SIGNIFICANT: Final = 4
LEAST_SIGNIFICANT: Final = 2
GREATEST: Final = Decimal(10_000)
LEAST_IN_COLUMN: Final = Decimal("0.01")
BINARY: Final = "binary"


@frozen
class Signs:
    """What a language writes before the decimals and between groups of three digits."""

    point: str
    group: str


class InWords:
    """Something that is said in words; its English is its `str`."""

    __slots__ = ()


ENGLISH_SIGNS: Final = Signs(".", NARROW_SPACE)

# (dimension, unit) -> decimals from which size up, greatest size first.
DECIMALS: Final[dict[tuple[str, str], tuple[tuple[int, int], ...]]] = {
    ("power", "W"): ((100, 0), (0, 1)),
    ("apparent power", "VA"): ((100, 0), (0, 1)),
    ("power", "BTU/h"): ((100, 0), (0, 1)),
    ("mass", "kg"): ((1000, 0), (10, 1), (1, 2), (0, 3)),
    ("current", "A"): ((0, 2),),
    ("temperature", "degC"): ((0, 1),),
    ("temperature difference", "K"): ((0, 1),),
    ("sound power", "B"): ((0, 2),),
    ("sound power", "dB"): ((0, 1),),
    ("ratio", "%"): ((0, 1),),
    ("rotational speed", "rpm"): ((0, 0),),
}
DOWN: Final = frozenset({"temperature", "temperature difference"})
"""Dimensions of which a computed value is never rounded up."""


def split(value: object, signs: Signs = ENGLISH_SIGNS, unit: Unit | None = None) -> tuple[str, str]:
    """Number and unit as they are printed for readers; the unit is empty for what has none.

    A `unit` is that of a column, in which all of its values are printed (`common_unit`).

    Takes a quantity, int, Decimal, str, `InWords`, bool (yes, no), None (not declared) and a tuple
    of these (joined by commas; `none` when empty). Raises TypeError for anything else, floats too.
    """
    if is_beyond(value):
        return BEYOND, ""
    if isinstance(value, Quantity):
        number, own = _for_readers(value, unit)
        return _typeset(number, signs), own.sign
    return _words(value, show, partial(_typeset, signs=signs)), ""


def is_beyond(value: object) -> bool:
    """Whether a value is a span of more than a million years."""
    return isinstance(value, Duration) and value.amount > LONGEST


def show(value: object) -> str:
    """What `split` gives, as one text with a narrow no-break space before the unit."""
    number, unit = split(value)
    return f"{number}{NARROW_SPACE}{unit}" if unit else number


def common_unit(values: Iterable[Quantity]) -> Unit | None:
    """The unit for a column whose values would be printed with several prefixes of one family.

    The greatest of them, or a smaller one where the least value would then be too small to read.
    Of binary sizes the smallest that takes no more than four digits: sizes of memory are whole
    numbers of GiB, and nobody calls 768 GiB three quarters of a TiB. None where there is nothing
    to bring together.
    """
    shown = [(value, _for_readers(value)[1]) for value in values]
    units = {unit for _, unit in shown}
    ladders = {unit.ladder for unit in units}
    if len(units) < 2 or len(ladders) != 1 or "" in ladders:
        return None
    amounts = [abs(value.amount) for value, _ in shown if value.amount]
    (family,) = ladders
    ladder = [unit for unit in LADDERS[family] if unit in units]
    for unit in ladder if family.startswith(BINARY) else reversed(ladder):
        least, greatest = unit.from_base(min(amounts)), unit.from_base(max(amounts))
        if least >= LEAST_IN_COLUMN and greatest < GREATEST:
            return unit
    return None


def _for_readers(quantity: Quantity, wanted: Unit | None = None) -> tuple[str, Unit]:
    """What `_settle` gives, in the unit wanted; 4096 GiB, which a program reads, are 4 TiB."""
    number, unit = _settle(quantity)
    if wanted is unit:
        return number, unit
    if wanted is not None and wanted.ladder == unit.ladder:
        return _trimmed(_rounded(wanted.from_base(quantity.amount), wanted)), wanted
    ladder = LADDERS.get(unit.ladder, ())
    while unit.ladder.startswith(BINARY) and unit is not ladder[-1]:
        above = ladder[ladder.index(unit) + 1]
        exact_ = above.from_base(quantity.amount)
        if exact_.copy_abs() < 1 or _rounded(exact_, above) != exact_:
            break
        number, unit = _trimmed(exact_), above
    return number, unit


def plain(value: object) -> str:
    """The same value in ASCII, without groups, as `parse` reads it back: `12500 W`, `-5 degC`."""
    if isinstance(value, Quantity):
        number, unit = _settle(value)
        return f"{number} {unit.symbol}"
    return _words(value, plain, str)


def sign_of_plain(value: Quantity) -> str:
    """The sign of the unit that `plain` gives; empty for a span that is told in words."""
    return "" if is_beyond(value) else _settle(value)[1].sign


def exact(value: Quantity | Decimal) -> Decimal:
    """The number that `plain` rounds, in the unit that it prints."""
    if isinstance(value, Decimal):
        return value
    _, unit = _settle(value)
    return unit.from_base(value.amount)


def _words(value: object, one: Callable[[object], str], dress: Callable[[str], str]) -> str:
    match value:
        case None:
            return NOT_DECLARED
        case bool():
            return "yes" if value else "no"
        case str() | InWords():
            return str(value)
        case int():
            return dress(str(value))
        case Decimal():
            return dress(_trimmed(_rounded(value, None)))
        case tuple():
            return ", ".join(one(item) for item in value) or "none"
    raise TypeError(f"no way to print {type(value).__name__} is known")


def _settle(quantity: Quantity) -> tuple[str, Unit]:
    """The number as plain text and the unit it is printed in."""
    unit = quantity.unit
    number = unit.from_base(quantity.amount)
    if quantity.digits is not None:
        return _declared(number, quantity.digits), unit
    number = _rounded(number, unit)
    ladder = LADDERS.get(unit.ladder)
    if ladder and number:
        step = ladder.index(unit)
        while number.copy_abs() >= GREATEST and step + 1 < len(ladder):
            step += 1
            number = _rounded(ladder[step].from_base(quantity.amount), ladder[step])
        while number.copy_abs() < 1 and step > 0:
            step -= 1
            number = _rounded(ladder[step].from_base(quantity.amount), ladder[step])
        unit = ladder[step]
    return _trimmed(number), unit


def _declared(number: Decimal, digits: int) -> str:
    decimals = digits - 1 if not number else max(0, digits - 1 - number.adjusted())
    return f"{_to_decimals(number, decimals):f}"


def _rounded(number: Decimal, unit: Unit | None) -> Decimal:
    """A computed number, rounded as the policy says."""
    if not number:
        return Decimal(0)
    size = number.adjusted()  # 2 for 100 to 999, 0 for 1 to 9
    decimals = SIGNIFICANT - 1 - size
    steps = DECIMALS.get((unit.dimension.name, unit.symbol), ()) if unit else ()
    for least, allowed in steps:
        if number.copy_abs() >= least:
            decimals = allowed
            break
    down = unit is not None and unit.dimension.name in DOWN
    return _to_decimals(number, max(0, LEAST_SIGNIFICANT - 1 - size, decimals), down)


def _to_decimals(number: Decimal, decimals: int, down: bool = False) -> Decimal:
    step = Decimal((0, (1,), -decimals))
    rounded = number.quantize(step, ROUND_FLOOR, EXACT) if down else EXACT.quantize(number, step)
    return rounded if rounded else rounded.copy_abs()  # no minus before nothing


def _trimmed(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _typeset(number: str, signs: Signs = ENGLISH_SIGNS) -> str:
    """Plain digits with grouped thousands and a true minus sign."""
    sign = MINUS if number.startswith("-") else ""
    whole, point, part = number.removeprefix("-").partition(".")
    if len(whole) >= 5:
        head = len(whole) % 3
        groups = [whole[:head], *(whole[at : at + 3] for at in range(head, len(whole), 3))]
        whole = signs.group.join(group for group in groups if group)
    return f"{sign}{whole}{signs.point if point else ''}{part}"
