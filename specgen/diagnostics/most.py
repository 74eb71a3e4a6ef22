"""How many findings a report holds: more are read by nobody, and fill memories and services."""

from collections.abc import Iterable
from typing import Final

from specgen.diagnostics.finding import Finding, arrange

MOST: Final = 10_000


def most_of(findings: Iterable[Finding], most: int = MOST) -> tuple[tuple[Finding, ...], int]:
    """The findings, the gravest where there are too many; and how many are left out."""
    found = arrange(findings)
    if len(found) <= most:
        return found, 0
    kept = sorted(found, key=lambda each: each.severity.rank)[:most]  # else in their order
    return arrange(kept), len(found) - most


def left_out(count: int) -> str:
    """The rest in words."""
    return f"{count} more finding{'' if count == 1 else 's'} left out: mend these first"
