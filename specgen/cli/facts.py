"""`specgen facts`."""

import json
import sys
from collections import Counter
from pathlib import Path
from typing import Literal

import click

from specgen.cli.terminal import asked_conditions, colourful, in_project, no_such
from specgen.cli.whose_facts import Subject, named_in, subject_of
from specgen.cli.written_output import steering_nothing
from specgen.diagnostics.glyphs import harmless
from specgen.facts import Fact
from specgen.facts.fact_data import fact_data
from specgen.quantity import show


@click.command("facts")
@click.argument(
    "words", metavar="BUILD|PLATFORM|BUILD=COUNT... [GROUP]...", nargs=-1, required=True
)
@in_project
@asked_conditions
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(words: tuple[str, ...], project: Path, at: tuple[str, ...], form: str) -> int:
    """List every fact of a build or a platform: key, value, label.

    GROUP narrows the list to keys that begin so: `power`, or `processors.CPU1`. Of a platform the
    group `limits` is what it can reach.

    Several builds, each with how many are ordered, are summed; facts of one of them stand under
    its id:

    \b
    specgen facts small-store=3 archive
    specgen facts small-store=3 archive order.mass archive.power
    """
    named = named_in(words, project)
    subject = subject_of(named, project, at)
    if subject is None:
        return 1
    groups = tuple(word for word in words[1:] if word not in named)
    facts = tuple(subject.facts[key] for key in _chosen(subject, groups))
    if form == "json":
        data = [fact_data(fact) for fact in facts]
        click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))
    else:
        _table(facts)
    return 0 if subject.sound else 1


def _chosen(subject: Subject, groups: tuple[str, ...]) -> tuple[str, ...]:
    """The keys that begin with the steps of one of the groups."""
    for group in groups:
        if not any(_within(key, group) for key in subject.facts):
            heads = {key.split(".", 1)[0] for key in subject.facts}
            known = sorted({*heads, *subject.facts, *subject.builds})
            raise no_such("fact, group of facts or build", group, known)
    wanted = groups or subject.groups
    return tuple(
        key for key in subject.facts if not wanted or any(_within(key, each) for each in wanted)
    )


def _within(key: str, group: str) -> bool:
    return f"{key}.".startswith(f"{group.removesuffix('.')}.")


def _labels(facts: tuple[Fact, ...]) -> tuple[str, ...]:
    """What each fact is called, so that no two are called the same."""
    labels = [
        f"{fact.subject}: {fact.label}" if fact.subject else str(fact.label) for fact in facts
    ]
    count = Counter(labels)
    return tuple(
        f"{label} ({fact.key})" if count[label] > 1 else label
        for fact, label in zip(facts, labels, strict=True)
    )


def _table(facts: tuple[Fact, ...]) -> None:
    labels = _labels(facts)
    if not sys.stdout.isatty():
        for fact, label in zip(facts, labels, strict=True):
            click.echo("\t".join(map(harmless, (fact.key, show(fact.said), label))))
        return
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    system: Literal["auto"] | None = "auto" if colourful(sys.stdout) else None
    console = Console(highlight=False, color_system=system, force_terminal=True)
    table = Table(box=None, padding=(0, 2, 0, 0))
    table.add_column("fact")
    table.add_column("value", justify="right")
    table.add_column("key", style="dim")
    group = ""
    for fact, label in zip(facts, labels, strict=True):
        if fact.group != group and group:
            table.add_section()
        group = fact.group
        table.add_row(*(Text(harmless(word)) for word in (label, show(fact.said), fact.key)))
    console.print(table)
