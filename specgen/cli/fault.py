"""What is told of a fault of our own: that it is ours, what it was, and where its details are."""

import os
import sys
import tempfile
from collections.abc import Sequence

import click

from specgen.cli.run import Run
from specgen.cli.terminal import print_findings
from specgen.diagnostics import arrange
from specgen.diagnostics.fault import in_a_line, traced
from specgen.diagnostics.glyphs import harmless


def tell_fault(bug: Exception, run: Run, arguments: Sequence[str]) -> None:
    """Tells of a fault on the error stream, after what was found of the project until then."""
    if run.found is not None:
        print_findings(
            arrange([*run.found.findings, *run.more]), run.found.sources.texts, run.found.root
        )
    click.echo(harmless(f"specgen itself went wrong: {in_a_line(bug)}"), err=True)
    details = _details(bug, run, arguments)
    click.echo(f"This is a fault of the program, no mistake of yours. {details}", err=True)


def _details(bug: Exception, run: Run, arguments: Sequence[str]) -> str:
    """Where the details are: on the error stream, else in a file of the temporary folder."""
    system = f"Python {sys.version.split()[0]}, {sys.platform}"
    details = "\n".join((f"specgen {' '.join(arguments)}", system, "", traced(bug)))
    if run.debug:
        return f"Its details:\n{details}"
    try:
        handle, path = tempfile.mkstemp(prefix="specgen-fault-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(details)
    except OSError:
        return "`specgen --debug` prints its details."
    return f"Its details are in {path}; please report it with them."
