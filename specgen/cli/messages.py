"""`specgen messages`: a project's own texts for translators."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from specgen.cli.terminal import (
    in_project,
    print_findings,
    remembered,
    shown,
    status_of,
    with_templates,
)
from specgen.cli.written_output import write_out
from specgen.diagnostics.glyphs import harmless
from specgen.document.translations.catalogue_checks import catalogues, check_catalogues
from specgen.document.translations.catalogue_file import NoCatalogue, template, updated
from specgen.document.translations.said import own_words, template_words
from specgen.files.gate import NotOpened, is_file, may_write, read
from specgen.files.whole import write_whole
from specgen.messages.catalogue import FOLDER, language_of
from specgen.pipeline import read as read_project

if TYPE_CHECKING:
    from specgen.model import Definitions
    from specgen.pipeline import Survey

_TAG: Final = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")


class Tag(click.ParamType[str]):
    """A language by its tag, as BCP 47 has it."""

    name = "LANGUAGE"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        if _TAG.fullmatch(str(value)):
            return str(value)
        message = f"`{value}` is not the tag of a language, such as `de` or `pt-BR`"
        raise click.BadParameter(harmless(message), ctx, param)


@click.group("messages")
def command() -> None:
    """Hand the project's own texts to translators: names, summaries, notes, reasons, prose.

    Catalogues lie in translations/LANGUAGE.po; any editor of gettext's files opens them. Documents
    in the language print what is translated there.
    """


@command.command("extract")
@in_project
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
def extract_command(project: Path, output: Path | None) -> int:
    """Write all texts as a template of catalogues (.pot)."""
    _, definitions = _definitions(project)
    said = {**own_words(project, definitions), **template_words(project)}
    write_out(template(said), output, binary=False)
    return 0


@command.command("update")
@click.argument("languages", nargs=-1, type=Tag())
@in_project
def update_command(languages: tuple[str, ...], project: Path) -> int:
    """Bring catalogues up to date with the texts: those of LANGUAGES, else all there are.

    What is new waits for its translation. A text that has changed keeps the translation of what it
    said before, marked as fuzzy, with the earlier text beside it. What nothing says any more goes
    to the end of the file.
    """
    _, definitions = _definitions(project)
    tags = languages or tuple(path.stem for path in catalogues(project))
    if not tags:
        raise click.UsageError("no catalogue is there yet: `specgen messages update de` makes one")
    for tag in dict.fromkeys(tags):
        path = project / FOLDER / f"{tag}.po"
        name = harmless(shown(project)(f"{FOLDER}/{tag}.po"))
        said = {**own_words(project, definitions, tag), **template_words(project)}
        try:
            content = read(project, path) if is_file(project, path) else None
            made = updated(content, tag, said, language_of(tag).catalogue.messages)
            if not may_write(project, path):
                raise click.UsageError(f"{name} would lie outside of the project")
            if made != content:
                path.parent.mkdir(parents=True, exist_ok=True)
                write_whole(path, made)
        except NoCatalogue as problem:
            raise click.ClickException(f"{name}:{problem.line}: {problem.reason}") from None
        except (NotOpened, OSError) as problem:
            raise click.ClickException(harmless(f"cannot write {name}: {problem}")) from None
        click.echo(name)
    return 0


@command.command("check")
@in_project
def check_command(project: Path) -> int:
    """Find translations that lack a reference, that nothing asks for any more, and how many texts
    wait for one."""
    found, definitions = _definitions(project)
    findings = check_catalogues(project, definitions, templates=True)
    print_findings(findings, with_templates(found.sources.texts, findings, project), project)
    return status_of(findings)


def _definitions(project: Path) -> "tuple[Survey, Definitions]":
    """What the project defines; ends the command where its specgen.yaml cannot be read."""
    found = remembered(read_project(project))
    if found.definitions is None:
        print_findings(found.findings, found.sources.texts, project)
        raise click.ClickException("the project cannot be read")
    return found, found.definitions
