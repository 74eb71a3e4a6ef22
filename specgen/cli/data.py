"""`specgen data`."""

import os
from pathlib import Path

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.spreadsheets import for_spreadsheets, manner_of
from specgen.cli.terminal import asked_conditions, in_project, print_findings, status_of
from specgen.cli.written_output import (
    steering_nothing,
    write_folder,
    write_out,
)
from specgen.document.data import build_data
from specgen.model import Paper
from specgen.write import redfish
from specgen.write.data_forms import OF_BUILDS


def _is_folder(output: str) -> bool:
    return output.endswith(("/", os.sep)) or Path(output).is_dir()


@click.command("data")
@click.argument("build")
@in_project
@asked_conditions
@click.option(
    "--to", "form", type=click.Choice(list(OF_BUILDS)), default="json", help="The format."
)
@for_spreadsheets
@click.option(
    "-o",
    "--output",
    metavar="FILE|FOLDER/",
    help="The file to write; standard output without it. Of Redfish, FOLDER/ is a mock-up.",
)
def command(
    build: str,
    project: Path,
    at: tuple[str, ...],
    form: str,
    language: str | None,
    paper: Paper | None,
    output: str | None,
) -> int:
    """Write BUILD as data: JSON with every value and where it comes from, CSV of values.

    `csv` is for programs: commas, points, no totals (RFC 4180). `csv-spreadsheet` and `xlsx` are
    for people, in a language: its decimal sign, its separator, its words.

    With `--to redfish`, the system as an inventory tool would read it from its management
    controller, all resources in one file, keyed by @odata.id. With `-o FOLDER/`, as a mock-up: a
    folder for each resource with its index.json, as servers of mock-ups read it.

    JSON of a build with errors is written with its findings in it; the other forms are not.
    """
    found, case = one_build(project, build, at)
    findings = case.findings if case.sound else findings_about(found, build)
    if not case.sound and form != "json":
        print_findings(findings, found.sources.texts, project)
        return 1
    made = build_data(case)
    if output is not None and _is_folder(output):
        if form != "redfish":
            raise click.UsageError(f"`{output}` is a folder: only `--to redfish` writes one")
        write_folder(redfish.files(made), Path(output))
    else:
        data = OF_BUILDS[form].write(case, made, manner_of(case, language, paper))
        if form in ("json", "redfish"):
            data = steering_nothing(data.decode("utf-8")).encode("utf-8")
        target = None if output is None else Path(output)
        write_out(data, target, binary=OF_BUILDS[form].binary)
    print_findings(
        tuple(f for f in findings if f.severity == "error"), found.sources.texts, project
    )
    return status_of(findings)
