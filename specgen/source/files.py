"""Finds the project and reads its files."""

from pathlib import Path

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.diagnostics.fault import carrying
from specgen.files.gate import NotOpened, look_through, read
from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.source.refusals import WRITTEN, refusal, refusals
from specgen.source.yaml_nodes import YamlNode
from specgen.source.yaml_tree import read_tree

PROJECT_FILE = "specgen.yaml"
PICTURES = "pictures"
FOLDERS = ("kinds", "values", "catalog", "platforms", "configured", PICTURES)
ENDINGS = (".yaml", ".yml")


class NoProject(Exception):
    """There is no project where one was looked for; `message` says where, `help` what to do."""

    def __init__(self, message: Message, help_: Message) -> None:
        super().__init__(message)
        self.message, self.help = message, help_


@frozen
class SourceFile:
    """One file of a project: its name from the project folder on, its text, its tree."""

    name: str
    text: str
    tree: YamlNode | None

    @property
    def folder(self) -> str:
        return self.name.split("/", 1)[0] if "/" in self.name else ""


@frozen
class Sources:
    """All files of a project in the order of their names."""

    root: Path
    files: tuple[SourceFile, ...]
    findings: tuple[Finding, ...]

    @property
    def texts(self) -> dict[str, str]:
        return {file.name: file.text for file in self.files}


def find_project(name: str | None, start: Path | None = None) -> Path:
    """The project folder: the one given, else the nearest one upwards, else `./builds`.

    Raises `NoProject` where there is none.
    """
    if name is not None:
        folder = Path(name)
        if folder.name == PROJECT_FILE and folder.is_file():
            folder = folder.parent
        if not (folder / PROJECT_FILE).is_file():
            raise NoProject(
                say("`{name}` holds no {file}", name=name, file=PROJECT_FILE), _hint(folder)
            )
        return folder.resolve()
    here = (start or Path.cwd()).resolve()
    for folder in (here, *here.parents):
        if (folder / PROJECT_FILE).is_file():
            return folder
    below = here / "builds"
    if (below / PROJECT_FILE).is_file():
        if not below.resolve().is_relative_to(here):  # nobody has named what it leads to
            raise NoProject(
                say("`builds` is a link to another place"),
                say("name the project with --project DIR"),
            )
        return below.resolve()
    raise NoProject(
        say("no {file} here, in a folder above, or in ./builds", file=PROJECT_FILE),
        say("go to the project's folder, or name it with --project DIR"),
    )


def _hint(folder: Path) -> Message:
    if not folder.is_dir():
        siblings = (
            [entry.name for entry in folder.parent.iterdir()] if folder.parent.is_dir() else []
        )
        close = did_you_mean(folder.name, siblings)
        return question(close[:1]) or say("there is no such folder")
    below = sorted(path.parent.name for path in folder.glob(f"*/{PROJECT_FILE}"))
    if below:
        return say("did you mean `{name}` in it?", name=below[0])
    return say("a project has a {file} at its top", file=PROJECT_FILE)


def read_project(root: Path) -> Sources:
    """Every definition of the project, each file read even where another cannot be."""
    paths = [root / PROJECT_FILE]
    findings: list[Finding] = []
    for folder in FOLDERS:
        found = [*look_through(root, folder, ENDINGS)]
        paths += sorted(each for each in found if isinstance(each, Path))
        findings += (refusal(each) for each in found if isinstance(each, NotOpened))
    findings += refusals(root, WRITTEN)
    files: list[SourceFile] = []
    with carrying(findings):
        for path in paths:
            name = path.relative_to(root).as_posix()
            text, problem = read_file(root, path, name)
            if text is None:
                findings += problem
                files.append(SourceFile(name, "", None))
                continue
            tree, problems = read_tree(text, name)
            findings += problems
            files.append(SourceFile(name, text, tree))
    return Sources(root, tuple(files), tuple(findings))


def read_file(root: Path, path: Path, name: str) -> tuple[str | None, tuple[Finding, ...]]:
    """The text of a file of a project, or None and what is the matter with it."""
    try:
        return read(root, path).decode("utf-8-sig").replace("\r\n", "\n"), ()
    except UnicodeDecodeError as error:
        return None, (not_text(error, name),)
    except NotOpened as refused:
        return None, (refusal(refused),)


def not_text(error: UnicodeDecodeError, name: str) -> Finding:
    """The finding for a file that is not UTF-8, at the line of the first byte that cannot be."""
    before = error.object[: error.start]
    line = before.count(b"\n") + 1
    column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace")) + 1
    return Finding(
        codes.UNREADABLE,
        say("not UTF-8 text: byte {byte} cannot be read", byte=error.start),
        Label(Span(name, line, column, line, column + 1)),
        help=say("save the file as UTF-8"),
    )
