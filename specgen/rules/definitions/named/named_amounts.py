"""Amounts that a part's own name writes with another prefix: 24 TB in the name, `24 GB` below it.

The same number under two units is a slip in one of them, and so is one that is ten times
the other. Another number is left alone, since names are free text; but for a capacity.
"""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import AsWritten, say
from specgen.model import Part
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import Quantity
from specgen.quantity.units import BY_DIMENSION
from specgen.rules.definitions.records import quantities_of, records

_AMOUNT: Final = re.compile(
    r"(?<![\w.])(\d+(?:\.\d+)?)\s?([kMGT]?i?(?:B|W|mm|cm|m|bit/s|B/s|Hz|T/s))\b"
)


def named_amounts(part: Part) -> Iterator[Finding]:
    """SG128 for each amount of a part that its name writes with another prefix."""
    found = [(match[1], match[2], match[0]) for match in _AMOUNT.finditer(part.name)]
    if found:
        for path, record in records(part):
            yield from _of_record(part, path, record, found)


def _of_record(
    part: Part, path: FieldPath, record: Any, found: list[tuple[str, str, str]]
) -> Iterator[Finding]:
    own = [
        (name, dimension, value)
        for name, dimension in quantities_of(type(record))
        if isinstance(value := getattr(record, name), Quantity)
    ]
    for name, dimension, value in own:
        known = ((each, _named(dimension, *each[:2])) for each in found)
        stated = [(each, amount) for each, amount in known if amount is not None]
        if not stated or any(amount == value for _, amount in stated):
            continue
        beside = [each for _, kind, each in own if kind is dimension]
        # the name tells of the most: what draws 200 W may well draw 20 W at idle
        greatest = all(each.amount <= value.amount for each in beside)
        number = value.in_unit(value.unit.symbol)
        alike = [
            each
            for each, amount in stated
            if Decimal(each[0]) == number
            or (greatest and _tens(amount, value))
            or (name == "capacity" and len(found) == 1 and _apart(amount, value))
            or (name == "capacity" and _turned(each[0], str(number)))
        ]
        for _figure, _unit, text in alike[:1]:
            yield Finding(
                codes.DOUBTFUL_UNIT,
                say("`{name}` is {value}, and the name says {text}",
                    name=written(name), value=AsWritten(value), text=text),
                Label(part.origin.at(*path, written(name)), say("probably another unit")),
                labels=(Label(part.origin.at("name"), say("the name")),),
                help=say("write the same unit in both"),
            )  # fmt: skip


_NAMED: dict[tuple[type[Quantity], str, str], Quantity] = {}  # of a part, asked by each field


def _tens(one: Quantity, other: Quantity) -> bool:
    """Whether one is ten, a hundred, … times the other."""
    if not one.amount or not other.amount:
        return False
    ratio = (one.amount / other.amount).normalize()
    return ratio.as_tuple().digits == (1,) and ratio != 1


ROUNDED: Final = Decimal("0.15")
"""A name may round a capacity, and call GiB what is GB. common practice, no source"""


def _apart(one: Quantity, other: Quantity) -> bool:
    return abs(one.amount - other.amount) > ROUNDED * max(one.amount, other.amount)


def _turned(one: str, other: str) -> bool:
    """Whether two numbers have the same digits in another order, the point where it was."""
    alike = len(one) == len(other) and one.find(".") == other.find(".")
    return alike and one != other and sorted(one) == sorted(other)


def _named(dimension: type[Quantity], figure: str, unit: str) -> Quantity | None:
    if unit not in BY_DIMENSION[dimension.dimension.name]:
        return None
    key = dimension, figure, unit
    if key not in _NAMED:
        _NAMED[key] = dimension.of(figure, unit)
    return _NAMED[key]
