"""Whether the rows of a table, as they are printed, come to the sum printed below them."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from specgen.document.tree import Cell, words
from specgen.messages import Words, listed, say
from specgen.quantity import Quantity, plain

ROUNDED: Final = say("Rows are rounded, and the sum is taken before rounding.")


def adds_up(rows: Iterable[object], total: object) -> bool:
    """Of amounts in the unit of their sum; what is no amount, or in another unit, is not asked."""
    if not isinstance(total, Quantity):
        return True
    found = [_printed(each) for each in rows if isinstance(each, Quantity)]
    whole, unit = _printed(total)
    if not found or any(other != unit for _, other in found):
        return True
    return sum((number for number, _ in found), Decimal(0)) == whole


def _printed(value: Quantity) -> tuple[Decimal, str]:
    number, _, unit = plain(value).partition(" ")
    return Decimal(number), unit


def with_sentence(note: Cell, sentence: Words) -> Cell:
    """A note that says one thing more."""
    more = words(sentence)
    return (listed((note, more), "sentence"),) if note else more
