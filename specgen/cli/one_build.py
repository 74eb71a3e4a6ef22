"""Finding the one build a command is about."""

from pathlib import Path

import click

from specgen.cli.terminal import no_such, print_findings, remembered
from specgen.diagnostics import Finding, Severity, arrange
from specgen.diagnostics.glyphs import harmless
from specgen.document.case import Case
from specgen.load.decode import decode
from specgen.model import NOWHERE, BadRange, Conditions, expand, natural
from specgen.pipeline import Survey, held_back, survey
from specgen.source import YamlMapping, YamlScalar


def one_build(project: Path, name: str, at: tuple[str, ...] = ()) -> tuple[Survey, Case]:
    """The survey and the build's case; ends the command where the build cannot be read.

    `at` are conditions asked for, `NAME=VALUE`.
    """
    faults: list[Exception] = []
    found = remembered(survey(project, name, asked(at), faults))
    if faults:
        raise faults[0]
    definitions = found.definitions
    if definitions is not None and name in found.cases:
        return found, held_back(found.cases[name], found.of_project)
    unreadable = (
        definitions is None
        or name in found.loaded.unreadable_builds
        or (name in definitions.builds)
    )
    if not unreadable:
        raise no_such("build", name, sorted(definitions.builds if definitions else ()))
    print_findings(arrange(found.loaded.findings), found.sources.texts, project)
    raise click.ClickException(f"`{name}` cannot be read")


def findings_about(found: Survey, name: str) -> tuple[Finding, ...]:
    """All findings but those in files that hold other builds only."""
    others = files_of_others(found, name)
    return tuple(each for each in found.findings if each.at.span.file not in others)


def errors_apart(found: Survey, name: str) -> tuple[Finding, ...]:
    """Errors in definitions that no other parts of a build would mend; those of other builds are
    none of its business."""
    others = files_of_others(found, name)
    return tuple(
        each
        for each in found.of_project
        if each.severity is Severity.ERROR and each.at.span.file not in others
    )


def files_of_others(found: Survey, name: str) -> frozenset[str]:
    """The files that hold other builds only; none where the build cannot be read."""
    builds = {} if found.definitions is None else found.definitions.builds
    if name not in builds:
        return frozenset()
    files = (build.origin.at("id").file for build in builds.values())
    return frozenset(files) - builds[name].origin.files


def asked(texts: tuple[str, ...]) -> Conditions:
    """The conditions of `--at`, read as those of a file are. Raises `click.UsageError`."""
    tree = YamlMapping()
    tree.span, tree.key_spans = NOWHERE, {}
    for text in texts:
        name, mark, value = text.partition("=")
        if not mark:
            raise click.UsageError(f"`--at {text}` needs a name, `=` and a value")
        tree[name.strip()] = YamlScalar.at(value.strip(), NOWHERE)
        tree.key_spans[name.strip()] = NOWHERE
    conditions, findings = decode(Conditions, tree)
    if conditions is None:
        message = "; ".join(
            str(found.message) + (f" ({found.help})" if found.help else "") for found in findings
        )
        raise click.UsageError(f"--at: {message}")
    return conditions


def kept(text: str | None, case: Case) -> tuple[str, ...]:
    """The names of positions of `--keep`. Raises `click.UsageError`."""
    build = case.build
    filled = () if build is None else (name for each in build.fit for name in expand(each))
    known = {*case.assembly.places, *filled}
    try:
        names = () if text is None else expand(text.strip())
    except BadRange as problem:
        raise click.UsageError(harmless(f"--keep: {problem}")) from None
    for name in names:
        if name not in known:
            raise no_such("position", name, sorted(known, key=natural))
    return names
