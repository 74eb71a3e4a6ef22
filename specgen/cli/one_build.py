"""Finding the one build a command is about."""

from pathlib import Path

import click

from specgen.cli.terminal import no_such, tell
from specgen.diagnostics import arrange
from specgen.pipeline import Machine, Survey, survey


def one_build(project: Path, name: str) -> tuple[Survey, Machine]:
    """The survey and the build's machine; ends the command where the build cannot be read."""
    found = survey(project, name)
    definitions = found.definitions
    if definitions is not None and name in found.machines:
        return found, found.machines[name]
    unreadable = definitions is None or name in found.loaded.unreadable_builds or (
        name in definitions.builds
    )
    if not unreadable:
        raise no_such("build", name, sorted(definitions.builds if definitions else ()))
    tell(arrange(found.loaded.findings), found.sources.texts, project)
    raise click.ClickException(f"`{name}` cannot be read")
