"""`specgen sheet`."""

from pathlib import Path

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import write_out
from specgen.cli.terminal import in_project, status_of, tell
from specgen.diagnostics import Finding
from specgen.document.documents import machine_document, templates_of
from specgen.document.pictures import pictures
from specgen.drawings import Engine, nowhere
from specgen.shipped import document_style, templates_folder
from specgen.write import WRITERS, Options


@click.command("sheet")
@click.argument("build")
@in_project
@click.option("--to", "form", type=click.Choice(list(WRITERS)), default="html", help="The format.")
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def command(build: str, project: Path, form: str, output: Path | None) -> int:
    """Write the spec sheet of BUILD: one HTML file that can be mailed, or Markdown.

    A build with errors gets no sheet, since its figures could be wrong.
    """
    found, case = one_build(project, build)
    if not case.sound:
        tell(findings_about(found, build), found.sources.texts, project)
        return 1
    trouble: list[Finding] = []
    figures = pictures(case, Engine(), nowhere, trouble)
    document, problems = machine_document(
        "sheet", templates_of(project, templates_folder()), case, figures
    )
    problems = (*problems, *trouble)
    if document is None:
        tell(problems, found.sources.texts, project)
        return 1
    style = document_style().read_text(encoding="utf-8")
    write_out(WRITERS[form].write(document, Options(style=style)), output)
    tell(problems, found.sources.texts, project)
    return status_of((*case.findings, *problems))
