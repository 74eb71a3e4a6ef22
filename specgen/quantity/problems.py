"""What can be wrong with a value that somebody wrote: as data, put in words by `diagnostics`."""

import enum
from dataclasses import dataclass

from specgen.quantity.units import Dimension, Unit


class Problem(enum.StrEnum):
    """The kinds of mistake that a written value can hold."""

    EMPTY = "empty"
    NOT_A_NUMBER = "not-a-number"
    THOUSANDS_SEPARATOR = "thousands-separator"
    COMMA = "comma"
    EXPONENT = "exponent"
    BARE_POINT = "bare-point"
    NO_UNIT = "no-unit"
    UNKNOWN_UNIT = "unknown-unit"
    WRONG_DIMENSION = "wrong-dimension"
    TOO_MANY_DIGITS = "too-many-digits"
    TOO_LOW = "too-low"


@dataclass(frozen=True)
class Instead:
    """What to write in place of a wrong value: one of `texts`, else one of `units`, else anything
    that is like the example of its dimension."""

    texts: tuple[str, ...] = ()
    sizes: tuple[tuple[Unit, str], ...] = ()
    """The unit of each of the texts and what it comes to, where that alone tells them apart."""
    if_decimal: str = ""
    """What else may have been meant, if a comma is a decimal one."""
    units: tuple[str, ...] = ()


@dataclass(unsafe_hash=True)
class QuantityError(ValueError):
    """A text that is no quantity of the dimension asked for, or (None) of any.

    `written` is what is wrong of it: the text, or the spelling of its unit. `limit` is what it
    passes: a number of digits, a lowest value; `others` are the dimensions that its unit is of.
    """

    problem: Problem
    dimension: Dimension | None
    written: str
    instead: Instead = Instead()
    limit: str = ""
    others: tuple[Dimension, ...] = ()

    def __post_init__(self) -> None:
        super().__init__(self.problem.value, self.written)

    def __reduce__(self) -> tuple[type["QuantityError"], tuple[object, ...]]:
        return QuantityError, (
            self.problem, self.dimension, self.written, self.instead, self.limit, self.others,
        )  # fmt: skip
