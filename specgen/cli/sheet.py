"""`specgen sheet`."""

from pathlib import Path
from typing import Final, get_args

import click

from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import write_out
from specgen.cli.terminal import in_project, status_of, tell
from specgen.diagnostics import Finding, Label, codes
from specgen.document.case import Case
from specgen.document.documents import machine_document, templates_of
from specgen.document.pictures import pictures
from specgen.drawings import Engine, nowhere
from specgen.shipped import document_style, templates_folder
from specgen.write import WRITERS, Options
from specgen.write.options import Paper

MOST_LETTERS: Final = 8


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
@click.option(
    "--paper", type=click.Choice(get_args(Paper)), default="a4", help="What a PDF is set for."
)
def command(build: str, project: Path, form: str, output: Path | None, paper: Paper) -> int:
    """Write the spec sheet of BUILD: one HTML file that can be mailed, a PDF, or Markdown.

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
    writer = WRITERS[form]
    options = Options(
        style=document_style().read_text(encoding="utf-8"),
        paper=paper,
        publisher=case.definitions.project.publisher.name,
        date=_date(case),
    )
    write_out(writer.write(document, options), output, binary=writer.binary)
    problems = (*problems, *_spelled_out(writer.spelled_out(document), case))
    tell(problems, found.sources.texts, project)
    return status_of((*case.findings, *problems))


def _date(case: Case) -> str:
    """The day of the build, else of the project; "" where neither has one."""
    own = case.build.date if case.build else None
    day = own or case.definitions.project.date
    return day.isoformat() if day else ""


def _spelled_out(letters: tuple[str, ...], case: Case) -> tuple[Finding, ...]:
    """A warning about letters that were printed as their numbers."""
    if not letters or case.build is None:
        return ()
    many = f"{len(letters)} letters" if len(letters) > 1 else "a letter"
    message = f"{many} that no font for print has, spelled out"
    listed = ", ".join(f"U+{ord(each):04X}" for each in letters[:MOST_LETTERS])
    more = ", …" if len(letters) > MOST_LETTERS else ""
    return (
        Finding(
            codes.LETTER_MISSING,
            message,
            Label(case.build.origin.at("name"), "in the sheet of this build"),
            notes=(f"{listed}{more}",),
        ),
    )
