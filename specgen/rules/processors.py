"""Processors: alike, and no more of them than work together."""

from typing import Final

from specgen.diagnostics import codes
from specgen.messages import say
from specgen.rules.constraints import Alike, AtMost, Chain

PROCESSORS: Final = Chain(
    (
        Alike(
            code=codes.MIXED_PROCESSORS,
            statement=say("processors are of one model"),
            among="together",
            trait="id",
            group=lambda _place, part: part.kind,
            message=say("`{part}` in {place} beside `{other}` in {other_place}"),
            at=say("another {title}"),
            other_label=say("the first"),
            help=say("use `{other}` in both"),
        ),
        AtMost(
            code=codes.MIXED_PROCESSORS,
            statement=say("processors of one model that work together: {limit} or fewer"),
            amount=lambda part: 1 if hasattr(part, "together") else None,
            group=lambda _place, part: part.id,
            limit="together",
            limits=lambda _place, part: part.id,
            message=say("{total} of `{part}`, of which up to {limit} work together"),
            at=say("one too many"),
            other_label=say("together: {limit}"),
        ),
    )
)
