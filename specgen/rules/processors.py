"""Processors: alike, and no more of them than work together."""

from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import say
from specgen.rules.constraints import Alike, AtMost, Chain, Excess, Odd


def _mixed(odd: Odd) -> Finding:
    part, other = odd.part, odd.other
    return Finding(
        codes.MIXED_PROCESSORS,
        say(
            "`{part}` in {place} beside `{other}` in {other_place}",
            part=part.id,
            place=odd.place.name,
            other=other.id,
            other_place=odd.other_place.name,
        ),
        Label(odd.place.at, say("another {lower}", lower=part.title.lower())),
        labels=(Label(odd.other_place.at, say("the first")),),
        help=say("use `{other}` in both", other=other.id),
    )


def _too_many(excess: Excess) -> Finding:
    part, limit = excess.part, excess.limit
    return Finding(
        codes.MIXED_PROCESSORS,
        say(
            "{total} of `{part}`, of which at most {limit} work together",
            total=excess.total,
            part=part.id,
            limit=limit,
        ),
        Label(excess.members[limit][0].at, say("one too many")),
        labels=(Label(part.origin.at("together"), say("together: {limit}", limit=limit)),),
    )


PROCESSORS: Final = Chain(
    (
        Alike(
            code=codes.MIXED_PROCESSORS,
            statement=say("processors are alike"),
            among="together",
            trait="id",
            group=lambda _place, part: part.kind,
            finding=_mixed,
        ),
        AtMost(
            code=codes.MIXED_PROCESSORS,
            statement=say("a processor works with so many of its kind"),
            amount=lambda part: 1 if hasattr(part, "together") else None,
            group=lambda _place, part: part.id,
            limit="together",
            limits=lambda _place, part: part.id,
            finding=_too_many,
        ),
    )
)
