"""`specgen site`."""

import time
from pathlib import Path

import click

from specgen.cli.publishing import NothingToPublish, cores, publish
from specgen.cli.terminal import in_project, print_findings, quietly, status_of
from specgen.diagnostics import Severity


@click.command("site")
@in_project
@click.option(
    "-o",
    "--output",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("public"),
    show_default=True,
    help="The folder to publish into.",
)
@click.option("--jobs", type=click.IntRange(1), default=None, help="Processes to use.")
@click.option(
    "--drafts",
    is_flag=True,
    help="Publish builds with `published: false` as well, marked as drafts on every page.",
)
@quietly
def command(project: Path, output: Path, jobs: int | None, drafts: bool, quiet: bool) -> int:
    """Publish everything as a static site: platforms, builds, parts, search.

    Readers see the old site until the new one is whole. A build with errors gets a page that
    lists them, the others are published, and the exit status is 1. Where errors would take away
    a page that is published already, the old site stays.
    """
    began = time.perf_counter()
    try:
        report, sources, findings = publish(project, output, jobs or cores(), quiet, drafts=drafts)
    except NothingToPublish as problem:
        print_findings(problem.findings, problem.sources.texts, project)
        click.echo(str(problem), err=True)
        return problem.status
    print_findings(
        tuple(found for found in findings if found.severity is not Severity.NOTE),
        sources.texts,
        project,
    )
    if not quiet:
        seconds = time.perf_counter() - began
        click.echo(f"{report.pages} pages in {seconds:.1f} s: {report.start}")
    return status_of(findings)
