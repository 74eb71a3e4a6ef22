"""`specgen check`."""

import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.cli.one_build import asked, files_of_others, kept
from specgen.cli.terminal import (
    asked_conditions,
    in_project,
    keeping,
    no_such,
    painter,
    quietly,
    shown,
    status_of,
    with_templates,
)
from specgen.diagnostics import Finding, Severity, arrange
from specgen.diagnostics.as_text import one_line, report
from specgen.diagnostics.fault import found_before, in_a_line
from specgen.document.prose.texts import PAGES, PROSE
from specgen.messages.catalogue import FOLDER
from specgen.model import ANYWHERE, Conditions
from specgen.pipeline import Survey, bare_case, survey, systems_of
from specgen.rules.told_once import told_once
from specgen.shipped import own_templates
from specgen.source import PICTURES

Findings = tuple[Finding, ...]

if TYPE_CHECKING:
    from specgen.document.case import Case
    from specgen.document.template import Templates


@click.command("check")
@click.argument("build", required=False)
@in_project
@asked_conditions
@quietly
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "lines", "json", "sarif"]),
    default="text",
    help="How to print findings; lines is one a line, for editors.",
)
@click.option("--limit", type=click.IntRange(1), default=50, help="Most findings to print in full.")
@keeping
@click.option("--deep", is_flag=True, help="Also ask a solver what is doubtful about the rules.")
def command(
    build: str | None,
    project: Path,
    at: tuple[str, ...],
    quiet: bool,
    form: str,
    limit: int,
    deep: bool,
    keep: str | None,
) -> int:
    """Find what is wrong with the definitions, the builds and the templates, or with one BUILD.

    Conditions asked for with --at go before those that the definitions state.
    For one BUILD with errors, the nearest builds that pass are named; positions of --keep stay in
    them as they are.
    Exit status: 0 no finding of severity error, 1 errors found, 2 could not read, 3 specgen itself
    went wrong; what it had found until then is printed all the same.
    """
    if keep is not None and build is None:
        raise click.UsageError("--keep is about one BUILD")
    faults: list[Exception] = []
    conditions = asked(at)
    found, findings = _found(build, project, deep, faults, conditions)
    message = tuple(map(in_a_line, faults))
    if form == "json":
        from specgen.diagnostics.as_json import json_text

        click.echo(json_text(findings, shown=shown(project), faults=message), nl=False)
    elif form == "sarif":
        from specgen.diagnostics.as_sarif import sarif_text

        click.echo(sarif_text(findings, shown=shown(project), faults=message), nl=False)
    elif form == "lines":
        from specgen.diagnostics.most import left_out, most_of

        kept_ones, rest = most_of(_problems(findings, quiet))
        for each in kept_ones:
            click.echo(one_line(each, shown=shown(project)))
        if rest:
            click.echo(left_out(rest), err=True)
    elif found is not None:
        _in_full(findings, found, quiet or bool(faults), limit)
        if build is not None and not faults:
            from specgen.cli.solver_help import print_nearest

            case = found.cases.get(build)
            names = () if case is None else kept(keep, case)
            print_nearest(found, build, names, conditions)
    elif findings:
        click.echo(report(findings, {}, shown=shown(project), paint=painter(sys.stdout)))
    if faults:
        ours = [each for each in faults if not isinstance(each, (OSError, click.ClickException))]
        raise ExceptionGroup("several", ours) if len(ours) > 1 else (*ours, *faults)[0]
    return 2 if found is None or found.definitions is None else status_of(findings)


