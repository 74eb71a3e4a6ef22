"""The commands. Only this package prints; each command's module is imported when it is called."""

import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from importlib import import_module
from types import FrameType
from typing import Any

import click

COMMANDS = {
    "new": "begin a project, a platform, a build, a part or a text",
    "check": "find what is wrong with the definitions and the builds",
    "facts": "list every figure of a build",
    "explain": "show where a figure comes from, or what a code means",
    "limits": "find the most and the least a platform can reach",
    "complete": "fill what a build leaves open",
    "sheet": "write the spec sheet of a build, or another document",
    "compare": "write platforms or builds side by side",
    "prepare": "write what a place must have ready for machines",
    "parts": "list what to order for one build or several",
    "data": "write a build for programs: JSON, CSV, Redfish",
    "draw": "draw a build",
    "site": "publish everything as a static site",
    "preview": "serve the site here and follow changes",
    "schema": "write the JSON Schemas of the definition files",
    "completion": "print what makes a shell complete specgen's words",
}
OUR_BUG = 3
ENDED_BY = 128
"""Exit statuses from here on name the signal that ended the program, as shells have it."""


class ReaderLeft(Exception):
    """Nobody reads our output any more. Not an OSError, of which click makes a status of errors."""


class Lazy(click.Group):
    """Knows its commands by name and imports one only when it runs."""

    def make_context(self, *args: Any, **kwargs: Any) -> click.Context:
        try:
            return super().make_context(*args, **kwargs)
        except BrokenPipeError:
            raise ReaderLeft from None

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            raise ReaderLeft from None

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"specgen.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from specgen.diagnostics import did_you_mean, question
            from specgen.diagnostics.glyphs import harmless

            hint = question(did_you_mean(args[0], COMMANDS)) or f"there are {', '.join(COMMANDS)}"
            told = harmless(f"no command is named `{args[0]}`: {hint}")
            raise click.UsageError(told, ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=Lazy, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="specgen", message="%(prog)s %(version)s")
def specgen() -> None:
    """Spec sheets and guides for servers, computed from checked definitions.

    A project is a folder with a specgen.yaml. Every command takes --project DIR; without it the
    nearest folder upwards that is a project counts, then ./builds.

    Exit status: 0 nothing wrong, 1 errors found, 2 could not read or bad usage.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs a command and gives the exit status; no input ends in a traceback."""
    try:
        with _clearing_up_when_ended():
            status = specgen.main(arguments, prog_name="specgen", standalone_mode=False)
            sys.stdout.flush()  # here, where what is in the way can still be told
    except click.ClickException as problem:
        problem.show()
        return 2
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        return ENDED_BY + signal.SIGINT
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else OUR_BUG
    except (ReaderLeft, BrokenPipeError):
        return _reader_left()
    except Exception as bug:
        if os.environ.get("SPECGEN_DEBUG"):
            raise
        if isinstance(bug, OSError):
            _spill_nothing()
            what = f"cannot use {bug.filename}" if bug.filename else "cannot write the output"
            click.echo(f"Error: {what}: {bug.strerror or bug}", err=True)
            return 2
        if _of_added_calculators(bug):
            click.echo(f"calculators that an installed package adds: {bug}", err=True)
            return 2
        click.echo(
            f"specgen itself went wrong: {type(bug).__name__}: {bug}\n"
            "This is a bug, not a mistake of yours. Set SPECGEN_DEBUG=1 to see where, "
            "and report it with the definitions that led here.",
            err=True,
        )
        return OUR_BUG
    return status if isinstance(status, int) else 0


@contextmanager
def _clearing_up_when_ended() -> Iterator[None]:
    """Lets a signal that ends the program unwind it, so that temporary folders are removed."""
    wanted = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    if threading.current_thread() is not threading.main_thread():
        wanted = []
    before = {each: signal.getsignal(each) for each in wanted}

    def end(number: int, _: FrameType | None) -> None:
        for each in wanted:
            signal.signal(each, signal.SIG_IGN)  # once is enough
        raise SystemExit(ENDED_BY + number)

    for each, action in before.items():
        if action is signal.SIG_DFL:  # whoever ignores hang-ups goes on doing so
            signal.signal(each, end)
    try:
        yield
    finally:
        for each, action in before.items():
            signal.signal(each, action)


def _reader_left() -> int:
    """The reader of our output has left; nothing more to say to it, and nothing was finished."""
    _spill_nothing()
    return ENDED_BY + 13  # SIGPIPE, which not every system names


def _spill_nothing() -> None:
    """What still waits to be written goes nowhere, instead of failing once more at the exit."""
    with suppress(OSError, ValueError):  # not a file, or closed
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _of_added_calculators(problem: Exception) -> bool:
    from specgen.facts import BadRegistry  # heavy, and loaded by now wherever it can be raised

    return isinstance(problem, BadRegistry)
