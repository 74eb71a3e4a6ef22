"""What can be wrong with a value that somebody wrote: as data, put in words by `diagnostics`."""

import enum
from typing import Final

from specgen.frozen import frozen
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


@frozen
class Instead:
    """What to write in place of a wrong value: one of `texts`, else one of `units`, else anything
    that is like the example of its dimension."""

    texts: tuple[str, ...] = ()
    sizes: tuple[tuple[Unit, str], ...] = ()
    """The unit of each of the texts and what it comes to, where that alone tells them apart."""
    if_decimal: str = ""
    """What else may have been meant, if a comma is a decimal one."""
    units: tuple[str, ...] = ()


ANYTHING: Final = Instead()
"""Whatever is like the example of the dimension."""


class QuantityError(ValueError):
    """A text that is no quantity of the dimension asked for, or (None) of any.

    `written` is what is wrong of it: the text, or the spelling of its unit. `limit` is what it
    passes: a number of digits, a lowest value; `others` are the dimensions that its unit is of.
    """

    def __init__(
        self,
        problem: Problem,
        dimension: Dimension | None,
        written: str,
        instead: Instead = ANYTHING,
        limit: str = "",
        others: tuple[Dimension, ...] = (),
    ) -> None:
        super().__init__(problem, dimension, written, instead, limit, others)
        self.problem, self.dimension, self.written = problem, dimension, written
        self.instead, self.limit, self.others = instead, limit, others

    def __eq__(self, other: object) -> bool:
        return isinstance(other, QuantityError) and self.args == other.args

    def __hash__(self) -> int:
        return hash(self.args)
