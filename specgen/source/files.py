"""Finds the project and reads its files."""

from pathlib import Path

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean
from specgen.frozen import frozen
from specgen.source.yaml_tree import YamlNode, read_tree

PROJECT_FILE = "specgen.yaml"
FOLDERS = ("kinds", "values", "catalog", "platforms", "configured")
LARGEST = 64 * 1024 * 1024  # bytes of one file


class NoProject(Exception):
    """There is no project where one was looked for; `args[0]` says where, `help` what to do."""

    def __init__(self, message: str, help_: str) -> None:
        super().__init__(message)
        self.help = help_


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
            raise NoProject(f"`{name}` holds no {PROJECT_FILE}", _hint(folder))
        return folder.resolve()
    here = (start or Path.cwd()).resolve()
    for folder in (here, *here.parents):
        if (folder / PROJECT_FILE).is_file():
            return folder
    if (here / "builds" / PROJECT_FILE).is_file():
        return here / "builds"
    raise NoProject(
        f"no {PROJECT_FILE} here, in a folder above, or in ./builds",
        "go to the project's folder, or name it with --project DIR",
    )


def _hint(folder: Path) -> str:
    if not folder.is_dir():
        siblings = (
            [entry.name for entry in folder.parent.iterdir()] if folder.parent.is_dir() else []
        )
        close = did_you_mean(folder.name, siblings)
        return f"did you mean `{close[0]}`?" if close else "there is no such folder"
    below = sorted(path.parent.name for path in folder.glob(f"*/{PROJECT_FILE}"))
    return (
        f"did you mean `{below[0]}` in it?"
        if below
        else f"a project has a {PROJECT_FILE} at its top"
    )


def read_project(root: Path) -> Sources:
    """Every definition of the project, each file read even where another cannot be."""
    paths = [root / PROJECT_FILE]
    for folder in FOLDERS:
        found = [*(root / folder).rglob("*.yaml"), *(root / folder).rglob("*.yml")]
        paths += sorted(
            path
            for path in found
            if not any(part.startswith(".") for part in path.relative_to(root).parts)
        )
    files: list[SourceFile] = []
    findings: list[Finding] = []
    for path in paths:
        name = path.relative_to(root).as_posix()
        text, problem = read_file(path, name)
        if text is None:
            findings += problem
            files.append(SourceFile(name, "", None))
            continue
        tree, problems = read_tree(text, name)
        findings += problems
        files.append(SourceFile(name, text, tree))
    return Sources(root, tuple(files), tuple(findings))


def read_file(path: Path, name: str) -> tuple[str | None, tuple[Finding, ...]]:
    """The text of a file, or None and what is the matter with it."""
    start = Span(name, 1, 1, 1, 1)
    try:
        if not path.is_file():
            path.stat()  # says what is the matter with a link or a name
            problem = "not a file with text in it"
            help_ = "move it out of the project"
        elif path.stat().st_size > LARGEST:
            problem = f"larger than {LARGEST // 1024 // 1024} MiB"
            help_ = "split it; a project may have any number of files"
        else:
            return path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n"), ()
    except UnicodeDecodeError as error:
        problem = f"not UTF-8 text: byte {error.start} cannot be read"
        help_ = "save the file as UTF-8"
    except OSError as error:
        problem = f"cannot be read: {error.strerror or 'unknown reason'}"
        denied = isinstance(error, PermissionError)
        help_ = "look at the file's permissions" if denied else ""
    return None, (Finding(codes.UNREADABLE, problem, Label(start), help=help_),)
