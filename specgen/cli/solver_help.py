"""What `specgen check` asks the solver: doubts about rules, builds near one that fails."""

import click

from specgen.cli.one_build import errors_apart
from specgen.diagnostics import Finding, Label, Severity, codes, worst
from specgen.diagnostics.glyphs import harmless
from specgen.limits.closure import TooLarge
from specgen.limits.nearest_builds import nearest
from specgen.limits.rule_analysis import doubts
from specgen.limits.solver import NoSolver, NotIntegral
from specgen.messages import say
from specgen.model import ANYWHERE, Conditions
from specgen.pipeline import Survey


def doubts_about(found: Survey) -> tuple[Finding, ...]:
    """What is doubtful about the declared rules; nothing where definitions have errors.

    Where the solver cannot be asked, that is told instead.
    """
    if found.definitions is None or worst(found.loaded.findings) is Severity.ERROR:
        return ()
    try:
        return doubts(found.definitions)
    except (NoSolver, NotIntegral, TooLarge) as problem:
        at = Label(found.definitions.project.origin.at("title"), say("rules of this project"))
        message = say(
            "what is doubtful about rules was not asked: {problem}", problem=problem.message
        )
        return (Finding(codes.NO_SOLVER, message, at),)


def print_nearest(
    found: Survey, name: str, keep: tuple[str, ...] = (), at: Conditions = ANYWHERE
) -> None:
    """The valid builds nearest to one that has errors at conditions, to standard output.

    Silent where there are none, no solver, or definitions that have errors themselves.
    """
    case = found.cases.get(name)
    if case is None or case.build is None or worst(case.findings) is not Severity.ERROR:
        return
    if found.definitions is None or errors_apart(found, name):
        return
    try:
        proposals = nearest(found.definitions, case.build, keep=keep, at=at)
    except (NoSolver, NotIntegral, TooLarge):
        return
    proposals = tuple(
        each for each in proposals if each.changes
    )  # else what is wrong is not in its parts
    if proposals:
        click.echo("\nThe nearest builds that pass the checks:")
    for number, each in enumerate(proposals, start=1):
        first, *others = (change.words for change in each.changes)
        click.echo(harmless(f"  {number}. {first}"))
        for words in others:
            click.echo(harmless(f"     {words}"))
        for split in each.split:
            if split.divides:
                click.echo(harmless(f"     {split.text} becomes {{{', '.join(split.lines)}}}"))
