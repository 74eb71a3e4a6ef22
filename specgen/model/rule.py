"""A declared rule: what the positions and needs of parts do not say by themselves."""

import re
from typing import Annotated, Literal

from specgen.messages import say
from specgen.model.fields import Day, Text, record, text_of, wrong
from specgen.model.markers import Before, Json

_CODE = re.compile(r"^(?!SG-)[A-Z][A-Z0-9]{0,7}(?:-[A-Z][A-Z0-9]{0,7})?-[0-9]{1,6}$")


def _code(value: object) -> object:
    text = text_of(value)
    if not _CODE.match(text):
        help_ = say("such as `QW-017`; `SG` is kept for the program's own checks")
        raise wrong(say("a code of capital letters, a hyphen and digits"), help_)
    return text


RuleCode = Annotated[str, Before(_code), Json({"type": "string", "pattern": _CODE.pattern})]
ReasonText = Annotated[
    str,
    Before(text_of),
    Json({"type": ["string", "boolean"], "minLength": 1, "examples": ['inlet <= "30 degC"']}),
]
"""The text of a condition, read by `specgen.expressions`."""


@record
class Rule:
    """What a system must keep (`require`) or must not be (`forbid`), where `when` holds.

    `because` is the sentence a reader sees. Outside `from` to `until`, both included, a rule is
    not applied; the date of the build counts, else the project's.
    """

    code: RuleCode
    when: ReasonText | None = None
    require: ReasonText | None = None
    forbid: ReasonText | None = None
    because: Text | None = None
    severity: Literal["error", "warning", "note"] = "error"
    from_: Day | None = None
    until: Day | None = None
