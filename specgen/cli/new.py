"""`specgen new`: definition files and texts to begin with."""

import re
import shlex
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

import click

from specgen.assembly import assemble
from specgen.cli.known_kinds import complete_kind
from specgen.cli.terminal import in_project, no_such, print_findings, remembered, shown
from specgen.diagnostics.glyphs import harmless
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PROSE
from specgen.files.gate import is_file, may_write
from specgen.fitness import around, candidates, field_of
from specgen.load.scaffold import accepts, fresh, quoted
from specgen.messages.catalogue import languages
from specgen.model import Build, Definitions, Platform, Project, expand
from specgen.model.fields import Id, Text
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.pipeline import read, systems_of
from specgen.quantity import Quantity
from specgen.rules.processors import one_of_them
from specgen.source import PROJECT_FILE, read_file

KINDS_OF_FILE: Final[Mapping[str, str]] = {
    "project": "a folder with a specgen.yaml",
    "platform": "a chassis with its board",
    "build": "a configured server",
    "part": "a part of one of the kinds",
    "kind": "a kind of part that the program does not ship",
    "prose": "a text about a platform, a build or a part",
}
MOST_VALUES: Final = 3
_HEAD: Final = "Loads as it is. What is marked with `to do` is a placeholder: write your own."


class Choice(click.Group):
    """Knows its words, and the nearest to one it does not know."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(KINDS_OF_FILE)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in KINDS_OF_FILE and not args[0].startswith("-"):
            raise no_such("kind of file to begin", args[0], list(KINDS_OF_FILE))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Kinds"):
            formatter.write_dl(list(KINDS_OF_FILE.items()))


class IdType(click.ParamType[str]):
    """An id as definitions have them."""

    name = "ID"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        if accepts(Id, str(value)):
            return str(value).strip()
        slug = re.sub(r"[^a-z0-9]+", "-", str(value).lower()).strip("-")
        hint = f"did you mean `{slug}`?" if slug else "such as `plain-riser`"
        message = f"`{value}` is not an id of lower-case letters, digits and hyphens: {hint}"
        raise click.BadParameter(harmless(message), ctx, param)


@click.group("new", cls=Choice, subcommand_metavar="KIND [ID]")
def command() -> None:
    """Create a file: a project, platform, build, part or text that loads at once.

    Every field that a definition needs stands there with a placeholder, those it may have stand
    behind a `#`. A file that exists is never overwritten.
    """


@command.command("project")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
def project_command(folder: Path) -> int:
    """Create a project in FOLDER, which is made where there is none."""
    name = folder.resolve().name
    slug = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    title = quoted(name) if accepts(Text, name) else "to do"
    family = {"families.id": quoted(slug)} if slug else {}
    text = fresh(Project, {"title": title, **family}, head=_HEAD)
    _write(folder, PROJECT_FILE, text)
    _next(f"specgen new platform ID --project {shlex.quote(str(folder))}")
    return 0


@command.command("platform")
@click.argument("id_", metavar="ID", type=IdType())
@in_project
def platform_command(id_: str, project: Path) -> int:
    """Create a platform, in platforms/ID.yaml."""
    definitions = _read(project)
    _free("platform", id_, definitions.platforms, project)
    values = {
        **_named(id_),
        "positions.name": "PLACE 1",
        "positions.takes": next(iter(definitions.kinds)),
    }
    families = [family.id for family in definitions.project.families]
    if families:
        values["family"] = quoted(families[0])
    text = fresh(Platform, values, head=_HEAD)
    _write(project, f"platforms/{id_}.yaml", _schema(project, "platform") + text)
    _next(f"specgen new build ID --platform {id_}")
    return 0


@command.command("build")
@click.argument("id_", metavar="ID", type=IdType())
@click.option("--platform", required=True, help="The platform it is a build of.")
@in_project
def build_command(id_: str, platform: str, project: Path) -> int:
    """Create a build of a platform, in configured/ID.yaml.

    Positions that must be filled have a part that goes in; the others are listed.
    """
    definitions = _read(project)
    _free("build", id_, definitions.builds, project)
    if platform not in definitions.platforms:
        raise no_such("platform", platform, sorted(definitions.platforms))
    draft = "false  # a draft, until it is whole"
    values = {**_named(id_), "platform": quoted(platform), "published": draft}
    below = {"fit": _fit(definitions, definitions.platforms[platform])}
    text = fresh(Build, values, head=_HEAD, below=below)
    _write(project, f"configured/{id_}.yaml", _schema(project, "build") + text)
    _next(f"specgen complete {id_}", "fills what it leaves open")
    return 0


@command.command("part")
@click.argument("id_", metavar="ID", type=IdType())
@click.option(
    "--kind", required=True, shell_complete=complete_kind, help="The kind of part, such as drive."
)
@in_project
def part_command(id_: str, kind: str, project: Path) -> int:
    """Create a part, in catalog/ID.yaml."""
    definitions = _read(project)
    if kind not in definitions.kinds:
        raise no_such("kind of part", kind, list(definitions.kinds))
    _free("part", id_, definitions.parts, project)
    text = fresh(definitions.kinds[kind], _named(id_), head=_HEAD, kind=kind)
    _write(project, f"catalog/{id_}.yaml", _schema(project, "part") + text)
    return 0


@command.command("kind")
@click.argument("id_", metavar="ID", type=IdType())
@in_project
def kind_command(id_: str, project: Path) -> int:
    """Create a kind of part, in kinds/ID.yaml; then `new part` knows it."""
    definitions = _read(project)
    if id_ in definitions.kinds:
        raise click.UsageError(harmless(f"a kind `{id_}` is there already"))
    title = _named(id_)["name"]
    values = {"id": quoted(id_), "title": title, "plural": f"{title}s"}
    text = fresh(DeclaredKind, values, head=_HEAD)
    _write(project, f"kinds/{id_}.yaml", _schema(project, "kind") + text)
    _next(f"specgen new part ID --kind {id_}")
    return 0


@command.command("prose")
@click.argument("subject", metavar="ID")
@click.option(
    "--name",
    type=IdType(),
    default="introduction",
    show_default=True,
    help="What templates call the text by.",
)
@click.option(
    "--language",
    type=click.Choice(languages()),
    help="Another language than the project's, for a file of its own: prose/ID/NAME.LANGUAGE.md.",
)
@in_project
def prose_command(subject: str, name: str, language: str | None, project: Path) -> int:
    """Create a text about a platform, a build or a part, in prose/ID/NAME.md.

    In another LANGUAGE it begins as the text of that name, where there is one: translate it in
    place. `specgen messages` then leaves the text out, which it hands over passage by passage.
    """
    definitions = _read(project)
    subjects = Subjects(definitions, systems_of(definitions))
    if not subjects.kind(subject):
        raise no_such("platform, build or part", subject, list(subjects.ids))
    file, text = f"{PROSE}/{subject}/{name}.md", None
    if language is not None and language != definitions.project.language:
        if is_file(project, project / file):
            text, _ = read_file(project, project / file, file)
        file = f"{PROSE}/{subject}/{name}.{language}.md"
    _write(project, file, _prose(subjects, subject) if text is None else text)
    return 0


def _prose(subjects: Subjects, subject: str) -> str:
    """A text with references that hold: the name, and a few values with their labels."""
    values = [
        (key, fact.label)
        for key, fact in (subjects.facts(subject) or subjects.stated(subject)).items()
        if isinstance(fact.value, Quantity) and fact.value.amount
    ][:MOST_VALUES]
    reference = f"{{{subjects.kind(subject)} {subject}}}"
    lines = [
        "## To do: a heading",
        "",
        f"To do: what {reference} is, and for whom.",
    ]
    if values:
        key = values[0][0]
        lines += [
            "",
            f"A value is written as its key in braces, as in `{{{key}}}`, and printed with its",
            "unit. So it keeps up with the definitions:",
            "",
            *(f"- {label}: {{{key}}}" for key, label in values),
        ]
    return "\n".join(lines) + "\n"


def _fit(definitions: Definitions, platform: Platform) -> tuple[str, ...]:
    """The lines of `fit`: a part for each position that must have one, the others behind a `#`."""
    places = assemble(definitions, platform, None).places
    filled = _filled(definitions, platform)
    lines = []
    for position in platform.positions:
        takes, names = " or ".join(position.takes), expand(position.name)
        if position.fixed:
            continue
        if filled.keys().isdisjoint(names):
            lines.append(f"  # {position.name}: to-do  # takes {takes}")
            continue
        for name in (each for each in names if each in places):
            if name in filled:
                lines.append(f"  {name}: {quoted(filled[name])}  # to do: takes {takes}")
            else:
                lines.append(f"  # {name}: to-do  # takes {takes}")
    return tuple(lines)


def _filled(definitions: Definitions, platform: Platform) -> dict[str, str]:
    """A part that goes in, for each position that must be filled and hangs on no empty one, for one
    socket where none of them must, and for what cools a part that sits in a socket."""
    assembly = assemble(definitions, platform, None)
    filled: dict[str, str] = {}
    needed = {n for n, p in assembly.places.items() if p.position.must}
    needed |= {place.name for place in one_of_them(assembly)[:1]}
    waiting = [(n, p) for n, p in assembly.places.items() if n in needed or p.cools]
    for _ in range(len(waiting)):  # a position may wait for another that stands further on
        for name, place in waiting:
            of = place.of
            if name in filled or place.position.fixed or (of is not None and of not in filled):
                continue
            cooled = definitions.parts.get(filled.get(place.cools or "", ""))
            if name not in needed and (cooled is None or field_of(cooled, "socket") is None):
                continue
            parts = candidates(place, around(assembly, place))
            on_sale = (each for each in parts if definitions.status(each) == "active")
            part = next((each.id for each in on_sale), None)
            if part is not None:
                filled[name] = part
    return filled


def _named(id_: str) -> dict[str, str]:
    words = id_.replace("-", " ")
    return {"id": quoted(id_), "name": quoted(words[0].upper() + words[1:])}


def _schema(project: Path, name: str) -> str:
    """The line by which editors complete a file, where the project keeps its schemas."""
    if not (project / ".schemas" / f"{name}.json").is_file():
        return ""
    return f"# yaml-language-server: $schema=../.schemas/{name}.json\n"


def _read(project: Path) -> Definitions:
    """What the project defines; ends the command where its specgen.yaml cannot be read."""
    found = remembered(read(project))
    if found.definitions is None:
        print_findings(found.findings, found.sources.texts, project)
        raise click.ClickException("the project cannot be read")
    return found.definitions


def _free(word: str, id_: str, taken: Mapping[str, Any], project: Path) -> None:
    if id_ in taken:
        at = taken[id_].origin.at("id")
        place = f"{shown(project)(at.file)}:{at.line}:{at.column}"
        raise click.UsageError(harmless(f"a {word} `{id_}` is there already: {place}"))


def _write(project: Path, name: str, text: str) -> None:
    """Writes a new file and says where; a file that exists stays as it is."""
    path = project / name
    shown_path = path if name == PROJECT_FILE else Path(shown(project)(name))
    if not may_write(project, path):
        raise click.UsageError(harmless(f"{shown_path} would lie outside of the project"))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise click.UsageError(
            harmless(f"{shown_path} is there already: nothing was written; delete it, or edit it")
        ) from None
    except OSError as problem:
        raise click.ClickException(
            harmless(f"cannot write {shown_path}: {problem.strerror}")
        ) from None
    click.echo(harmless(str(shown_path)))


def _next(name: str, what: str = "begins what comes next") -> None:
    click.echo(harmless(f"`{name}` {what}"), err=True)
