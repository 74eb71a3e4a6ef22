"""Positions that allow several times what all positions alike allow: a digit or a prefix too many.

Positions are alike that take the same kinds in one form factor, whatever platform or part brings
them. The numbers are those of parts alike.
"""

from collections.abc import Iterator
from typing import Any, Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import AsWritten, say
from specgen.model import Definitions
from specgen.quantity import Quantity
from specgen.rules.definitions.doubtful.unlike_siblings import CLOSE, ENOUGH, FAR
from specgen.rules.definitions.named.mistaken_words import positions_of

HELD: Final = ("power", "tdp")


def unlike_places(definitions: Definitions) -> Iterator[Finding]:
    """SG128 for what a position allows, far from what all others alike allow."""
    groups: dict[tuple[Any, ...], dict[Span, Quantity]] = {}
    for origin, path, position in positions_of(definitions):
        for name in HELD:
            value = getattr(position, name)
            if isinstance(value, Quantity) and value.amount:
                key = (name, position.takes, position.form, position.height, position.length)
                groups.setdefault(key, {})[origin.at(*path, name)] = value
    for (name, *_), stated in groups.items():
        ranked = sorted(stated.items(), key=lambda each: each[1].amount)
        if len(ranked) <= ENOUGH:
            continue
        for (at, value), others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
            least, most = others[0][1], others[-1][1]
            far = most.amount * FAR < value.amount or value.amount * FAR < least.amount
            if far and most.amount < CLOSE * least.amount:
                yield Finding(
                    codes.DOUBTFUL_UNIT,
                    say("`{name}` is {value}, far from what is usual",
                        name=name, value=AsWritten(value)),
                    Label(at, say("a prefix, a digit or the unit is probably another")),
                    labels=(Label(others[0][0], say("one of the others")),),
                    notes=(say("positions alike have {least} to {most}",
                               least=AsWritten(least), most=AsWritten(most)),),
                    help=say("check the number and its unit"),
                )  # fmt: skip
