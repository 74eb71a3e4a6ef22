"""Sums over truths of the solver, as values: which limits there are is asked without it."""

from decimal import Decimal
from typing import Any, Final

from specgen.frozen import frozen

BoolVar = Any
"""A truth of the solver, or its negation; `TRUE` and `FALSE` of a `Logic` are literals too."""

ONE: Final = Decimal(1)


@frozen
class Sum:
    """Amounts that count where their literals hold, and one that always does."""

    terms: tuple[tuple[Decimal, BoolVar], ...] = ()
    constant: Decimal = Decimal(0)

    def plus(self, other: "Sum", sign: int = 1) -> "Sum":
        terms = tuple((sign * amount, literal) for amount, literal in other.terms)
        return Sum((*self.terms, *terms), self.constant + sign * other.constant)

    def times(self, by: Decimal) -> "Sum":
        return Sum(tuple((by * a, literal) for a, literal in self.terms), by * self.constant)
