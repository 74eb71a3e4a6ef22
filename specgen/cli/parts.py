"""`specgen parts`."""

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import click

from specgen.cli.orders import orders_of
from specgen.cli.output import steering_nothing, write_out
from specgen.cli.terminal import in_project
from specgen.diagnostics.glyphs import harmless
from specgen.document.data import PartsList, parts_list
from specgen.write import csv, json, xlsx
from specgen.write.worksheets import parts_sheet, places


def _workbook(parts: PartsList) -> bytes:
    title = ", ".join(f"{each.count} × {each.name}" for each in parts.builds)
    return xlsx.workbook(title, [parts_sheet(parts)])


FORMS: Mapping[str, Callable[[PartsList], bytes]] = {
    "csv": lambda parts: csv.table(parts_sheet(parts)),
    "xlsx": _workbook,
    "json": lambda parts: steering_nothing(json.text(parts).decode("utf-8")).encode("utf-8"),
}


@click.command("parts")
@click.argument("builds", nargs=-1, required=True, metavar="BUILD[=COUNT]...")
@in_project
@click.option("--to", "form", type=click.Choice(["text", *FORMS]), default="text", help="The form.")
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def command(builds: tuple[str, ...], project: Path, form: str, output: Path | None) -> int:
    """List what to order for BUILD: quantities, order numbers, positions, status, mass.

    Several builds, each with how many are wanted, make one list with counts summed:

    \b
    specgen parts small-store=3 archive=1 --to xlsx -o order.xlsx
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
        write_out(FORMS[form](parts), output, binary=form == "xlsx")
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
