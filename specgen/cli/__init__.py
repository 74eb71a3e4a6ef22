"""The commands. Only this package prints; each command's module is imported when it is called."""

import os
import sys
from collections.abc import Sequence
from importlib import import_module

import click

COMMANDS = {
    "check": "find what is wrong with the definitions and the builds",
    "facts": "list every figure of a build",
    "explain": "show where a figure comes from, or what a code means",
    "limits": "find the most and the least a platform can reach",
    "sheet": "write the spec sheet of a build",
    "draw": "draw a build",
    "site": "publish everything as a static site",
    "preview": "serve the site here and follow changes",
    "schema": "write the JSON Schemas of the definition files",
    "completion": "print what makes a shell complete specgen's words",
}
OUR_BUG = 3


class Lazy(click.Group):
    """Knows its commands by name and imports one only when it runs."""

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
        status = specgen.main(arguments, prog_name="specgen", standalone_mode=False)
    except click.ClickException as problem:
        problem.show()
        return 2
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        return 130
    except BrokenPipeError:
        # the reader of our output has left; nothing more to say to it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as bug:
        if os.environ.get("SPECGEN_DEBUG"):
            raise
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


def _of_added_calculators(problem: Exception) -> bool:
    from specgen.facts import BadRegistry  # heavy, and loaded by now wherever it can be raised

    return isinstance(problem, BadRegistry)
