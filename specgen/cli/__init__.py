"""The commands. Only this package prints; each command's module is imported when it is called.

This module answers `specgen --help`, and imports nothing for it: the library that reads command
lines takes three times as long to import as Python takes to start.
"""

import os
import sys
from collections.abc import Sequence
from contextlib import suppress

COMMANDS = {
    "new": "create a project, a platform, a build, a part or a text",
    "check": "find what is wrong with the definitions and the builds",
    "facts": "list every value of a build",
    "explain": "show where a value comes from, or what a code means",
    "limits": "find the most and the least a platform can reach",
    "complete": "fill what a build leaves open",
    "sheet": "write the spec sheet of a build, or another document",
    "compare": "write platforms or builds side by side",
    "prepare": "write what a site must have ready for servers",
    "parts": "list what to order for one build or several",
    "data": "write a build for programs: JSON, CSV, Redfish",
    "draw": "draw a build",
    "site": "publish everything as a static site",
    "manual": "write this program's manual as a site",
    "preview": "serve the site here and follow changes",
    "seal": "vouch for published files",
    "audit": "say whether a published file still agrees",
    "messages": "hand the project's own texts to translators",
    "schema": "write the JSON Schemas of the definition files",
    "completion": "print the completion script of a shell",
}
OPTIONS = {
    "--debug": "Print where it happened when specgen itself goes wrong.",
    "--version": "Show the version and exit.",
    "-h, --help": "Show this message and exit.",
}
HELP = """\
Usage: specgen [OPTIONS] COMMAND [ARGS]...

  Spec sheets and guides for servers, computed from checked definitions.

  A project is a folder with a specgen.yaml. Every command takes --project
  DIR; without it the nearest folder upwards that is a project counts, then
  ./builds.

  Exit status: 0 nothing wrong, 1 errors found, 2 could not read or bad usage,
  3 specgen itself went wrong, which is no mistake of yours.

Options:
{}

Commands:
{}
"""


def help_text() -> str:
    """What `specgen --help` prints."""
    return HELP.format(*map(_listed, (OPTIONS, COMMANDS)))


def _listed(entries: dict[str, str]) -> str:
    width = max(map(len, entries))
    return "\n".join(f"  {name:{width}}  {text}" for name, text in entries.items())


def entry() -> None:
    """What the shell starts: runs a command, and leaves without taking the program apart.

    What a command leaves behind is let go as a whole; letting go of each object of a project by
    itself took a tenth of `specgen check`.
    """
    import gc

    gc.disable()  # until the project is read (`source.lasting`): modules and trees stay
    status = main()
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            with suppress(OSError, ValueError):  # told by `main`, or closed
                stream.flush()
    os._exit(status)


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs a command and gives the exit status; no input ends in a traceback."""
    words = sys.argv[1:] if arguments is None else list(arguments)
    if words in (["--help"], ["-h"]) and sys.stdout is not None:
        try:
            sys.stdout.write(help_text())
            sys.stdout.flush()
            return 0
        except OSError:
            pass  # told by what tells of all the others
    from specgen.cli.run import run

    return run(words)
