"""`specgen check`."""

import json
import sys
from pathlib import Path

import click

from specgen.cli.one_build import findings_about
from specgen.cli.output import steering_nothing
from specgen.cli.terminal import in_project, no_such, painter, quietly, shown, status_of
from specgen.diagnostics.as_json import as_json
from specgen.diagnostics.text import one_line, report
from specgen.pipeline import Survey, survey


@click.command("check")
@click.argument("build", required=False)
@in_project
@quietly
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "lines", "json", "sarif"]),
    default="text",
    help="How to print findings; lines is one a line, for editors.",
)
@click.option("--limit", type=click.IntRange(1), default=50, help="Most findings to print in full.")
def command(build: str | None, project: Path, quiet: bool, form: str, limit: int) -> int:
    """Find what is wrong with the definitions and the builds, or with one BUILD.

    Exit status: 0 no finding of severity error, 1 errors found, 2 could not read.
    """
    found = survey(project, build)
    _known(found, build)
    findings = found.findings if build is None else findings_about(found, build)
    if form == "json":
        data = as_json(findings, shown=shown(project))
        click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))
    elif form == "sarif":
        from specgen.diagnostics.as_sarif import sarif_text

        click.echo(steering_nothing(sarif_text(findings, shown=shown(project))))
    elif form == "lines":
        for found_one in findings:
            click.echo(one_line(found_one, shown=shown(project)))
    else:
        text = report(
            findings,
            found.sources.texts,
            shown=shown(project),
            paint=painter(sys.stdout),
            limit=limit,
        )
        if text:
            click.echo(text)
        elif not quiet:
            count = len(found.cases)
            click.echo(f"no findings in {count} build{'' if count == 1 else 's'}")
    if found.definitions is None:
        return 2
    return status_of(findings)


def _known(found: Survey, build: str | None) -> None:
    if build is None or found.definitions is None or build in found.definitions.builds:
        return
    if build in found.loaded.unreadable_builds:
        return
    raise no_such("build", build, sorted(found.definitions.builds))
