"""Amounts among the attributes of parts: another unit than in parts alike, ten times theirs.

Attributes are texts of the project's own, so nothing is known of one but how others of its name are
written. What a memory module says of its dies has to make up its capacity as well.
"""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Final, NamedTuple

from specgen.diagnostics import Finding, Label, codes
from specgen.fitness import field_of
from specgen.messages import NOTHING, AsWritten, Message, Nothing, say
from specgen.model import Definitions, Part

_AMOUNT: Final = re.compile(r"(\d+(?:\.\d+)?)\s?([^\W\d_]{1,4}(?:/[^\W\d_]{1,4})?)?")
ENOUGH: Final = 3
"""So many others tell how an attribute is written."""
CLOSE: Final = 4
"""They are close where the greatest is up to so many times the least."""
FAR: Final = 5
"""And so many times above the greatest, or below the least, is far."""
GBIT: Final = 2**30
STACKED: Final = (1, 2, 4, 8, 16)
"""Dies in one package (JESD79-4, JESD79-5, from memory)."""


class _Stated(NamedTuple):
    part: Part
    number: Decimal
    unit: str


def attribute_amounts(definitions: Definitions) -> Iterator[Finding]:
    """SG128 for an amount of an attribute that is unlike all others of its name."""
    found: dict[tuple[str, str], list[_Stated]] = {}
    for part in definitions.parts.values():
        for name, text in part.attributes.items():
            match = _AMOUNT.fullmatch(str(text).strip())
            if match is not None:
                stated = _Stated(part, Decimal(match[1]), match[2] or "")
                found.setdefault((part.kind, name), []).append(stated)
    for (_, name), alike in found.items():
        for each in alike:
            others = [other for other in alike if other is not each]
            yield from _unlike(name, each, others) or _dies(name, each)


def _unlike(name: str, own: _Stated, others: Sequence[_Stated]) -> list[Finding]:
    units = {each.unit for each in others}
    if len(others) < ENOUGH or len(units) != 1:
        return []
    (unit,) = units
    if own.unit != unit:
        if own.unit and all(own.number != each.number for each in others):
            return []  # another number in another unit may be the same amount
        meant = f"{own.number} {unit}".strip()
        why = say("all others of its name are in {unit}", unit=unit) if unit else NOTHING
        return [_finding(name, own, others[0], why, say("write `{right}`", right=meant))]
    numbers = sorted(each.number for each in others)
    least, most = numbers[0], numbers[-1]
    far = own.number >= FAR * most or own.number * FAR <= least
    if least and own.number and most <= CLOSE * least and far:
        why = say("others have {least} to {most}", least=f"{least} {unit}", most=f"{most} {unit}")
        return [_finding(name, own, others[0], why, say("check the number and its unit"))]
    return []


def _finding(
    name: str, own: _Stated, other: _Stated, why: Message | Nothing, help_: Message
) -> Finding:
    return Finding(
        codes.DOUBTFUL_UNIT,
        say("the attribute `{name}` is {value}, unlike all others",
            name=name, value=f"{own.number} {own.unit}".strip()),
        Label(own.part.origin.at("attributes", name), say("probably another unit or number")),
        labels=(Label(other.part.origin.at("attributes", name), say("one of them")),),
        notes=(why,) if why else (),
        help=help_,
    )  # fmt: skip


def _dies(name: str, own: _Stated) -> Iterator[Finding]:
    """SG130 for dies that do not make up the capacity of their module."""
    part, width = own.part, field_of(own.part, "device_width")
    ranks, capacity = field_of(part, "ranks"), field_of(part, "capacity")
    if own.unit not in ("Gbit", "Gb") or not isinstance(width, int) or not isinstance(ranks, int):
        return
    if capacity is None or not own.number or not width:
        return
    package = Fraction(capacity.amount) * 8 / GBIT / (ranks * Fraction(64, width))
    if package / Fraction(own.number) in STACKED:
        return
    yield Finding(
        codes.DOUBTFUL_VALUE,
        say("the attribute `{name}` is {value}, and {ranks} x {width} packages of {capacity} hold "
            "{package} Gbit each",
            name=name, value=f"{own.number} {own.unit}", ranks=ranks, width=f"x{width}",
            capacity=AsWritten(capacity), package=f"{float(package):.6g}"),
        Label(part.origin.at("attributes", name), say("no whole number of these in a package")),
        labels=(
            Label(part.origin.at("capacity"), say("the capacity")),
            Label(part.origin.at("ranks"), say("the ranks")),
            Label(part.origin.at("device_width"), say("the device width")),
        ),
        notes=(say("capacity = ranks x 64 bits / device width x bits of a package"),),
        help=say("check the attribute, the ranks and the device width"),
    )  # fmt: skip
