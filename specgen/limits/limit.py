"""What a limit is."""

from dataclasses import dataclass
from enum import StrEnum

from specgen.model import Build
from specgen.quantity import Quantity

Amount = int | Quantity


class Status(StrEnum):
    """How sure a limit is."""

    PROVED = "proved"
    FOUND = "best found"
    NOTHING = "no build"


@dataclass(frozen=True, slots=True)
class Limit:
    """The most or least of a quantity that any valid build of a platform reaches.

    `value` is what `build` reaches, which the checks found sound; no valid build goes beyond
    `bound`. The two are equal where the limit is proved. `rounds` counts the builds judged.
    """

    key: str
    label: str
    most: bool
    value: Amount | None
    bound: Amount | None
    status: Status
    build: Build | None
    text: str
    rounds: int
