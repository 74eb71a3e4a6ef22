"""`specgen complete`."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import steering_nothing, write_out
from specgen.cli.terminal import in_project, tell
from specgen.diagnostics import Severity, worst
from specgen.diagnostics.glyphs import harmless, lines_of
from specgen.limits.closure import TooLarge
from specgen.limits.near import Near, Unpriced, completed
from specgen.limits.solver import NoSolver, NotWhole
from specgen.limits.write import anew, joined, written
from specgen.model import Build, expand
from specgen.source import Fields


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

    Where parts do not stand one a line, or the file holds several definitions, the build is
    written anew, with all that it says.
    """
    tree = build.origin.tree
    if tree is None:
        return near.text
    lines = lines_of(texts.get(tree.span.file, ""))
    last = _last_line(tree, lines)
    if last is None:
        return anew(tree, near.build.fit)
    keys = tree["fit"].key_spans.values()
    indent = " " * (min(key.column for key in keys) - 1)
    new = {name for change in near.changes for name in change.names}
    fills = {name: fill for text, fill in near.build.fit.items() for name in expand(text)}
    more = joined(build, {name: fill for name, fill in fills.items() if name in new})
    added = [f"{indent}{name}: {written(fill)}" for name, fill in more.fit.items()]
    return "\n".join([*lines[:last], *added, *lines[last:]]).rstrip("\n") + "\n"


def _last_line(tree: Fields, lines: Sequence[str]) -> int | None:
    """The line where the parts of a build end, None where others cannot be put below it."""
    fit = tree["fit"]
    if not isinstance(fit, Fields) or not fit or tree.key_where("id").column != 1:
        return None
    first = lines[fit.span.line - 1][fit.span.column - 1 :]
    starts = [key.line for key in fit.key_spans.values()]
    if first.startswith("{") or min(starts) <= tree.key_where("fit").line:
        return None  # in braces, or an alias of what stands elsewhere
    if len(set(starts)) < len(starts):
        return None
    inner = (each for node in fit.values() if isinstance(node, Fields) for each in node.values())
    ends: list[int] = [node.span.end_line for node in (*fit.values(), *inner)]
    return max(ends)


def _say(near: Near) -> None:
    if not near.changes:
        click.echo("nothing to add: it passes the checks", err=True)
    for change in near.changes:
        click.echo(harmless(change.words), err=True)
        why = "" if change.why is None else f"else {change.why.code.id}: {change.why.message}"
        if why:
            click.echo(harmless(f"    {why}"), err=True)
