"""`specgen complete`."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from specgen.cli.one_build import asked, errors_apart, findings_about, kept, one_build
from specgen.cli.terminal import asked_conditions, in_project, keeping, planned_too, print_findings
from specgen.cli.written_output import steering_nothing, write_out
from specgen.diagnostics.glyphs import harmless, lines_of
from specgen.limits.build_text import anew, written
from specgen.limits.closure import TooLarge
from specgen.limits.nearest_builds import Proposal, Unpriced, completed
from specgen.limits.solver import NoSolver, NotIntegral
from specgen.model import Build, expand
from specgen.source import YamlMapping


@click.command("complete")
@click.argument("build")
@in_project
@asked_conditions
@click.option(
    "--least",
    type=click.Choice(["parts", "price", "power", "mass"]),
    default="parts",
    help="What to add least of; of equals, fewest parts.",
)
@planned_too
@keeping
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def command(
    build: str,
    project: Path,
    at: tuple[str, ...],
    least: str,
    planned: bool,
    keep: str | None,
    output: Path | None,
) -> int:
    """Fill what BUILD leaves open, so that it passes the checks: YAML with what it has kept.

    With --keep, only the positions named stay as they are; of the others as few change as can.

    What was added, and what the checks say without it, is told beside. Conditions asked for with
    --at go before those that it states.

    Exit status: 0 completed, 1 no valid build holds all that it has, 2 could not read.
    """
    found, case = one_build(project, build, at)
    assert found.definitions is not None
    assert case.build is not None
    errors = errors_apart(found, build)
    if errors:
        print_findings(errors, found.sources.texts, project)
        raise click.ClickException("a build is completed where the definitions have no errors")
    try:
        definitions = found.definitions.with_planned() if planned else found.definitions
        names = None if keep is None else kept(keep, case)
        proposal = completed(definitions, case.build, least, names, asked(at))
    except (NoSolver, NotIntegral, TooLarge, Unpriced) as problem:
        raise click.ClickException(harmless(str(problem))) from None
    if proposal is None:
        print_findings(findings_about(found, build), found.sources.texts, project)
        click.echo(harmless(f"no valid build was found that holds all of `{build}`"), err=True)
        return 1
    text = _written(found.sources.texts, case.build, proposal)
    write_out(steering_nothing(text).encode(), output)
    _print_changes(proposal)
    return 0


def _written(texts: Mapping[str, str], build: Build, proposal: Proposal) -> str:
    """The build's file with what was added below its other parts, its comments kept.

    A line whose positions change gives way to those it is split into. Where parts do not stand
    one a line, or the file holds several definitions, the build is written anew, with all that it
    says.
    """
    tree = build.origin.tree
    if tree is None:
        return proposal.text
    lines = list(lines_of(texts.get(tree.span.file, "")))
    last = _last_line(tree, lines)
    split = [each.text for each in proposal.split]
    if last is None or any(not _on_a_line(tree, text) for text in split):
        return anew(tree, proposal.build.fit)
    keys = tree["fit"].key_spans
    indent = " " * (min(key.column for key in keys.values()) - 1)
    old = {name for text in build.fit for name in expand(text)}
    added = (
        f"{indent}{name}: {written(fill)}"
        for name, fill in proposal.build.fit.items()
        if old.isdisjoint(expand(name))
    )
    lines[last:last] = added
    for each in sorted(proposal.split, key=lambda each: keys[each.text].line, reverse=True):
        at = keys[each.text].line - 1
        lines[at : at + 1] = (indent + line for line in each.lines)
    return "\n".join(lines).rstrip("\n") + "\n"


def _on_a_line(tree: YamlMapping, text: str) -> bool:
    """Whether a part of a build stands on the line of its position alone."""
    fit = tree["fit"]
    return bool(fit.key_spans[text].line == fit[text].span.end_line)


def _last_line(tree: YamlMapping, lines: Sequence[str]) -> int | None:
    """The line where the parts of a build end, None where others cannot be put below it."""
    fit = tree["fit"]
    if (
        "like" in tree
        or not isinstance(fit, YamlMapping)
        or not fit
        or tree.key_where("id").column != 1
    ):
        return None
    first = lines[fit.span.line - 1][fit.span.column - 1 :]
    starts = [key.line for key in fit.key_spans.values()]
    if first.startswith("{") or min(starts) <= tree.key_where("fit").line:
        return None  # in braces, or an alias of what stands elsewhere
    if len(set(starts)) < len(starts):
        return None
    inner = (
        each for node in fit.values() if isinstance(node, YamlMapping) for each in node.values()
    )
    ends: list[int] = [node.span.end_line for node in (*fit.values(), *inner)]
    return max(ends)


def _print_changes(proposal: Proposal) -> None:
    if not proposal.changes:
        click.echo("nothing to add: it passes the checks", err=True)
    for change in proposal.changes:
        click.echo(harmless(change.words), err=True)
        why = "" if change.why is None else f"else {change.why.code.id}: {change.why.message}"
        if why:
            click.echo(harmless(f"    {why}"), err=True)
