"""`specgen parts`."""

import sys
from pathlib import Path

import click

from specgen.cli.order_words import orders_of
from specgen.cli.spreadsheets import for_spreadsheets, manner_of
from specgen.cli.terminal import in_project
from specgen.cli.written_output import steering_nothing, write_out
from specgen.diagnostics.glyphs import harmless
from specgen.document.data import PartsList, parts_list
from specgen.model import Paper
from specgen.write.data_forms import OF_ORDERS
from specgen.write.worksheets import places


@click.command("parts")
@click.argument("builds", nargs=-1, required=True, metavar="BUILD[=COUNT]...")
@in_project
@click.option(
    "--to", "form", type=click.Choice(["text", *OF_ORDERS]), default="text", help="The form."
)
@for_spreadsheets
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def command(
    builds: tuple[str, ...],
    project: Path,
    form: str,
    language: str | None,
    paper: Paper | None,
    output: Path | None,
) -> int:
    """List what to order for BUILD: quantities, order numbers, positions, status, mass.

    Several builds, each with how many are wanted, make one list with counts summed:

    \b
    specgen parts small-store=3 archive=1 --to xlsx -o order.xlsx

    `csv` is for programs; `csv-spreadsheet` and `xlsx` are for people, in a language.
    """
    if form == "text" and output is not None:
        raise click.UsageError("`-o` needs a form for files: add `--to csv`, `xlsx` or `json`")
    orders = orders_of(builds, project)
    if orders is None:
        return 1
    parts = parts_list(orders)
    if form == "text":
        _print(parts)
    else:
        manner = manner_of(orders[0][0], language, paper)
        data = OF_ORDERS[form](orders, parts, manner)
        if form == "json":
            data = steering_nothing(data.decode("utf-8")).encode("utf-8")
        write_out(data, output, binary=form == "xlsx")
    return 0


def _print(parts: PartsList) -> None:
    several = len(parts.builds) > 1
    rows = [
        tuple(
            harmless(word)
            for word in (
                str(line.quantity),
                line.number or "",
                line.name,
                places(line, several),
                line.status.replace("-", " "),
                "" if line.kilograms is None else f"{line.kilograms:f} kg",
            )
        )
        for line in parts.lines
    ]
    if not sys.stdout.isatty():
        for row in rows:
            click.echo("\t".join(row))
        return
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    table = Table(box=None, padding=(0, 2, 0, 0))
    for heading in ("", "order number", "part", "positions", "status", "mass"):
        table.add_column(heading, justify="right" if heading in ("", "mass") else "left")
    for row in rows:
        table.add_row(*map(Text, row))
    console.print(table)
    missing = f", {parts.without_mass} lines without a mass" if parts.without_mass else ""
    soldered = parts.kilograms_soldered
    own = f", {soldered:f} kg of it soldered on" if soldered else ""
    click.echo(f"{parts.kilograms:f} kg in all{own}{missing}")
