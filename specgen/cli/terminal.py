"""What commands share at the terminal: the project option, colours, findings, progress."""

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TypeVar

import click

from specgen.cli.this_run import Run
from specgen.diagnostics import Finding, Severity, meant, worst
from specgen.diagnostics.as_text import report
from specgen.diagnostics.glyphs import harmless
from specgen.diagnostics.paint import Paint, Style, plain
from specgen.diagnostics.span import ASKED
from specgen.files.gate import is_file, read
from specgen.messages import Words
from specgen.pipeline import Survey
from specgen.shipped import templates_folder
from specgen.source import NoProject, find_project

F = TypeVar("F", bound=Callable[..., Any])

_COLOURS: dict[str, dict[str, Any]] = {
    "error": {"fg": "red", "bold": True},
    "warning": {"fg": "yellow", "bold": True},
    "note": {"fg": "cyan", "bold": True},
    "message": {"bold": True},
    "place": {"fg": "blue"},
    "gutter": {"fg": "blue"},
    "other": {"fg": "blue"},
    "hint": {"fg": "green"},
}


class ProjectFolder(click.ParamType[Path]):
    """The project folder, found as `find_project` says."""

    name = "DIR"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        if isinstance(value, Path):
            return value
        return project_folder(value, ctx, param)


def project_folder(
    value: str | None, ctx: click.Context | None, param: click.Parameter | None = None
) -> Path:
    """The project folder; a usage error with a hint where there is none."""
    try:
        return find_project(value or None)
    except NoProject as problem:
        message = harmless(f"{problem}: {problem.help}")
        raise click.BadParameter(message, ctx, param, "'--project'") from None


def in_project(function: F) -> F:
    """Adds --project; the command gets the folder as `project`."""
    return click.option(
        "--project",
        type=ProjectFolder(),
        default="",
        help="The folder with specgen.yaml.",
    )(function)


def asked_conditions(function: F) -> F:
    """Adds --at; the command gets the texts as `at`."""
    return click.option(
        "--at",
        multiple=True,
        metavar="NAME=VALUE",
        help='A condition to ask for, such as --at "inlet=35 degC". May be repeated.',
    )(function)


def planned_too(function: F) -> F:
    """Adds --planned; the command gets it as `planned`."""
    return click.option(
        "--planned", is_flag=True, help="Also use parts that cannot be ordered yet."
    )(function)


def keeping(function: F) -> F:
    """Adds --keep; the command gets the text as `keep`."""
    return click.option(
        "--keep",
        metavar="SLOT,...",
        help='Positions that stay as they are, such as --keep "CPU1,DIMM 1A1..1H2".',
    )(function)


def quietly(function: F) -> F:
    """Adds --quiet."""
    return click.option("-q", "--quiet", is_flag=True, help="Print nothing but problems.")(function)


def colourful(stream: Any) -> bool:
    """Whether to send colours to a stream: a terminal that knows them, and NO_COLOR not set."""
    return _obedient(stream) and not os.environ.get("NO_COLOR")


def _obedient(stream: Any) -> bool:
    """Whether a stream is a terminal that obeys more than line breaks."""
    return bool(stream.isatty()) and os.environ.get("TERM") != "dumb"


def painter(stream: Any) -> Paint:
    """A paint for a stream."""
    if not colourful(stream):
        return plain

    def paint(style: Style, text: str) -> str:
        return click.style(text, **_COLOURS.get(str(style), {}))

    return paint


def shown(root: Path) -> Callable[[str], str]:
    """How files of a project are named in output: the way there from the current folder."""
    try:
        relative = os.path.relpath(root)
    except ValueError:  # another drive
        relative = str(root)

    def path(file: str) -> str:
        shipped = _shipped_template(file, root)
        if shipped is not None:
            return Path(os.path.relpath(shipped)).as_posix()
        return (
            file if relative == "." or file.startswith(ASKED) else Path(relative, file).as_posix()
        )

    return path


def _shipped_template(file: str, root: Path) -> Path | None:
    """Where a template lies that the project has not got itself."""
    folder, _, name = file.partition("/")
    if folder != "templates" or is_file(root, root / file):
        return None
    shipped = templates_folder() / name
    return shipped if shipped.is_file() else None


_READ_LATER = ("templates/", "pages/", "prose/", "translations/")
"""Folders of what is read where it is used."""


def with_templates(
    texts: Mapping[str, str], findings: Iterable[Finding], root: Path
) -> dict[str, str]:
    """The texts of files, and of the templates, prose and catalogues that findings point at."""
    more: dict[str, str] = {}
    for file in {label.span.file for found in findings for label in (found.at, *found.labels)}:
        if file.startswith(_READ_LATER) and file not in texts:
            shipped = _shipped_template(file, root)
            with suppress(OSError, UnicodeDecodeError):
                content = read(root, root / file) if shipped is None else shipped.read_bytes()
                more[file] = content.decode("utf-8-sig").replace("\r\n", "\n")
    return {**texts, **more}


def remembered(found: Survey, more: list[Finding] | None = None) -> Survey:
    """The same survey, whose findings are told before a fault of ours, should one end the run.

    `more` is a list that findings are added to as they come.
    """
    context = click.get_current_context(silent=True)
    run = None if context is None else context.find_object(Run)
    if run is not None:
        run.found, run.more = found, [] if more is None else more
    return found


def status_of(findings: tuple[Finding, ...]) -> int:
    """The exit status that findings call for."""
    return 1 if worst(findings) is Severity.ERROR else 0


def print_findings(findings: tuple[Finding, ...], texts: dict[str, str], root: Path) -> None:
    """Findings in full, to the error stream."""
    texts = with_templates(texts, findings, root)
    text = report(findings, texts, shown=shown(root), paint=painter(sys.stderr))
    if text:
        click.echo(text, err=True)


class NoSuch(click.UsageError):
    """Nothing is named so."""


def no_such(word: str, name: str, known: list[str], listed: str = "") -> NoSuch:
    """Usage error for a name nothing has; `listed` is the command that lists those there are."""
    hint: Words = meant(name, known)
    if not hint and known:
        hint = f"there are {', '.join(known[:8])}" + (", …" if known[8:] else "")
    if listed:
        hint = f"{hint}; `{listed}` lists them all"
    message = f"no {word} is named `{name}`: {hint or 'there are none'}"
    return NoSuch(harmless(message))


@contextmanager
def progress(label: str, total: int, quiet: bool) -> Iterator[Callable[[int], None]]:
    """A progress bar on a terminal, plain lines elsewhere; call what is given with steps done."""
    if quiet or total == 0:
        yield lambda _: None
        return
    if not _obedient(sys.stderr):
        done = 0
        next_line = total / 4

        def step(count: int) -> None:
            nonlocal done, next_line
            done += count
            if done >= next_line or done == total:
                click.echo(f"{label}: {done} of {total}", err=True)
                next_line = done + total / 4

        yield step
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    console = Console(stderr=True, no_color=not colourful(sys.stderr), force_terminal=True)
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task(label, total=total)
        yield lambda count: bar.advance(task, count)
