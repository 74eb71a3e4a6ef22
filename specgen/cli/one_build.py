"""Finding the one build a command is about."""

from pathlib import Path

import click

from specgen.cli.terminal import no_such, tell
from specgen.diagnostics import arrange
from specgen.document.case import Case
from specgen.pipeline import Survey, survey


def one_build(project: Path, name: str) -> tuple[Survey, Case]:
    """The survey and the build's case; ends the command where the build cannot be read."""
    found = survey(project, name)
    definitions = found.definitions
    if definitions is not None and name in found.cases:
        return found, found.cases[name]
    unreadable = (
        definitions is None
        or name in found.loaded.unreadable_builds
        or (name in definitions.builds)
    )
    if not unreadable:
        raise no_such("build", name, sorted(definitions.builds if definitions else ()))
    tell(arrange(found.loaded.findings), found.sources.texts, project)
    raise click.ClickException(f"`{name}` cannot be read")
