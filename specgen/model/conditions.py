"""The circumstances a machine is to work in."""

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from specgen.model.fields import record, wrong
from specgen.quantity import Length, Temperature, Voltage

_REDUNDANCY = re.compile(r"^(?:none|([1-9])\+([1-9]))$")


@dataclass(frozen=True, slots=True)
class Redundancy:
    """Supplies that carry the load, and how many more may fail: 1+1, 2+1, 2+2; none is 0 spare."""

    text: str
    spare: int

    def __str__(self) -> str:
        return self.text


def _redundancy(value: object) -> object:
    if isinstance(value, Redundancy):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError("empty", "is empty")
    match = _REDUNDANCY.match(value)
    if match is None:
        raise wrong("a redundancy", "write `none`, `1+1`, `2+1` or `2+2`")
    return Redundancy(str(value), int(match[2]) if match[2] else 0)


Redundant = Annotated[
    Redundancy,
    BeforeValidator(_redundancy),
    WithJsonSchema({"type": "string", "pattern": _REDUNDANCY.pattern}),
]


@record
class Conditions:
    """What a build, else its platform, else the project states."""

    line: Voltage | None = None
    inlet: Temperature | None = None
    altitude: Length | None = None
    redundancy: Redundant | None = None


ANYWHERE = Conditions()
