#!/usr/bin/env python3
"""The two commands of the README, each alone: `publish` the demo, `test` everything.

Both keep a `.venv` beside this folder: they create it where it is missing, install the project
into it when `pyproject.toml` has changed, and make it anew where it is broken or half-made.
Only the standard library; Linux, macOS, Windows.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036  # the one place an older Python gets to
    sys.exit(
        f"specgen needs Python 3.11 or newer; this is {sys.version_info[0]}.{sys.version_info[1]}"
    )

import hashlib
import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
ASIDE = ROOT / ".venv-aside"
STAMP = VENV / "specgen-installed.json"
"""What is installed: digest of pyproject.toml, folder, extras. Missing while an install runs."""
BUSY = VENV / "specgen-installing"
WORKERS = 8  # most processes that run tests
USAGE = """\
usage: python3 .dev/run.py publish [OPTIONS OF specgen site]
       python3 .dev/run.py test    [OPTIONS OF pytest]
"""


class Failed(Exception):
    """Set-up cannot go on; `args[0]` says why, the output of what failed may follow."""


def main(arguments: list[str]) -> int:
    """Exit status of the command: 2 for bad usage or a failed set-up, else what it gave."""
    command, *rest = arguments or [""]
    try:
        if command == "publish":
            return publish(rest)
        if command == "test":
            return test(rest)
    except Failed as problem:
        say(str(problem))
        return 2
    except KeyboardInterrupt:
        say("stopped")
        return 130
    sys.stderr.write(USAGE)
    return 0 if command in ("-h", "--help") else 2


def publish(options: list[str]) -> int:
    """Publish the demo site into `public/`."""
    python = installed(frozenset({"limits"}))
    where = ["--project", str(ROOT / "builds"), "-o", str(ROOT / "public")]
    return run(python, "-P", "-m", "specgen", "site", *where, *options)


def test(options: list[str]) -> int:
    """Run the tests, in as many processes as there are processors."""
    python = installed(frozenset({"test"}))
    workers = min(os.cpu_count() or 1, WORKERS)
    spread = ["-n", str(workers)] if workers > 1 else []
    return run(python, "-m", "pytest", *spread, *options, folder=ROOT)


def installed(extras: frozenset[str]) -> Path:
    """The Python of a `.venv` that holds the project with `extras`. Raises Failed."""
    wanted = {"pyproject": digest_of(ROOT / "pyproject.toml"), "root": str(ROOT)}
    stamp = read_stamp()
    sound = not BUSY.exists() and works("import pip")
    if sound and all(stamp.get(key) == value for key, value in wanted.items()):
        # Extras that an earlier command has asked for stay installed.
        have = frozenset(stamp.get("extras", ()))
        if extras <= have and works("import specgen.cli"):
            return venv_python()
        extras |= have
    if sound:
        renew(extras)
    else:
        create()
        install(extras)
    STAMP.write_text(json.dumps({**wanted, "extras": sorted(extras)}), encoding="utf-8")
    return venv_python()


def renew(extras: frozenset[str]) -> None:
    """Bring `.venv` up to date, or put a new one in its place. Raises Failed.

    Where the new one cannot be made either (no network, say), the old one stays.
    """
    try:
        install(extras)
    except Failed as problem:
        say("the old .venv does not take the project; making it anew")
        remove(ASIDE)
        VENV.rename(ASIDE)
        try:
            create()
            install(extras)
        except Failed:
            remove(VENV)
            ASIDE.rename(VENV)
            BUSY.unlink(missing_ok=True)
            raise problem from None
        remove(ASIDE)


def create() -> None:
    """A new `.venv`, in place of whatever bears the name."""
    if VENV.exists() or VENV.is_symlink():
        say("making .venv anew")
        remove(VENV)
    python = [sys.executable, "-m"]
    try:
        quiet([*python, "venv", str(VENV)], "cannot create .venv")
    except Failed as problem:
        # Debian keeps `ensurepip` in a package of its own; a pip outside can stand in for it.
        try:
            quiet([*python, "venv", "--clear", "--without-pip", str(VENV)], "")
            quiet([*python, "pip", "--python", str(venv_python()), "install", "pip"], "")
        except Failed:
            hint = "on Debian and its kin: apt-get install python3-venv"
            raise Failed(f"{problem}\n{hint}") from None
    BUSY.touch()


def remove(path: Path) -> None:
    """Remove a folder, or a link or file in its place. Raises Failed."""
    try:
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink(missing_ok=True)
    except OSError as problem:
        raise Failed(f"cannot remove {path.name}: {problem}") from None


def install(extras: frozenset[str]) -> None:
    """Install the project, editable, with all that it needs."""
    say("installing what specgen needs into .venv")
    STAMP.unlink(missing_ok=True)
    BUSY.touch()
    wanted = f"{ROOT}[{','.join(sorted(extras))}]" if extras else str(ROOT)
    command = [str(venv_python()), "-m", "pip", "install", "--quiet", "--no-input"]
    command += ["--disable-pip-version-check", "--editable", wanted]
    quiet(command, "pip could not install specgen")
    if not works("import specgen.cli"):
        raise Failed("specgen is installed and does not start; remove .venv and try again")
    BUSY.unlink()


def works(code: str) -> bool:
    """Whether the Python of `.venv` is there, new enough, in its place, and runs `code`."""
    check = f"import sys; assert sys.version_info >= (3, 11); print(sys.prefix); {code}"
    try:
        done = subprocess.run(
            [venv_python(), "-I", "-c", check],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0 and Path(done.stdout.strip()).resolve() == VENV.resolve()


def venv_python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def read_stamp() -> dict[str, Any]:
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def digest_of(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def quiet(command: list[str], trouble: str) -> None:
    """Run a command whose output matters only where it fails. Raises Failed with it then."""
    try:
        done = subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
    except OSError as problem:
        raise Failed(f"{trouble}: {problem}") from None
    if done.returncode:
        raise Failed("\n".join(filter(None, [trouble, done.stdout.strip()])))


def run(*command: str | Path, folder: Path | None = None) -> int:
    """Run a command in sight of the user; its exit status."""
    status = subprocess.run(command, cwd=folder, check=False).returncode
    return status if status >= 0 else 128 - status


def say(message: str) -> None:
    print(f"run.py: {message}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
