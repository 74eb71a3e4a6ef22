"""What is told of a fault of our own: that it is ours, what it was, and where its details are."""

import os
import sys
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import click

from specgen.cli.terminal import print_findings
from specgen.cli.this_run import Run
from specgen.diagnostics import arrange
from specgen.diagnostics.fault import found_before, in_a_line, traced
from specgen.diagnostics.glyphs import harmless
from specgen.files.scratch import lasting_place


def tell_fault(bug: Exception, run: Run, arguments: Sequence[str]) -> None:
    """Tells of a fault on the error stream, after what was found of the project until then."""
    with suppress(Exception):  # whatever is the matter with these, the fault itself is told
        print_findings_of(run, bug)
    with suppress(OSError):
        click.echo(harmless(f"specgen itself went wrong: {in_a_line(bug)}"), err=True)
        details = _details(bug, run, arguments)
        click.echo(f"This is a fault of the program, no mistake of yours. {details}", err=True)


def print_findings_of(run: Run, problem: BaseException) -> None:
    """What a run has found until something ended it."""
    survey = run.found
    found = [*found_before(problem), *run.more]
    if survey is None:
        print_findings(arrange(found), {}, Path())
        return
    found += [*survey.loaded.findings, *survey.of_builds]
    try:
        found += survey.of_project
    except Exception as again:  # the same, most likely: told once
        found += found_before(again)
    print_findings(arrange(found), survey.sources.texts, survey.root)


def _details(bug: Exception, run: Run, arguments: Sequence[str]) -> str:
    """Where the details are: on the error stream, else in a file of the temporary folder."""
    system = f"Python {sys.version.split()[0]}, {sys.platform}"
    details = "\n".join((f"specgen {' '.join(arguments)}", system, "", traced(bug)))
    if run.debug:
        return f"Its details:\n{details}"
    try:
        handle, path = tempfile.mkstemp(".txt", "specgen-fault-", lasting_place())
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(details)
    except OSError:
        return "`specgen --debug` prints its details."
    return f"Its details are in {path}; please report it with them."
