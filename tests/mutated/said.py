"""What is said of a break, worked out once for all tests of a process."""

from collections.abc import Iterable
from functools import cache
from typing import Any, NamedTuple

from specgen.diagnostics import Finding
from specgen.diagnostics.as_text import full
from tests.mutated.breaks import Break
from tests.projects import edited, project
from tests.timing import first_of_each

OF_A_CODE = 1
"""So many breaks of each code are tried in every run, of each table; the others in slow ones."""


def tried(*tables: Iterable[Break]) -> list[Any]:
    """The breaks of tables as parameters of a test."""
    return [
        each
        for table in tables
        for each in first_of_each(OF_A_CODE, table, lambda case: case.expected[0][0])
    ]


class Said(NamedTuple):
    """The findings, the code of each with the line it points at, and all of them as text."""

    findings: tuple[Finding, ...]
    places: tuple[tuple[str, str], ...]
    text: str

    @property
    def codes(self) -> list[str]:
        return sorted(code for code, _ in self.places)


@cache
def said_of(case: Break) -> Said:
    found = project(edited(case.file, case.old, case.new))
    places = tuple((each.code.id, found.line(each)) for each in found.findings)
    text = "\n".join(full(each, found.sources.texts) for each in found.findings)
    return Said(found.findings, places, text)
