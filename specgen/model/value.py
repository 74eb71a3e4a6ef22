"""Values of a project's own: what they are called, and how they are worked out."""

import re
from typing import Annotated

from specgen.messages import say
from specgen.model.fields import Text, record, text_of, wrong
from specgen.model.markers import Before, Json
from specgen.model.pedigree import Source
from specgen.model.rule import ReasonText

_KEY = re.compile(r"^[a-z][a-z0-9_]*(?:\.(?:[a-z][a-z0-9_]*|\{[a-z]+\}))+$")


def _key(value: object) -> object:
    text = text_of(value)
    if not _KEY.match(text) or text.count("{") > 1:
        help_ = say(
            "such as `house.power_per_core`, with `{{position}}` for one step where it has `over`"
        )
        needs = say("a key of small letters, digits and `_` in steps joined by points")
        raise wrong(needs, help_)
    return text


FactKey = Annotated[str, Before(_key), Json({"type": "string", "pattern": _KEY.pattern})]
"""The key of a fact; one step in braces stands for each thing that the fact is about."""


@record
class OwnValue:
    """A value that the project works out of facts and declared fields, for every system.

    `expression` and `when` are read by `specgen.expressions`. With `over` there is one for each
    part of a collection (`over: accelerators`; the part is `it`, its position `{position}`), or
    for each thing that built-in facts are about (`over: volume`, `{volume}`).
    """

    key: FactKey
    label: Text
    short: Text | None = None
    """The label as the head of a column."""
    expression: ReasonText
    unit: Text | None = None
    """What an amount is printed in; a bare number is one of this unit."""
    when: ReasonText | None = None
    """Where this does not hold, there is no value."""
    over: Text | None = None
    formula: Text | None = None
    """The expression in words; readers see the expression itself without them."""
    assumes: Text | None = None
    """What the formula takes for granted."""
    source: Source | None = None
    """Where the formula is from."""
