"""Finding the one build a command is about."""

from pathlib import Path

import click

from specgen.cli.terminal import no_such, tell
from specgen.diagnostics import Finding, arrange
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


def findings_about(found: Survey, name: str) -> tuple[Finding, ...]:
    """All findings but those in files that hold other builds only."""
    case = found.cases.get(name)
    if case is None or case.build is None or found.definitions is None:
        return found.findings
    own = case.build.origin.at("id").file
    others = {build.origin.at("id").file for build in found.definitions.builds.values()} - {own}
    return tuple(each for each in found.findings if each.at.span.file not in others)
