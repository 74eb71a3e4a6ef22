"""Runs a command, and ends as the shell expects whatever happens."""

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

from specgen import DISTRIBUTION
from specgen.cli import COMMANDS, help_text
from specgen.cli.this_run import Run

CANNOT = 2
OUR_FAULT = 3
ENDED_BY = 128
"""Exit statuses from here on name the signal that ended the program, as shells have it."""


class ReaderLeft(Exception):
    """Nobody reads our output any more. Not an OSError, of which click makes a status of errors."""


class OneOf(click.Choice[str]):
    """One of several words, and the nearest to one that is none of them."""

    def get_invalid_choice_message(self, value: Any, ctx: click.Context | None) -> str:  # noqa: ARG002
        from specgen.diagnostics import meant
        from specgen.diagnostics.glyphs import harmless

        help_ = meant(str(value), self.choices)
        none = f"`{value}` is none of {', '.join(self.choices)}"
        return harmless(f"{none}: {help_}" if help_ else none)


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
        for parameter in command.params:
            if type(parameter.type) is click.Choice:
                parameter.type = OneOf(parameter.type.choices)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from specgen.diagnostics import did_you_mean, question
            from specgen.diagnostics.glyphs import harmless

            hint = question(did_you_mean(args[0], COMMANDS)) or f"there are {', '.join(COMMANDS)}"
            message = harmless(f"no command is named `{args[0]}`: {hint}")
            raise click.UsageError(message, ctx)
        return super().resolve_command(ctx, args)

    def get_help(self, ctx: click.Context) -> str:  # noqa: ARG002
        return help_text().rstrip("\n")


@click.group(cls=Lazy, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--debug", is_flag=True)
@click.version_option(package_name=DISTRIBUTION, message="%(prog)s %(version)s")
@click.pass_obj
def specgen(run: Run, debug: bool) -> None:
    """See `help_text`, which says it all."""
    run.debug = debug
    try:
        os.getcwd()  # noqa: PTH109  # whether it is there
    except FileNotFoundError:
        message = "the folder that this runs in is gone: change to one that exists"
        raise click.ClickException(message) from None


def run(arguments: Sequence[str]) -> int:
    """Runs a command and gives the exit status."""
    _open_standard_streams()
    try:
        return _run(arguments)
    except OSError:  # nobody can be told what went wrong: the error stream itself is in the way
        return CANNOT
    finally:
        _spill_nothing_of_errors()


def _run(arguments: Sequence[str]) -> int:
    this = Run()
    try:
        with _clearing_up_when_ended():
            status = specgen.main(arguments, prog_name="specgen", standalone_mode=False, obj=this)
            sys.stdout.flush()  # here, where what is in the way can still be told
    except click.ClickException as problem:
        problem.show()
        return CANNOT
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        return ENDED_BY + signal.SIGINT
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else OUR_FAULT
    except (ReaderLeft, BrokenPipeError):
        return _reader_left()
    except OSError as problem:
        _spill_nothing()
        what = f"cannot use {problem.filename}" if problem.filename else "cannot write the output"
        click.echo(f"Error: {what}: {problem.strerror or problem}", err=True)
        return CANNOT
    except Exception as bug:  # whatever is not told by now is a fault of ours
        if _of_added_calculators(bug):
            click.echo(f"calculators that an installed package adds: {bug}", err=True)
            return CANNOT
        if _without_solver(bug):
            click.echo(f"Error: {bug}", err=True)
            return CANNOT
        from specgen.cli.fault_report import tell_fault

        tell_fault(bug, this, arguments)
        return OUR_FAULT
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


def _open_standard_streams() -> None:
    """Gives a stream to each of the three that is closed, lest a file of ours takes its number.

    What goes to a closed output cannot be written, and is told so; a closed error stream is
    somebody's wish to hear nothing.
    """
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        if getattr(sys, name) is None:
            found = os.open(os.devnull, os.O_WRONLY if name == "stderr" else os.O_RDONLY)
            if found != number:
                os.dup2(found, number)
                os.close(found)
            mode = "r" if name == "stdin" else "w"
            stream = os.fdopen(number, mode, encoding="utf-8", errors="replace", closefd=False)
            setattr(sys, name, stream)


def _spill_nothing_of_errors() -> None:
    """What the error stream does not take goes nowhere, instead of changing the exit status."""
    try:
        sys.stderr.flush()
    except OSError:
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stderr.fileno())


def _reader_left() -> int:
    """The reader of our output has left; nothing more to say to it, and nothing was finished."""
    _spill_nothing()
    return ENDED_BY + 13  # SIGPIPE, which not every system names


def _spill_nothing() -> None:
    """What cannot be written goes nowhere, instead of failing once more at the exit."""
    try:
        sys.stdout.flush()  # what is in the way may be elsewhere
    except OSError:
        pass
    else:
        return
    with suppress(OSError, ValueError):  # not a file, or closed
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _without_solver(problem: BaseException) -> bool:
    """Whether a limit was asked for and nothing can solve it: the room is loaded by then."""
    limits = sys.modules.get("specgen.limits.solver")
    return limits is not None and isinstance(problem, limits.NoSolver)


def _of_added_calculators(problem: Exception) -> bool:
    facts = sys.modules.get("specgen.facts")  # loaded wherever it can be raised
    return isinstance(problem, getattr(facts, "BadRegistry", ()))
