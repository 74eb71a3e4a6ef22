"""What commands that write a document share: the machines they name, the formats, the writing."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar, get_args

import click

from specgen.cli.keeping import kept_folder
from specgen.cli.one_build import findings_about, one_build
from specgen.cli.output import write_out
from specgen.cli.terminal import NoSuch, no_such, remembered, status_of, tell
from specgen.diagnostics.glyphs import harmless
from specgen.document.case import Case, FamilyCase
from specgen.document.compose import Composed
from specgen.limits.reach import Reach, reaches
from specgen.messages.catalogue import languages
from specgen.model import Definitions
from specgen.pipeline import Survey, bare_case, case_of, read, write
from specgen.write import WRITERS
from specgen.write.options import Paper, options_of

F = TypeVar("F", bound=Callable[..., Any])


def document_options(function: F) -> F:
    """Adds --to, -o, --paper and --language; the command gets `form`, `output` and so on."""
    options = (
        click.option(
            "--to", "form", type=click.Choice(list(WRITERS)), default="html", help="The format."
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
            default="a4",
            help="What a PDF is set for.",
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
    paper: Paper,
) -> int:
    """Writes what was made, or tells why it could not be; gives the exit status."""
    document, problems = made
    if document is None:
        tell(problems, found.sources.texts, found.root)
        return 1
    data = write(document, form, options_of(definitions, paper=paper))
    write_out(data, output, binary=WRITERS[form].binary)
    tell(problems, found.sources.texts, found.root)
    return status_of(problems)


def machine(project: Path, name: str, at: tuple[str, ...] = ()) -> tuple[Survey, Case]:
    """A build by its id, else a platform; ends the command where neither can be read.

    `at` are conditions of a build asked for, `NAME=VALUE`.
    """
    try:
        return one_build(project, name, at)
    except NoSuch:
        found = remembered(read(project))
        definitions = found.definitions
        if definitions is None:
            raise
        if name not in definitions.platforms:
            known = sorted({*definitions.builds, *definitions.platforms})
            raise no_such("build or platform", name, known) from None
    if at:
        told = harmless(f"`--at` asks for conditions of a build, and `{name}` is a platform")
        raise click.UsageError(told)
    reach = reaches(definitions, kept_folder())
    return found, bare_case(definitions, definitions.platforms[name], reach[name])


def machines(project: Path, names: tuple[str, ...]) -> tuple[Survey, tuple[Case, ...] | None]:
    """Builds and platforms by their ids; None where a build has errors, which have been told."""
    found = remembered(read(project))
    definitions = found.definitions
    if definitions is None:
        tell(found.findings, found.sources.texts, project)
        raise click.ClickException("the project cannot be read")
    reach: Mapping[str, Reach] = reaches(definitions, kept_folder())
    cases: list[Case] = []
    sound = True
    for name in names:
        build, platform = definitions.builds.get(name), definitions.platforms.get(name)
        if build is None and platform is None:
            known = sorted({*definitions.builds, *definitions.platforms})
            raise no_such("build or platform", name, known)
        case = None if build is None else case_of(definitions, build)
        if case is None and platform is not None:
            case = bare_case(definitions, platform, reach[platform.id])
        if case is None or not case.sound:
            again, _ = one_build(project, name)
            tell(findings_about(again, name), again.sources.texts, project)
            sound = False
        else:
            cases.append(case)
    return found, tuple(cases) if sound else None


def family_of(definitions: Definitions) -> FamilyCase:
    """The platforms with what they can reach, and the builds, to stand beside a platform."""
    reach = reaches(definitions, kept_folder())
    platforms = {
        name: bare_case(definitions, platform, reach[name])
        for name, platform in definitions.platforms.items()
    }
    builds = {}
    for name, build in definitions.builds.items():
        case = case_of(definitions, build)
        if case is not None:
            builds[name] = (case.facts, case.sound)
    return FamilyCase(definitions, platforms, builds)
