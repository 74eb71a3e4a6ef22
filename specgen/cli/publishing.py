"""Making and publishing the site, for `site` and `preview` alike."""

import os
import tempfile
from pathlib import Path

import click

from specgen.cli.terminal import progress
from specgen.diagnostics import Finding, arrange
from specgen.load import Loaded, load
from specgen.pipeline import unknown_documents, unreadable_rules
from specgen.site.build import SiteReport, publish_site
from specgen.site.pages import make_pages, page_count
from specgen.site.publish import CannotPublish, refuse_foreign
from specgen.source import Sources, lasting, read_project


class NothingToPublish(Exception):
    """The project itself cannot be read; `args` are its sources and findings."""

    def __init__(self, sources: Sources, findings: tuple[Finding, ...]) -> None:
        super().__init__("the project cannot be read")
        self.sources = sources
        self.findings = findings


def cores() -> int:
    """How many processes can work at once."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not on every system
        return os.cpu_count() or 1


def publish(
    project: Path, target: Path, jobs: int, quiet: bool, cache: Path | None = None
) -> tuple[SiteReport, Sources, tuple[Finding, ...]]:
    """The site in place of `target`, the sources and everything found.

    Raises `NothingToPublish`, and a `click.ClickException` where the site cannot be written.
    """
    with lasting():
        sources = read_project(project)
        loaded: Loaded = load(sources)
    if loaded.definitions is None:
        raise NothingToPublish(sources, arrange(loaded.findings))
    try:
        refuse_foreign(target.resolve())  # before the work; publishing looks again
        with tempfile.TemporaryDirectory(prefix="specgen-") as scratch:
            with progress("pages", page_count(loaded), quiet) as done:
                made = make_pages(project, loaded, Path(scratch), jobs=jobs, cache=cache, done=done)
            report = publish_site(made.pages, made.shell, target, handwritten=project / "pages")
    except CannotPublish as problem:
        raise click.ClickException(f"{problem.message}. {problem.help}".strip()) from None
    except OSError as problem:
        raise click.ClickException(f"cannot publish: {problem.strerror or problem}") from None
    unknown = (*unknown_documents(project, loaded), *unreadable_rules(loaded))
    return report, sources, arrange([*loaded.findings, *unknown, *made.findings])
