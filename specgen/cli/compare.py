"""`specgen compare`."""

from pathlib import Path

import click

from specgen.cli.document_commands import document_options, write_document
from specgen.cli.one_build import asked
from specgen.cli.systems import systems
from specgen.cli.terminal import asked_conditions, in_project
from specgen.document.sets import comparison_document
from specgen.document.several import FEWEST, MOST, Compared
from specgen.document.shelf import templates_of
from specgen.model import Paper
from specgen.pipeline import example_of


@click.command("compare")
@click.argument("names", nargs=-1, required=True, metavar="NAME NAME...")
@in_project
@click.option("--only-differences", is_flag=True, help="Leave out values that are alike.")
@asked_conditions
@document_options
def command(
    names: tuple[str, ...],
    project: Path,
    only_differences: bool,
    at: tuple[str, ...],
    form: str,
    output: Path | None,
    paper: Paper | None,
    language: str | None,
) -> int:
    """Compare two to five platforms or builds: values, parts, and what differs in words.

    \b
    specgen compare small-store archive --only-differences --to pdf -o both.pdf
    """
    if not FEWEST <= len(names) <= MOST:
        raise click.UsageError(f"name {FEWEST} to {MOST} platforms or builds, not {len(names)}")
    twice = next((name for name in names if names.count(name) > 1), "")
    if twice:
        raise click.UsageError(f"`{twice}` is named twice")
    found, cases = systems(project, names, at)
    definitions = found.definitions
    if cases is None or definitions is None:
        return 1
    shown = tuple(
        case if case.build else example_of(definitions, case.platform, asked(at), found.of_project)
        for case in cases
    )
    compared = Compared(definitions, cases, only_differences, shown)
    templates = templates_of(project, language or "")
    made = comparison_document(templates, compared)
    return write_document(made, definitions, found, form=form, output=output, paper=paper)
