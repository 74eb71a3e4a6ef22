"""What stays on one line wherever it is written: patterns that formats put together."""

import re
from typing import Final

from specgen.quantity import UNITS

_NUMBER: Final = r"\d?[A-Z]?\d{1,4}"
HOLDER: Final = rf"(?:[A-Z][A-Z0-9.]{{1,15}} {_NUMBER}\.)?"
"""What holds a position: the `OCP 2.` of `OCP 2.PORT 1`."""
RANGE: Final = rf"{HOLDER}[A-Z][\w.]{{0,15}}(?: {_NUMBER}|\d) (?:to|bis) {_NUMBER}"
"""Positions from one to another: `DIMM 1A1 to 1H2`, `CPU1 to 2`."""
SPEED: Final = r"(?:x\d+ )?Gen \d(?!\d)"
"""What a link runs at: `x8 Gen 4`."""
_SIGNS: Final = "|".join(  # the longest first: `MB/s` before `MB`
    map(re.escape, sorted((unit.sign for unit in UNITS), key=len, reverse=True))
)
MEASURED: Final = rf"\d[\d.,]* (?:{_SIGNS})(?:/\w+)?(?!(?<= in) \w)"
"""A number with its unit in a text of an author: `60 mm`. The `in` of `8 in use` is no unit."""
