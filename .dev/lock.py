#!/usr/bin/env python3
"""Renews the locked versions in `.dev/lock/`: `.venv/bin/python .dev/lock.py [OPTIONS]`.

What is locked stays, what `pyproject.toml` asks for now is added and what it no longer needs goes.
`--upgrade` takes the newest of everything, `--upgrade-package NAME` of one; options are those of
`uv pip compile`, which does the work and is among the development tools.

One answer serves every system and every Python from 3.11 on. Each package stands in one file with
the digests of all its files: `publish.txt` holds what the program needs to run and to be
installed, `test.txt` what tests need besides, `dev.txt` what developers need besides.
"""

import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / ".dev" / "lock"
EXTRAS = {"publish": "", "test": "test", "dev": "dev"}
"""The extra that each file locks, if any; a file takes in those before it."""
BUILD = ("editables", "setuptools")
"""What hatchling asks for to install an editable project, and what builds psychrolib, which comes
without a wheel: pip would fetch the newest of both, and hold neither to a digest."""
COMMON = ("--universal", "--python-version", "3.11", "--no-header", "--no-annotate", "--quiet")

Pins = dict[str, list[str]]
"""The blocks of lines of each package: one, or one for each range of Python versions."""


def main(options: list[str]) -> int:
    """Writes the files; the exit status of uv where it fails."""
    with tempfile.TemporaryDirectory() as name:
        whole = Path(name) / "whole.txt"
        # uv keeps to the versions that the file it is to write already holds.
        whole.write_text("".join(text_of(each) for each in EXTRAS), encoding="utf-8")
        try:
            every = compiled("dev", whole, "--generate-hashes", *options)
            kept: set[str] = set()
            for each, extra in EXTRAS.items():
                part = Path(name) / f"{each}.txt"
                names = set(compiled(extra, part, "--constraint", str(whole)))
                write(each, {pin: every[pin] for pin in sorted(names - kept)})
                kept |= names
        except subprocess.CalledProcessError as problem:
            return problem.returncode
    return 0


def compiled(extra: str, output: Path, *options: str) -> Pins:
    """What an extra of the project and its building need. Raises CalledProcessError."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    build = "\n".join([*project["build-system"]["requires"], *BUILD])
    wanted = ["--extra", extra] if extra else []
    sources = ["pyproject.toml", "-", *wanted, "--output-file", str(output)]
    command = [sys.executable, "-m", "uv", "pip", "compile", *COMMON, *sources, *options]
    subprocess.run(command, input=build, text=True, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return pins_of(output.read_text(encoding="utf-8"))


def pins_of(text: str) -> Pins:
    """The pins of a lock file by the package's name."""
    pins: Pins = {}
    name = ""
    for line in text.splitlines():
        if line.startswith(" "):
            pins[name][-1] += f"{line}\n"
        elif "==" in line:
            name = line.partition("==")[0]
            pins.setdefault(name, []).append(f"{line}\n")
    return pins


def write(each: str, pins: Pins) -> None:
    """One of the files, which takes in the one before it."""
    before = [*EXTRAS][: [*EXTRAS].index(each)]
    lines = [
        "# Made by .dev/lock.py; do not edit.\n",
        *(f"-r {name}.txt\n" for name in before[-1:]),
    ]
    lines += [block for blocks in pins.values() for block in blocks]
    FOLDER.mkdir(exist_ok=True)
    (FOLDER / f"{each}.txt").write_text("".join(lines), encoding="utf-8", newline="\n")


def text_of(each: str) -> str:
    """The pins that a file holds now."""
    try:
        pins = pins_of((FOLDER / f"{each}.txt").read_text(encoding="utf-8"))
    except FileNotFoundError:
        return ""
    return "".join(block for blocks in pins.values() for block in blocks)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
