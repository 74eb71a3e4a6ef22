"""Amounts several times those of all parts alike: a point lost, a digit or a prefix too many.

Parts of one kind, form, medium and interface have much in common. Where at least four of them are
close to one another in a field, one that is far from all of them is doubted; where they differ
among themselves, nothing is said. The numbers are common practice, without a source.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.fitness import field_of
from specgen.messages import AsWritten, say
from specgen.model import Definitions, Part
from specgen.quantity import Quantity

ALIKE: Final = ("form", "medium", "interface", "technology", "socket")
"""Fields that parts are alike by, beside their kind."""
HELD: Final = (
    *("mass", "power.idle", "power.typical", "power.maximum", "read", "write", "noise"),
    *("airflow", "input_current", "mean_time_between_failures", "size.width", "size.height"),
    *("size.depth", "tdp_limit", "load_rating"),
)
"""Fields that are alike in parts alike."""
ENOUGH: Final = 4
"""So many others tell what is usual."""
CLOSE: Final = 3
"""They are close where the greatest is less than so many times the least."""
FAR: Final = 5
"""And so many times above the greatest, or below the least, is far."""


class _Stated(NamedTuple):
    part: Part
    value: Quantity
    at: Span


def unlike_siblings(definitions: Definitions) -> Iterator[Finding]:
    """SG128 for each amount that is far from those of all parts alike."""
    for group in _groups(definitions).values():
        if len(group) <= ENOUGH:
            continue
        for name in HELD:
            stated = [_Stated(part, value, _at(part, name)) for part, value in _values(group, name)]
            yield from _far(name, stated)


def _groups(definitions: Definitions) -> Mapping[tuple[Any, ...], list[Part]]:
    found: dict[tuple[Any, ...], list[Part]] = {}
    for part in definitions.parts.values():
        key = (part.kind, *(getattr(part, name, None) for name in ALIKE))
        found.setdefault(key, []).append(part)
    return found


def _values(group: list[Part], name: str) -> Iterator[tuple[Part, Quantity]]:
    for part in group:
        value = field_of(part, name)
        if isinstance(value, Quantity) and value.amount > 0:
            yield part, value


def _at(part: Part, name: str) -> Span:
    return part.origin.at(*name.split("."))


def _far(name: str, stated: list[_Stated]) -> Iterator[Finding]:
    ranked = sorted(stated, key=lambda each: each.value.amount)
    if len({each.at for each in stated}) <= ENOUGH:
        return  # what a group has in common is one value
    for odd, others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
        least, most = others[0].value, others[-1].value
        if most.amount >= CLOSE * least.amount or any(each.at == odd.at for each in others):
            continue
        if most.amount * FAR < odd.value.amount or odd.value.amount * FAR < least.amount:
            yield Finding(
                codes.DOUBTFUL_UNIT,
                say("`{name}` is {value}, far from what is usual",
                    name=name.rpartition(".")[2], value=AsWritten(odd.value)),
                Label(odd.at, say("a prefix, a digit or the unit is probably another")),
                labels=(Label(others[0].at, say("one of them")),),
                notes=(say("parts alike have {least} to {most}",
                           least=AsWritten(least), most=AsWritten(most)),),
                help=say("check the number and its unit"),
            )  # fmt: skip
