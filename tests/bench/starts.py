"""What commands cost the processor, beside Python that does nothing, and what they import."""

import os
import statistics
import subprocess
import sys
from typing import Final

from tests.bench.projects import DEMO

ROUNDS: Final = 7
BUILD: Final = "lantern-office"
BARE: Final = ("-c", "pass")
COMMANDS: Final = {
    "--help": ("--help",),
    "check": ("check", "--quiet", "--project", str(DEMO)),
    "facts": ("facts", BUILD, "--format", "json", "--project", str(DEMO)),
    "explain": ("explain", BUILD, "power.maximum", "--project", str(DEMO)),
    "sheet": ("sheet", BUILD, "--to", "md", "--project", str(DEMO)),
}
TARGETS: Final = {"--help": "at most 3", "check": "at most 50", "facts": "at most 45"}


def starts() -> str:
    """A line for each command: times of the processor as ratios to bare Python, and modules."""
    spent: dict[str, list[float]] = {name: [] for name in ("", *COMMANDS)}
    for _ in range(ROUNDS):
        spent[""].append(_processor(*BARE))
        for name, words in COMMANDS.items():
            spent[name].append(_processor("-m", "specgen", *words))
    bare = statistics.median(spent[""])
    lines = [f"time of the processor, as so many times that of Python alone ({bare * 1000:.0f} ms)"]
    for name, words in COMMANDS.items():
        ratio = statistics.median(spent[name]) / bare
        target = f"; target: {TARGETS[name]}" if name in TARGETS else ""
        lines.append(f"  specgen {name}: {ratio:.1f}, {_modules(words)} modules imported{target}")
    return "\n".join(lines)


def _processor(*arguments: str) -> float:
    """Seconds that a run of Python takes of the processor, the system's share included."""
    return cost(*arguments, statuses=(0,))[0]


def cost(*arguments: str, statuses: tuple[int, ...]) -> tuple[float, float]:
    """The same, and the most megabytes it held at once; it has to end with one of the statuses."""
    quiet = subprocess.DEVNULL
    run = subprocess.Popen([sys.executable, "-P", *arguments], stdout=quiet, stderr=quiet)
    _, status, used = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    assert run.returncode in statuses, arguments
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def _modules(words: tuple[str, ...]) -> int:
    command = [sys.executable, "-P", "-X", "importtime", "-m", "specgen", *words]
    got = subprocess.run(
        command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
    ).stderr
    return sum(line.startswith("import time:") for line in got.splitlines()) - 1  # the head