def _found(
    build: str | None,
    project: Path,
    deep: bool,
    faults: list[Exception],
    at: Conditions = ANYWHERE,
) -> tuple[Survey | None, Findings]:
    """Everything found; what is raised on the way goes to `faults` and stops no other."""
    try:
        found = survey(project, build, at, faults)
    except Exception as fault:
        faults.append(fault)
        return None, arrange(found_before(fault))
    _known(found, build)
    checks: list[Callable[[], Findings]] = [
        lambda: found.of_project,
        lambda: _of_templates(found),
        lambda: _of_texts(found, build),
        lambda: _of_translations(found, build),
    ]
    if deep:
        from specgen.cli.solver_help import doubts_about

        checks.append(lambda: doubts_about(found))
    findings = [*found.loaded.findings]
    for check in checks:
        try:
            findings += check()
        except Exception as fault:
            faults.append(fault)
    for each in faults:
        findings += found_before(each)
    others = frozenset[str]() if build is None else files_of_others(found, build)
    systems = [(case.assembly, case.findings) for case in found.cases.values()]
    told = told_once(findings, systems)
    return found, tuple(each for each in told if each.at.span.file not in others)


def _of_templates(found: Survey) -> Findings:
    """What would stop the templates in use; the shipped ones are no business of an author's."""
    if found.definitions is None or not own_templates(found.root).is_dir():
        return ()
    from specgen.document.proofread import proofread

    definitions = found.definitions
    platforms = [bare_case(definitions, each) for each in definitions.platforms.values()]
    return proofread(_templates(found.root), definitions, found.cases.values(), platforms)


def _templates(root: Path) -> "Templates":
    from specgen.document.shelf import templates_of  # only where something reads templates

    return templates_of(root)


def _of_texts(found: Survey, build: str | None) -> Findings:
    """What is wrong with prose and pages; of one build, with the texts about it."""
    if found.definitions is None or not any(
        (found.root / each).is_dir() for each in (PAGES, PROSE, PICTURES)
    ):
        return ()
    from specgen.document.prose.text_subjects import Subjects
    from specgen.limits.promised import promised
    from specgen.site.text_checks import check_texts

    limits = {
        name: promised(found.definitions, each)
        for name, each in found.definitions.platforms.items()
    }
    systems = systems_of(found.definitions, found.cases, found.of_project)

    def tables() -> Mapping[str, Callable[["Case"], object]]:
        from specgen.document.template_calls import tables_in

        return tables_in(found.root)

    subjects = Subjects(found.definitions, systems, limits, tables)
    texts, findings = check_texts(found.root, found.loaded, subjects)
    if not all(text.is_page for text in texts):  # templates are read for prose alone
        from specgen.document.prose.unprinted import unprinted
        from specgen.document.template_calls import OnDisk

        findings = (*findings, *unprinted(texts, OnDisk(found.root), subjects))
    others = {text.file for text in texts if build not in (None, text.subject)}
    return tuple(each for each in findings if each.at.span.file not in others)


def _of_translations(found: Survey, build: str | None) -> Findings:
    """What is wrong with the project's own translations, which are about no build alone."""
    if found.definitions is None or build is not None or not (found.root / FOLDER).is_dir():
        return ()
    from specgen.document.translations.catalogue_checks import check_catalogues

    return check_catalogues(found.root, found.definitions)


def _problems(findings: Findings, quiet: bool) -> Findings:
    """Those that a person asked for: all, or `quiet` those that are no notes."""
    return tuple(each for each in findings if not quiet or each.severity is not Severity.NOTE)


def _in_full(findings: Findings, found: Survey, quiet: bool, limit: int) -> None:
    """The findings as text for a person, or that there are none; problems alone where `quiet`."""
    text = report(
        _problems(findings, quiet),
        with_templates(found.sources.texts, findings, found.root),
        shown=shown(found.root),
        paint=painter(sys.stdout),
        limit=limit,
    )
    if text:
        click.echo(text)
    elif not quiet:
        count = len(found.cases)
        click.echo(f"no findings in {count} build{'' if count == 1 else 's'}")


def _known(found: Survey, build: str | None) -> None:
    if build is None or found.definitions is None or build in found.definitions.builds:
        return
    if build in found.loaded.unreadable_builds:
        return
    raise no_such("build", build, sorted(found.definitions.builds))
