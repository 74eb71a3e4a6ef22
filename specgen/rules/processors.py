"""Processors: alike, and no more of them than work together."""

from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.rules.constraints import Alike, AtMost, Chain, Excess, Odd


def _mixed(odd: Odd) -> Finding:
    part, other = odd.part, odd.other
    return Finding(
        codes.MIXED_PROCESSORS,
        f"`{part.id}` in {odd.place.name} beside `{other.id}` in {odd.other_place.name}",
        Label(odd.place.at, f"another {part.title.lower()}"),
        labels=(Label(odd.other_place.at, "the first"),),
        help=f"use `{other.id}` in both",
    )


def _too_many(excess: Excess) -> Finding:
    part, limit = excess.part, excess.limit
    return Finding(
        codes.MIXED_PROCESSORS,
        f"{excess.total} of `{part.id}`, of which at most {limit} work together",
        Label(excess.members[limit][0].at, "one too many"),
        labels=(Label(part.origin.at("together"), f"together: {limit}"),),
    )


PROCESSORS: Final = Chain(
    (
        Alike(
            code=codes.MIXED_PROCESSORS,
            statement="processors are alike",
            among="together",
            trait="id",
            group=lambda _place, part: part.kind,
            finding=_mixed,
        ),
        AtMost(
            code=codes.MIXED_PROCESSORS,
            statement="a processor works with so many of its kind",
            amount=lambda part: 1 if hasattr(part, "together") else None,
            group=lambda _place, part: part.id,
            limit="together",
            limits=lambda _place, part: part.id,
            finding=_too_many,
        ),
    )
)
