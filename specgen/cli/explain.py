"""`specgen explain`."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

import click

from specgen.cli.subjects import subject_of
from specgen.cli.terminal import asked_conditions, no_such, project_folder, shown
from specgen.diagnostics.codes import CODES
from specgen.diagnostics.glyphs import harmless
from specgen.facts import Declared, Fact
from specgen.model import condensed
from specgen.pipeline import read
from specgen.quantity import Quantity, show
from specgen.rules.declared import in_words, rule_book

_RULE = re.compile(r"[A-Z][A-Z0-9]*(?:-[A-Z0-9]+)*-[0-9]+\Z")


@click.command("explain")
@click.argument("words", metavar="BUILD|PLATFORM|BUILD=COUNT... KEY", nargs=-1, required=True)
@click.option("--project", metavar="DIR", help="The folder with specgen.yaml.")
@asked_conditions
@click.option("--depth", type=click.IntRange(1, 20), default=20, help="How many levels to show.")
@click.pass_context
def command(
    ctx: click.Context,
    words: tuple[str, ...],
    project: str | None,
    at: tuple[str, ...],
    depth: int,
) -> int:
    """Show where fact KEY of a build comes from, down to the lines of the definitions.

    Of a platform, `limits.drives` tells what binds that limit. Of an order of several builds,
    each with how many there are, `order.mass` and the like lead to the facts of each build:

    \b
    specgen explain small-store=3 archive order.mass

    With a finding's code alone, `specgen explain SG331`, say what it means; with the code of a
    declared rule, what that rule says.
    """
    *named, key = words
    if not named:
        return _rule(key, project, ctx) if _RULE.match(key) else _code(key)
    folder = project_folder(project, ctx)  # not before: a code is explained without one
    subject = subject_of(tuple(named), folder, at)
    if subject is None:
        return 1
    fact = subject.facts.get(key)
    if fact is None:
        raise no_such("fact", key, sorted(subject.facts), f"specgen facts {' '.join(named)}")
    for line in _lines(fact, shown(folder), depth):
        click.echo(line)
    return 0


def _rule(name: str, project: str | None, ctx: click.Context) -> int:
    folder = project_folder(project, ctx)
    definitions = read(folder).definitions
    known = {} if definitions is None else rule_book(definitions).by_code
    if name not in known:
        raise no_such("rule", name, sorted(known))
    rule = known[name]
    place = harmless(f"{shown(folder)(rule.at.file)}:{rule.at.line}")
    click.echo(f"{name} ({rule.code.severity}): {harmless(str(in_words(rule)))}\n")
    if rule.rule.because is not None:
        click.echo(f"{harmless(rule.rule.because)}\n")
    click.echo(f"declared at {place}")
    return 0


def _code(name: str) -> int:
    code = CODES.get(name.upper())
    if code is None:
        if name.upper().startswith("SG"):
            raise no_such("code", name, sorted(CODES))
        told = f"name a fact of `{name}`, such as `specgen explain {name} power.maximum`"
        raise click.UsageError(harmless(told))
    click.echo(f"{code.id} ({code.severity}): {code.title}\n\n{code.about}")
    return 0


def _lines(node: Fact | Declared, place: Callable[[str], str], depth: int) -> Iterator[str]:
    """The pedigree as an indented tree; a fact that was shown above is not unfolded again."""
    seen: set[str] = set()

    def walk(
        node: Fact | Declared, head: str, indent: str, left: int, several: bool
    ) -> Iterator[str]:
        if isinstance(node, Declared):
            yield head + _leaf(node, place, several)
            return
        label = f"{node.subject}: {node.label}" if node.subject else str(node.label)
        yield f"{head}{harmless(label)} = {harmless(show(node.value))}   [{harmless(node.key)}]"
        again = node.key in seen
        seen.add(node.key)
        hint = "" if not again else "   (as above)"
        source = harmless(node.source)
        formula = harmless(str(node.formula))
        yield f"{indent}  {formula}; {node.basis}; source: {source}{hint}"
        if node.assumes and not again:
            yield f"{indent}  assumes: {harmless(str(node.assumes))}"
        if again or left == 0:
            return
        entries = _joined(node.inputs)
        for number, (entry, several) in enumerate(entries):
            last = number == len(entries) - 1
            tip, bar = ("└─ ", "   ") if last else ("├─ ", "│  ")
            yield from walk(entry, indent + tip, indent + bar, left - 1, several)

    yield from walk(node, "", "", depth, False)


def _joined(inputs: tuple[Fact | Declared, ...]) -> list[tuple[Fact | Declared, bool]]:
    """Leaves that say the same of several positions become one; whether it stands for several."""
    joined: dict[object, list[Fact | Declared]] = {}
    for entry in inputs:
        alike: object = (
            (entry.label, show(entry.value), entry.span)
            if isinstance(entry, Declared)
            else entry.key
        )
        joined.setdefault(alike, []).append(entry)
    return [_one(entries) for entries in joined.values()]


def _one(entries: list[Fact | Declared]) -> tuple[Fact | Declared, bool]:
    first = entries[0]
    if not isinstance(first, Declared) or len(entries) == 1:
        return first, False
    subjects = dict.fromkeys(
        entry.subject for entry in entries if isinstance(entry, Declared) and entry.subject
    )
    return replace(first, subject=condensed(tuple(subjects))), len(subjects) > 1


def _leaf(leaf: Declared, place: Callable[[str], str], several: bool) -> str:
    span = leaf.span
    where = harmless(f"{place(span.file)}:{span.line}") if span.file else "nowhere"
    document = ""
    if leaf.source is not None:
        page = f"page {leaf.source.page}" if leaf.source.page else ""
        told = (leaf.source.document, page, leaf.source.date)
        document = " (" + ", ".join(str(word) for word in told if word) + ")"
    label = f"{leaf.subject}, {leaf.label}" if leaf.subject else leaf.label
    label = f"assumed: {label}" if leaf.assumed else label
    each = " each" if several and isinstance(leaf.value, Quantity | int) else ""
    return f"{harmless(label)} = {harmless(show(leaf.value))}{each}   {where}{harmless(document)}"
