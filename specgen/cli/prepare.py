"""`specgen prepare`."""

from pathlib import Path

import click

from specgen.cli.document_commands import document_options, write_document
from specgen.cli.order_words import orders_of
from specgen.cli.terminal import asked_conditions, in_project, no_such
from specgen.document.sets import order_document
from specgen.document.several import Order
from specgen.document.shelf import templates_of
from specgen.model import Paper
from specgen.pipeline import read
from specgen.shipped import documents_about


@click.command("prepare")
@click.argument("builds", nargs=-1, required=True, metavar="BUILD[=COUNT]...")
@in_project
@asked_conditions
@click.option(
    "--document",
    metavar="NAME",
    default="site-preparation",
    help="Another template about an order, such as parts-list.",
)
@document_options
def command(
    builds: tuple[str, ...],
    project: Path,
    at: tuple[str, ...],
    document: str,
    form: str,
    output: Path | None,
    paper: Paper | None,
    language: str | None,
) -> int:
    """Write what a site must have ready for BUILD: power, cords, heat, air, weight, rack, noise.

    Several builds, each with how many are to stand there, are summed:

    \b
    specgen prepare small-store=3 archive=1 --to pdf -o server-room.pdf
    """
    known = documents_about("order", project)
    if document not in known:
        raise no_such("document about an order", document, list(known))
    orders = orders_of(builds, project, at)
    if orders is None:
        return 1
    definitions = orders[0][0].definitions
    templates = templates_of(project, language or "")
    made = order_document(templates, Order(definitions, tuple(orders)), document)
    return write_document(made, definitions, read(project), form=form, output=output, paper=paper)
