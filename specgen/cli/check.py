"""`specgen check`."""

import json
import sys
from pathlib import Path

import click

from specgen.cli.one_build import findings_about
from specgen.cli.output import steering_nothing
from specgen.cli.terminal import (
    in_project,
    no_such,
    painter,
    quietly,
    shown,
    status_of,
    with_templates,
)
from specgen.diagnostics import Finding, arrange
from specgen.diagnostics.as_json import as_json
from specgen.diagnostics.text import one_line, report
from specgen.document.documents import templates_of
from specgen.document.proofread import proofread
from specgen.document.prose import Subjects
from specgen.limits.reach import promised
from specgen.pipeline import Survey, bare_case, machines_of, survey
from specgen.site.texts import check_texts


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
@click.option("--deep", is_flag=True, help="Also ask a solver what is doubtful about the rules.")
def command(
    build: str | None, project: Path, quiet: bool, form: str, limit: int, deep: bool
) -> int:
    """Find what is wrong with the definitions, the builds and the templates, or with one BUILD.

    For one BUILD with errors, the nearest builds that pass are named where a solver is installed.
    Exit status: 0 no finding of severity error, 1 errors found, 2 could not read.
    """
    found = survey(project, build)
    _known(found, build)
    findings = found.findings if build is None else findings_about(found, build)
    findings = arrange(
        [*findings, *_of_templates(found, project), *_of_texts(found, build, project)]
    )
    if deep:
        from specgen.cli.asking import doubts_about

        findings = arrange([*findings, *doubts_about(found)])
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
            with_templates(found.sources.texts, findings, project),
            shown=shown(project),
            paint=painter(sys.stdout),
            limit=limit,
        )
        if text:
            click.echo(text)
        elif not quiet:
            count = len(found.cases)
            click.echo(f"no findings in {count} build{'' if count == 1 else 's'}")
        if build is not None:
            from specgen.cli.asking import say_nearest

            say_nearest(found, build)
    if found.definitions is None:
        return 2
    return status_of(findings)


def _of_templates(found: Survey, project: Path) -> tuple[Finding, ...]:
    """What would stop the templates in use."""
    if found.definitions is None:
        return ()
    definitions = found.definitions
    platforms = [bare_case(definitions, each) for each in definitions.platforms.values()]
    return proofread(templates_of(project), definitions, found.cases.values(), platforms)


def _of_texts(found: Survey, build: str | None, project: Path) -> tuple[Finding, ...]:
    """What is wrong with prose and pages; of one build, with the texts about it."""
    if found.definitions is None:
        return ()
    limits = dict.fromkeys(found.definitions.platforms, promised())
    machines = machines_of(found.definitions, found.cases)
    subjects = Subjects(found.definitions, machines, limits)
    texts, findings = check_texts(project, found.loaded, subjects)
    others = {text.file for text in texts if build not in (None, text.subject)}
    return tuple(each for each in findings if each.at.span.file not in others)


def _known(found: Survey, build: str | None) -> None:
    if build is None or found.definitions is None or build in found.definitions.builds:
        return
    if build in found.loaded.unreadable_builds:
        return
    raise no_such("build", build, sorted(found.definitions.builds))
