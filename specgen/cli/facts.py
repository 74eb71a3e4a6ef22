"""`specgen facts`."""

import json
from pathlib import Path

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import steering_nothing
from specgen.cli.terminal import asked_conditions, in_project, status_of, tell
from specgen.diagnostics.glyphs import harmless
from specgen.facts import Fact
from specgen.facts.data import fact_data
from specgen.quantity import show


@click.command("facts")
@click.argument("build")
@in_project
@asked_conditions
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(build: str, project: Path, at: tuple[str, ...], form: str) -> int:
    """List every figure of BUILD: key, value, label."""
    found, case = one_build(project, build, at)
    if form == "json":
        data = [fact_data(fact) for fact in case.facts.values()]
        click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))
    else:
        _table(tuple(case.facts.values()))
    findings = case.findings if case.sound else findings_about(found, build)
    tell(tuple(f for f in findings if f.severity == "error"), found.sources.texts, project)
    return status_of(findings)


def _table(facts: tuple[Fact, ...]) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    if not console.is_terminal:
        for fact in facts:
            click.echo("\t".join(map(harmless, (fact.key, show(fact.value), fact.label))))
        return
    table = Table(box=None, padding=(0, 2, 0, 0))
    table.add_column("figure")
    table.add_column("value", justify="right")
    table.add_column("key", style="dim")
    group = ""
    for fact in facts:
        if fact.group != group and group:
            table.add_section()
        group = fact.group
        label = f"{fact.subject}: {fact.label}" if fact.subject else fact.label
        table.add_row(*(Text(harmless(word)) for word in (label, show(fact.value), fact.key)))
    console.print(table)
