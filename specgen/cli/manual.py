"""`specgen manual`."""

import re
import shutil
from collections.abc import Iterator, Mapping
from itertools import groupby
from pathlib import Path
from typing import Final

import click

from specgen.cli import COMMANDS
from specgen.cli.publishing import NothingToPublish, cores, publish
from specgen.cli.terminal import print_findings, quietly, status_of
from specgen.diagnostics import Finding, codes
from specgen.document.prose.texts import PAGES
from specgen.files.scratch import scratch
from specgen.load.field_reference import FILE, reference
from specgen.shipped import manual_folder
from specgen.site.assemble import SiteReport
from specgen.source import Sources

REFERENCE: Final = f"{PAGES}/reference"
FAMILIES: Final = {
    "1": "Files and fields",
    "2": "Names",
    "3": "Engineering",
    "4": "Output",
    "5": "Texts and pages",
}
"""What the findings are about whose codes begin with SG and this digit."""
_BRACE: Final = re.compile(r"[{}](?=[^`]*(?:`[^`]*`[^`]*)*\Z)")
"""Outside code, where a brace would begin a reference."""
WIDTH: Final = 80
"""Letters of a line in samples, as a terminal has them."""


@click.command("manual")
@click.option(
    "-o",
    "--output",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("manual"),
    show_default=True,
    help="The folder to publish into.",
)
@quietly
def command(output: Path, quiet: bool) -> int:
    """Write this program's manual as a site.

    The tutorial and the guides are written by people; the references of commands, fields and
    findings are made from the program itself, so they are those of this version.
    """
    try:
        report, sources, findings = _published(output, quiet)
    except NothingToPublish as problem:
        print_findings(problem.findings, problem.sources.texts, manual_folder())
        click.echo(str(problem), err=True)
        return problem.status
    print_findings(findings, sources.texts, manual_folder())
    if not quiet:
        click.echo(f"{report.pages} pages: {report.start}")
    return status_of(findings)


def _published(output: Path, quiet: bool) -> tuple[SiteReport, Sources, tuple[Finding, ...]]:
    """The manual in place of `output`, as any project of pages is published."""
    with scratch() as folder:
        project = folder / "manual"
        shutil.copytree(manual_folder(), project)
        for name, text in made_pages().items():
            path = project / REFERENCE / name
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        return publish(project, output, cores(), quiet)


def made_pages() -> Mapping[str, str]:
    """The pages that the program writes of itself, by the names of their files."""
    pages = {"commands.md": _of_commands(), FILE: [reference()], "findings.md": _of_findings()}
    return {
        name: f"---\norder: {order}\n---\n" + "\n".join(lines) + "\n"
        for order, (name, lines) in enumerate(pages.items(), 1)
    }


def _of_commands() -> Iterator[str]:
    from specgen.cli.run import specgen

    yield "# Commands"
    yield "\nEach command prints what stands here when it is asked for `--help`."
    above = click.Context(specgen, info_name="specgen", **specgen.context_settings)
    for name in COMMANDS:
        command = specgen.get_command(above, name)
        assert command is not None
        asked = click.Context(command, above, name, terminal_width=WIDTH)
        yield f"\n## specgen {name}\n\n```\n{command.get_help(asked)}\n```"


def _of_findings() -> Iterator[str]:
    yield "# Findings"
    yield "\nWhat the code of a finding means; `specgen explain CODE` prints one alone."
    every = sorted(codes.CODES.values(), key=lambda code: code.id)
    for first, family in groupby(every, key=lambda code: code.id[2]):
        yield f"\n## {FAMILIES[first]}"
        for code in family:
            about = _BRACE.sub(r"\\\g<0>", codes.about(code))
            yield f"\n### {code.id}: {code.title}\n\n*{code.severity.capitalize()}.* {about}"
