"""Amounts that a part's own name writes with another prefix: 24 TB in the name, `24 GB` below it.

The same number under two units is a slip in one of them. Another number is left alone: names are
free text.
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
from specgen.rules.definitions.records import quantities_of

_AMOUNT: Final = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)\s?([kMGT]?i?(?:B|W|m|bit/s|B/s|Hz|T/s))\b")


def named_amounts(thing: Any, path: FieldPath, record: Any) -> Iterator[Finding]:
    """SG128 for each amount of a part that its name writes with another prefix."""
    if not isinstance(thing, Part):
        return
    found = [(match[1], match[2], match[0]) for match in _AMOUNT.finditer(thing.name)]
    if not found:
        return
    for name, dimension in quantities_of(type(record)):
        value = getattr(record, name)
        if not isinstance(value, Quantity):
            continue
        number = value.in_unit(value.unit.symbol)
        alike = [each for each in found if Decimal(each[0]) == number]
        if not alike or any(_named(dimension, *each[:2]) == value for each in found):
            continue
        for figure, unit, text in alike:
            if _named(dimension, figure, unit) is None:
                continue
            yield Finding(
                codes.DOUBTFUL_UNIT,
                say("`{name}` is {value}, and the name says {text}",
                    name=written(name), value=AsWritten(value), text=text),
                Label(thing.origin.at(*path, written(name)), say("probably another unit")),
                labels=(Label(thing.origin.at("name"), say("the name")),),
                help=say("write the same unit in both"),
            )  # fmt: skip
            break


def _named(dimension: type[Quantity], figure: str, unit: str) -> Quantity | None:
    known = unit in BY_DIMENSION[dimension.dimension.name]
    return dimension.of(figure, unit) if known else None
