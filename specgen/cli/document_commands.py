"""What commands that write a document share: the formats and the writing."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar, get_args

import click

from specgen.cli.terminal import print_findings, status_of
from specgen.cli.written_output import write_out
from specgen.diagnostics import Severity, worst
from specgen.document.compose import Composed
from specgen.formats import FORMATS, Format
from specgen.messages.catalogue import languages
from specgen.model import Definitions, Paper
from specgen.pipeline import Survey, write
from specgen.write.writer_options import options_of

F = TypeVar("F", bound=Callable[..., Any])


def in_words(formats: Mapping[str, Format]) -> str:
    """What each format is for, as the help of an option says it."""
    return "; ".join(f"{word}: {each.name}, {each.about}" for word, each in formats.items()) + "."


def document_options(function: F) -> F:
    """Adds --to, -o, --paper and --language; the command gets `form`, `output` and so on."""
    options = (
        click.option(
            "--to", "form", type=click.Choice(list(FORMATS)), default="html", help=in_words(FORMATS)
        ),
        click.option(
            "-o",
            "--output",
            type=click.Path(dir_okay=False, path_type=Path),
            help="The file to write; standard output without it.",
        ),
        click.option(
            "--paper",
            type=click.Choice(get_args(Paper)),
            help="What a PDF is set for; the paper of the project without it.",
        ),
        click.option(
            "--language",
            type=click.Choice(languages()),
            help="The language to write in; that of the project without it.",
        ),
    )
    for option in reversed(options):
        function = option(function)
    return function


def write_document(
    made: Composed,
    definitions: Definitions,
    found: Survey,
    *,
    form: str,
    output: Path | None,
    paper: Paper | None,
) -> int:
    """Writes what was made, or tells why it could not be; gives the exit status."""
    document, problems = made
    if document is None or worst(problems) is Severity.ERROR:
        print_findings(problems, found.sources.texts, found.root)
        return 1
    data = write(document, form, options_of(definitions, paper=paper))
    write_out(data, output, binary=FORMATS[form].binary)
    print_findings(problems, found.sources.texts, found.root)
    return status_of(problems)
