"""`specgen facts`."""

import json
import sys
from collections import Counter
from pathlib import Path
from typing import Literal

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import steering_nothing
from specgen.cli.terminal import asked_conditions, colourful, in_project, no_such, status_of, tell
from specgen.diagnostics.glyphs import harmless
from specgen.facts import Fact
from specgen.facts.data import fact_data
from specgen.quantity import show


@click.command("facts")
@click.argument("build")
@click.argument("groups", metavar="[GROUP]...", nargs=-1)
@in_project
@asked_conditions
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(
    build: str, groups: tuple[str, ...], project: Path, at: tuple[str, ...], form: str
) -> int:
    """List every figure of BUILD: key, value, label.

    GROUP narrows the list to keys that begin so: `power`, or `processors.CPU1`.
    """
    found, case = one_build(project, build, at)
    facts = _of_groups(tuple(case.facts.values()), groups)
    if form == "json":
        data = [fact_data(fact) for fact in facts]
        click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))
    else:
        _table(facts)
    findings = case.findings if case.sound else findings_about(found, build)
    tell(tuple(f for f in findings if f.severity == "error"), found.sources.texts, project)
    return status_of(findings)


def _of_groups(facts: tuple[Fact, ...], groups: tuple[str, ...]) -> tuple[Fact, ...]:
    """The facts whose keys begin with the steps of one of the groups; all where none is named."""
    for group in groups:
        if not any(_within(fact.key, group) for fact in facts):
            raise no_such("group of figures", group, sorted({fact.group for fact in facts}))
    return tuple(
        fact for fact in facts if not groups or any(_within(fact.key, group) for group in groups)
    )


def _within(key: str, group: str) -> bool:
    return f"{key}.".startswith(f"{group.removesuffix('.')}.")


def _labels(facts: tuple[Fact, ...]) -> tuple[str, ...]:
    """What each figure is called, so that no two are called the same."""
    told = [f"{fact.subject}: {fact.label}" if fact.subject else str(fact.label) for fact in facts]
    count = Counter(told)
    return tuple(
        f"{label} ({fact.key})" if count[label] > 1 else label
        for fact, label in zip(facts, told, strict=True)
    )


def _table(facts: tuple[Fact, ...]) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    labels = _labels(facts)
    if not sys.stdout.isatty():
        for fact, label in zip(facts, labels, strict=True):
            click.echo("\t".join(map(harmless, (fact.key, show(fact.value), label))))
        return
    system: Literal["auto"] | None = "auto" if colourful(sys.stdout) else None
    console = Console(highlight=False, color_system=system, force_terminal=True)
    table = Table(box=None, padding=(0, 2, 0, 0))
    table.add_column("figure")
    table.add_column("value", justify="right")
    table.add_column("key", style="dim")
    group = ""
    for fact, label in zip(facts, labels, strict=True):
        if fact.group != group and group:
            table.add_section()
        group = fact.group
        table.add_row(*(Text(harmless(word)) for word in (label, show(fact.value), fact.key)))
    console.print(table)
