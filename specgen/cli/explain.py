"""`specgen explain`."""

import re
from collections.abc import Callable, Iterator

import click

from specgen.cli.terminal import asked_conditions, no_such, project_folder, shown
from specgen.cli.whose_facts import subject_of
from specgen.diagnostics.codes import CODES, about
from specgen.diagnostics.glyphs import harmless
from specgen.facts import Declared, Fact
from specgen.facts.pedigree_lines import pedigree_lines
from specgen.model import condensed
from specgen.pipeline import read
from specgen.quantity import Quantity, show
from specgen.rules.declared import rule_book
from specgen.rules.declared.phrasing import in_words

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
        message = f"name a fact of `{name}`, such as `specgen explain {name} power.maximum`"
        raise click.UsageError(harmless(message))
    click.echo(f"{code.id} ({code.severity}): {code.title}\n\n{about(code)}")
    return 0


def _lines(fact: Fact, place: Callable[[str], str], depth: int) -> Iterator[str]:
    """The pedigree as an indented tree; a fact that was shown above is not unfolded again."""
    seen: set[str] = set()

    def walk(node: Fact, head: str, indent: str, left: int) -> Iterator[str]:
        label = f"{node.subject}: {node.label}" if node.subject else str(node.label)
        yield f"{head}{harmless(label)} = {harmless(show(node.said))}   [{harmless(node.key)}]"
        again = node.key in seen
        seen.add(node.key)
        behind = f"{node.formula}; {node.basis}; source: {node.source}"
        yield f"{indent}  {harmless(behind)}{'   (as above)' if again else ''}"
        if node.assumes and not again:
            yield f"{indent}  assumes: {harmless(str(node.assumes))}"
        entries = [] if again or left == 0 else pedigree_lines(node.inputs)
        for number, (entry, positions) in enumerate(entries, 1):
            tip, bar = ("└─ ", "   ") if number == len(entries) else ("├─ ", "│  ")
            if isinstance(entry, Declared):
                yield f"{indent}{tip}{_leaf(entry, positions, place)}"
            else:
                yield from walk(entry, indent + tip, indent + bar, left - 1)

    yield from walk(fact, "", "", depth)


def _leaf(leaf: Declared, positions: tuple[str, ...], place: Callable[[str], str]) -> str:
    where, document = _written(leaf, place)
    label = f"{condensed(positions)}, {leaf.label}" if positions else str(leaf.label)
    label = f"assumed: {label}" if leaf.assumed else label
    each = " each" if len(positions) > 1 and isinstance(leaf.value, Quantity | int) else ""
    because = f": {leaf.because}" if leaf.because else ""
    return harmless(f"{label} = {show(leaf.value)}{each}{where}{document}{because}")


def _written(leaf: Declared, place: Callable[[str], str]) -> tuple[str, str]:
    """The line on which a value is written and the document behind it; neither of one that is
    written nowhere."""
    span = leaf.span
    if not span.file:
        return ("" if leaf.value is None else "   (not written: the default)"), ""
    document = f" ({leaf.source})" if leaf.source is not None else ""
    if not span.line:
        return f"   {span.file}", document
    return f"   {place(span.file)}:{span.line}", document
