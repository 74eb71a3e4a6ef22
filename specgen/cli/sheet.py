"""`specgen sheet`."""

from pathlib import Path
from typing import Final

import click

from specgen.cli.document_commands import document_options
from specgen.cli.one_build import asked, findings_about
from specgen.cli.systems import document_about, system
from specgen.cli.terminal import asked_conditions, in_project, no_such, print_findings, status_of
from specgen.cli.written_output import write_out, write_pictures
from specgen.diagnostics import Finding, Label, codes
from specgen.document.case import Case
from specgen.document.shelf import templates_of
from specgen.document.tree import Document
from specgen.messages import message_of, say, say_many
from specgen.model import Paper
from specgen.pipeline import write
from specgen.shipped import documents_about
from specgen.write.writer_options import options_of
from specgen.write.writers import WRITERS

MOST_LETTERS: Final = 8
MOST_TEXTS: Final = 3


@click.command("sheet")
@click.argument("build", metavar="BUILD|PLATFORM")
@in_project
@asked_conditions
@click.option(
    "--document",
    metavar="NAME",
    help="Another document, by the name of its template: guide, review, parts-list …",
)
@document_options
def command(
    build: str,
    project: Path,
    at: tuple[str, ...],
    document: str | None,
    form: str,
    output: Path | None,
    paper: Paper | None,
    language: str | None,
) -> int:
    """Write the spec sheet of a build, or the guide of a platform.

    A build with errors gets no sheet, since its values could be wrong. What the definitions say
    in words stays in the language that it was written in, unless the project's own catalogue
    translates it (`specgen messages`).
    """
    found, case = system(project, build, at)
    if not case.sound:
        print_findings(findings_about(found, build), found.sources.texts, project)
        return 1
    templates = templates_of(project, language or "")
    subject = "build" if case.build else "platform"
    name = document or ("sheet" if case.build else "guide")
    known = documents_about(subject, project)
    if name not in known:
        raise no_such(f"document about a {subject}", name, list(known))
    made, problems = document_about(found, case, name, templates, asked(at))
    if made is None:
        print_findings(problems, found.sources.texts, project)
        return 1
    writer = WRITERS[form]
    options = options_of(case.definitions, case.build, paper)
    if output is not None and form == "md":
        write_pictures(made, output.parent, options.pictures)
    write_out(write(made, form, options), output, binary=writer.format.binary)
    problems = (*problems, *_spelled_out(writer.spelled_out(made), case), *_english(made, case))
    print_findings(problems, found.sources.texts, project)
    return status_of((*case.findings, *problems))


def _spelled_out(letters: tuple[str, ...], case: Case) -> tuple[Finding, ...]:
    """A warning about letters that were printed as their numbers."""
    if not letters or case.build is None:
        return ()
    message = say_many(
        len(letters),
        "a letter that no font for print has, spelled out",
        "{number} letters that no font for print has, spelled out",
    )
    listed = ", ".join(f"U+{ord(each):04X}" for each in letters[:MOST_LETTERS])
    more = ", …" if len(letters) > MOST_LETTERS else ""
    return (
        Finding(
            codes.LETTER_MISSING,
            message,
            Label(case.build.origin.at("name"), say("in the sheet of this build")),
            notes=(message_of(f"{listed}{more}"),),
        ),
    )


def _english(document: Document, case: Case) -> tuple[Finding, ...]:
    """A note about texts that stand in English for want of a translation."""
    missing = document.untranslated
    if not missing:
        return ()
    message = say_many(
        len(missing),
        "a text stands in English, with no message in `{language}`",
        "{number} texts stand in English, with no message in `{language}`",
        language=document.language,
    )
    holder = case.build or case.platform
    shown = tuple(
        message_of(f"\N{LEFT DOUBLE QUOTATION MARK}{text}\N{RIGHT DOUBLE QUOTATION MARK}")
        for _, text in missing[:MOST_TEXTS]
    )
    at = Label(holder.origin.at("name"), say("in this document"))
    return (Finding(codes.TEXT_UNTRANSLATED, message, at, notes=shown),)
