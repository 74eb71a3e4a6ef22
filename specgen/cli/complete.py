"""`specgen complete`."""

from collections.abc import Mapping
from pathlib import Path

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import steering_nothing, write_out
from specgen.cli.terminal import in_project, tell
from specgen.diagnostics import Severity, worst
from specgen.diagnostics.glyphs import harmless
from specgen.limits import Near, NoSolver, NotWhole, TooLarge, Unpriced, completed
from specgen.limits.write import written
from specgen.model import Build, expand


@click.command("complete")
@click.argument("build")
@in_project
@click.option(
    "--least",
    type=click.Choice(["parts", "price", "power", "mass"]),
    default="parts",
    help="What to add least of; of equals, fewest parts.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def command(build: str, project: Path, least: str, output: Path | None) -> int:
    """Fill what BUILD leaves open, so that it passes the checks: YAML with what it has kept.

    What was added, and what the checks say without it, is told beside.
    Exit status: 0 completed, 1 no valid build holds all that it has, 2 could not read.
    """
    found, case = one_build(project, build)
    assert found.definitions is not None
    assert case.build is not None
    if worst(found.loaded.findings) is Severity.ERROR:
        tell(found.loaded.findings, found.sources.texts, project)
        raise click.ClickException("a build is completed where the definitions have no errors")
    try:
        near = completed(found.definitions, case.build, least)
    except (NoSolver, NotWhole, TooLarge, Unpriced) as problem:
        raise click.ClickException(harmless(str(problem))) from None
    if near is None:
        tell(findings_about(found, build), found.sources.texts, project)
        click.echo(harmless(f"no valid build was found that holds all of `{build}`"), err=True)
        return 1
    text = _written(found.sources.texts, case.build, near)
    write_out(steering_nothing(text).encode(), output)
    _say(near)
    return 0


def _written(texts: Mapping[str, str], build: Build, near: Near) -> str:
    """The build's file with what was added below its other parts, its comments kept.

    A file whose parts stand on one line, or that holds several definitions, is written anew.
    """
    origin = build.origin
    whole = texts.get(origin.at("id").file, "")
    keys = [origin.key("fit", name) for name in build.fit]
    apart = {key.line for key in keys} - {origin.key("fit").line}
    if len(apart) < len(keys) or not keys or origin.key("id").column != 1:
        return near.text
    last = max(origin.at("fit", name).end_line for name in build.fit)
    indent = " " * (keys[0].column - 1)
    added = [
        f"{indent}{name}: {written(fill)}"
        for name, fill in near.build.fit.items()
        if any(set(expand(name)) & set(change.names) for change in near.changes)
    ]
    lines = whole.splitlines()
    return "\n".join([*lines[:last], *added, *lines[last:]]) + "\n"


def _say(near: Near) -> None:
    if not near.changes:
        click.echo("nothing to add: it passes the checks", err=True)
    for change in near.changes:
        click.echo(harmless(change.words), err=True)
        why = "" if change.why is None else f"else {change.why.code.id}: {change.why.message}"
        if why:
            click.echo(harmless(f"    {why}"), err=True)
