"""What is said of a break, worked out once for all tests of a process."""

from functools import cache
from typing import NamedTuple

from specgen.diagnostics import Finding
from specgen.diagnostics.as_text import full
from tests.mutated.breaks import Break
from tests.projects import edited, project


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
