"""What is built into a system, and the notes that go with it."""

from specgen.diagnostics import Severity
from specgen.document.case import Case
from specgen.document.cells.cell_makers import table_of
from specgen.document.tree import Datum, Table, literal
from specgen.facts.terms import AREA, worded
from specgen.messages import Capital, listed, say


def fixtures(case: Case) -> Table | None:
    """Controls, indicators, connectors and labels that are built in."""
    name = case.platform.id
    return table_of(
        enumerate(case.platform.fixtures),
        say("Controls, connectors and labels"),
        "fixtures-table",
        (say("Name"), lambda _, fixture: fixture.name),
        (say("Where"), lambda _, fixture: worded(AREA, fixture.area)),
        (say("What"), lambda _, fixture: fixture.what),
        (say("Number"), lambda at, each: (Datum(each.count, f"{name}.fixtures.{at}.count"),)),
        (say("Note"), lambda _, fixture: fixture.note or ""),
    )


def notes(case: Case) -> Table | None:
    """Warnings and notes that go with the system."""
    return table_of(
        ((each,) for each in case.findings if each.severity is not Severity.ERROR),
        say("Review notes"),
        "notes-table",
        (say("Code"), lambda finding: literal(finding.code.id)),
        (say("Note"), lambda finding: Capital(finding.message)),
        (say("Why"), lambda each: listed(each.notes, "sentence") if each.notes else ""),
        short=True,
    )
