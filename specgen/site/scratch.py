"""Temporary folders that no ended run leaves behind for good.

Each holds a lock file for as long as its run, or a process that the run started, is alive. A run
that is killed cannot clear up; the next one finds its folder unlocked and does it instead.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from specgen.site.folder_swap import Lock, LockTaken

PREFIX: Final = "specgen-"
LOCK: Final = "in-use-by-specgen"


@contextmanager
def scratch() -> Iterator[Path]:
    """An empty folder for this run, gone at the end; clears what killed runs have left.

    Raises OSError where no folder can be made.
    """
    clear_abandoned(Path(tempfile.gettempdir()))
    folder, lock = _taken()
    try:
        inside = folder / "files"
        inside.mkdir()
        yield inside
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if lock is not None:
            lock.release()
            shutil.rmtree(folder, ignore_errors=True)  # where open files cannot be removed


def clear_abandoned(place: Path) -> None:
    """Remove our own folders in `place` whose run has ended; whatever is in doubt stays."""
    with suppress(OSError):
        for folder in sorted(place.glob(f"{PREFIX}*")):
            with suppress(OSError, LockTaken):
                if _ours(folder):
                    lock = Lock(folder / LOCK)
                    shutil.rmtree(folder, ignore_errors=True)
                    lock.release()
                    shutil.rmtree(folder, ignore_errors=True)


def _ours(folder: Path) -> bool:
    """A folder, not a link to one, of this user, with the lock file that only we write."""
    if folder.is_symlink() or not folder.is_dir():
        return False
    lock = folder / LOCK
    if lock.is_symlink() or not lock.is_file():
        return False
    return not hasattr(os, "getuid") or folder.stat().st_uid == os.getuid()


def _taken() -> tuple[Path, Lock | None]:
    """A new folder, locked; another where a run that clears up was quicker than the lock."""
    while True:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX))
        try:
            return folder, Lock(folder / LOCK)
        except (LockTaken, FileNotFoundError):
            shutil.rmtree(folder, ignore_errors=True)
        except OSError:  # a file system without locks: nobody clears this folder but us
            (folder / LOCK).unlink(missing_ok=True)
            return folder, None
