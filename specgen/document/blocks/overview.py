"""What is built into a system, and the notes that go with it."""

from specgen.diagnostics import Severity
from specgen.document.blocks.cells import heads, table
from specgen.document.case import Case
from specgen.document.tree import Cell, Datum, Table, literal, words
from specgen.facts.terms import AREA, worded
from specgen.messages import Capital, listed, say


def fixtures(case: Case) -> Table | None:
    """Controls, indicators, connectors and labels that are built in."""
    rows: list[tuple[Cell, ...]] = [
        (
            words(fixture.name),
            words(worded(AREA, fixture.area)),
            words(fixture.what),
            (Datum(fixture.count, f"{case.platform.id}.fixtures.{at}.count"),),
            words(fixture.note or ""),
        )
        for at, fixture in enumerate(case.platform.fixtures)
    ]
    columns = heads(say("Name"), say("Where"), say("What"), say("Number"), say("Note"))
    return table(say("Controls, connectors and labels"), columns, rows, "fixtures-table")


def notes(case: Case) -> Table | None:
    """Warnings and notes that go with the system."""
    rows: list[tuple[Cell, ...]] = [
        (
            literal(finding.code.id),
            words(Capital(finding.message)),
            words(listed(finding.notes, "sentence") if finding.notes else ""),
        )
        for finding in case.findings
        if finding.severity is not Severity.ERROR
    ]
    columns = heads(say("Code"), say("Note"), say("Why"), short=True)
    return table(say("Review notes"), columns, rows, "notes-table")
