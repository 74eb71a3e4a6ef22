"""Temporary folders that no ended run leaves behind for good.

Beside each lies a lock file, there before the folder and gone after it, and held for as long as
its run, or a process that the run started, is alive. A run that is killed cannot clear up, at
whatever moment; the next one finds the lock that nobody holds and does it instead.
"""

import os
import re
import secrets
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from specgen.files.locks import Lock, LockTaken, is_ours

PREFIX: Final = "specgen-run-"
_LOCK: Final = re.compile(rf"{PREFIX}[0-9a-f]{{16}}\.lock\Z")


@contextmanager
def scratch() -> Iterator[Path]:
    """An empty folder for this run, gone at the end; clears what killed runs have left.

    Whatever a library makes of its own meanwhile lies in it too. Raises OSError where no folder can
    be made.
    """
    place = _place()
    clear_abandoned(place)
    folder, lock = _taken(place)
    try:
        folder.mkdir(mode=0o700)
        with _for_libraries(folder):
            yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if lock is not None:
            lock.release()


@contextmanager
def _for_libraries(folder: Path) -> Iterator[None]:
    """Has Python's own temporary files made in a folder; within another of ours they stay there."""
    before = tempfile.tempdir
    if before is None or not Path(before).name.startswith(PREFIX):
        tempfile.tempdir = str(folder)
    try:
        yield
    finally:
        tempfile.tempdir = before


def clear_abandoned(place: Path) -> None:
    """Remove our own folders in `place` whose run has ended; whatever is in doubt stays."""
    with suppress(OSError):
        for path in sorted(place.glob(f"{PREFIX}*.lock")):
            with suppress(OSError, LockTaken):
                if _LOCK.match(path.name) and is_ours(path):
                    lock, folder = Lock(path), path.with_suffix("")
                    if is_ours(folder, folder=True):
                        shutil.rmtree(folder, ignore_errors=True)
                    lock.release()


def lasting_place() -> Path:
    """The folder for temporary things that a run leaves for people to read."""
    place = _place()
    return place.parent if place.name.startswith(PREFIX) else place


def _place() -> Path:
    """The folder for temporary things, which lies in ours while there is one.

    Where one is named, Python is not asked: it would try the folder out with a file of its own.
    """
    if tempfile.tempdir is None:
        for name in ("TMPDIR", "TEMP", "TMP"):
            named = os.environ.get(name)
            if named and os.access(named, os.W_OK | os.X_OK) and Path(named).is_dir():
                return Path(named).absolute()
        if os.name == "posix" and os.access("/tmp", os.W_OK | os.X_OK):  # noqa: S108
            return Path("/tmp")  # noqa: S108
    return Path(tempfile.gettempdir())


def _taken(place: Path) -> tuple[Path, Lock | None]:
    """The path of a new folder, and its lock."""
    while True:
        folder = place / f"{PREFIX}{secrets.token_hex(8)}"
        path = folder.with_name(f"{folder.name}.lock")
        try:
            return folder, Lock(path)
        except LockTaken:  # a run that clears up was quicker than we
            continue
        except OSError:
            if not path.is_file():
                raise
            path.unlink()  # a file system without locks: nobody clears this folder but us
            return folder, None
