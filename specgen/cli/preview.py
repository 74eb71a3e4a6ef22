"""`specgen preview`."""

from pathlib import Path

import click

from specgen.cli.fault_report import tell_fault
from specgen.cli.publishing import NothingToPublish, cores, publish
from specgen.cli.terminal import in_project, print_findings, status_of
from specgen.cli.this_run import Run
from specgen.files.scratch import scratch
from specgen.shipped import site_folder, templates_folder
from specgen.site.preview import CannotPreview, preview
from specgen.site.search import Index


@click.command("preview")
@in_project
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to serve at.")
@click.option("--port", type=click.IntRange(0, 65535), default=8420, show_default=True)
@click.pass_obj
def command(run: Run, project: Path, host: str, port: int) -> int:
    """Serve the site on this computer and make it again when a definition or template changes.

    Drafts are among its pages, marked.
    """
    with scratch() as folder:
        target, cache, index = folder / "site", folder / "drawings", Index()

        def build() -> None:
            report, sources, findings = publish(
                project, target, cores(), True, cache, index, drafts=True
            )
            if status_of(findings):
                print_findings(findings, sources.texts, project)
            click.echo(f"{report.pages} pages", err=True)

        def failed(problem: Exception) -> None:
            if isinstance(problem, NothingToPublish):
                print_findings(problem.findings, problem.sources.texts, project)
            elif not isinstance(problem, click.ClickException):
                tell_fault(problem, run, ("preview",))
                click.echo("kept the last good site", err=True)
                return
            click.echo(f"kept the last good site: {problem}", err=True)

        def ready(url: str) -> None:
            click.echo(f"serving {url}  (Ctrl+C stops)", err=True)

        watched = [project, templates_folder(), site_folder()]
        try:
            preview(build, watched, host, port, target, ready=ready, failed=failed)
        except CannotPreview as problem:
            raise click.ClickException(str(problem)) from None
    return 0
