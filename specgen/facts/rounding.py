"""How estimated values are rounded where a calculator makes them."""

from decimal import ROUND_HALF_EVEN, Context, Decimal


def significant(number: Decimal | int, digits: int = 3) -> Decimal:
    """A number to so many significant digits, half to even, without an exponent.

    For values that rest on a model or an assumption, which is rarely stated to more than two or
    three digits itself; declared ones keep their own.
    """
    rounded = Context(prec=digits, rounding=ROUND_HALF_EVEN).plus(Decimal(number))
    return Decimal(f"{rounded:f}")
