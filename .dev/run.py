#!/usr/bin/env python3
"""The two commands of the README, each alone: `publish` the demo and the manual, `test` everything.

Both keep a `.venv` beside this folder: they create it where it is missing, install what `lock/`
names and the project into it when either has changed, and make it anew where it is broken or
half-made. Only the standard library; Linux, macOS, Windows.
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
LOCK = ROOT / ".dev" / "lock"
LOCKS = ("publish", "test", "dev")
"""Files of locked versions, made by lock.py; each takes in those before it."""
STAMP = VENV / "specgen-installed.json"
"""What is installed: digest of what says so, folder, lock. Missing while an install runs."""
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
    """Publish the demo site into `public/` and the manual into `manual/`."""
    python = installed("publish")
    specgen: list[str | Path] = [python, "-P", "-m", "specgen"]
    where = ["--project", str(ROOT / "builds"), "-o", str(ROOT / "public")]
    status = run(*specgen, "site", *where, *options)
    return max(status, run(*specgen, "manual", "-o", str(ROOT / "manual")))


def test(options: list[str]) -> int:
    """Run the tests, in as many processes as there are processors."""
    python = installed("test")
    workers = min(os.cpu_count() or 1, WORKERS)
    spread = ["-n", str(workers)] if workers > 1 else []
    return run(python, "-m", "pytest", *spread, *options, folder=ROOT)


def installed(lock: str) -> Path:
    """The Python of a `.venv` that holds the project and what `lock` names. Raises Failed."""
    says = [ROOT / "pyproject.toml", *(LOCK / f"{each}.txt" for each in LOCKS)]
    wanted = {"digest": digest_of(*says), "root": str(ROOT)}
    stamp = read_stamp()
    sound = not BUSY.exists() and works("import pip")
    if sound and all(stamp.get(key) == value for key, value in wanted.items()):
        # What an earlier command has asked for stays installed.
        have = stamp.get("lock")
        if have in LOCKS and LOCKS.index(have) >= LOCKS.index(lock):
            if works("import specgen.cli.run"):
                return venv_python()
            lock = have
    if sound:
        renew(lock)
    else:
        create()
        install(lock)
    STAMP.write_text(json.dumps({**wanted, "lock": lock}), encoding="utf-8")
    return venv_python()


def renew(lock: str) -> None:
    """Bring `.venv` up to date, or put a new one in its place. Raises Failed.

    Where the new one cannot be made either (no network, say), the old one stays.
    """
    try:
        install(lock)
    except Failed as problem:
        say("the old .venv does not take the project; making it anew")
        remove(ASIDE)
        VENV.rename(ASIDE)
        try:
            create()
            install(lock)
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


def install(lock: str) -> None:
    """Install what `lock` names, held to its digests, and the project, editable. Raises Failed."""
    say("installing what specgen needs into .venv")
    STAMP.unlink(missing_ok=True)
    BUSY.touch()
    pip = [str(venv_python()), "-m", "pip", "install", "--quiet", "--no-input"]
    pip += ["--disable-pip-version-check"]
    # What builds is locked too and comes with the first file; pip would fetch the newest of it.
    pip += ["--no-build-isolation"]
    for each in dict.fromkeys((LOCKS[0], lock)):
        locked = ["--require-hashes", "--requirement", str(LOCK / f"{each}.txt")]
        quiet([*pip, *locked], "pip could not install what specgen needs")
    project = ["--no-deps", "--editable", str(ROOT)]
    quiet([*pip, *project], "pip could not install specgen")
    if not works("import specgen.cli.run"):
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


def digest_of(*files: Path) -> str:
    """The digest of their contents. Raises Failed where one cannot be read."""
    try:
        return hashlib.sha256(b"\0".join(file.read_bytes() for file in files)).hexdigest()
    except OSError as problem:
        raise Failed(f"cannot read {problem.filename}: {problem.strerror}") from None


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
