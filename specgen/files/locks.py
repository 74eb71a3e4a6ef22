"""Locks that end with the process that holds them, whatever ends it."""

import os
import sys
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl


class LockTaken(Exception):
    """Somebody else holds the lock."""


class Lock:
    """A lock file that one process holds. The system lets go of it when the process dies."""

    def __init__(self, path: Path) -> None:
        """Take the lock. Raises LockTaken, or OSError if the file cannot be made."""
        self._path = path
        while True:
            self._descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
            try:
                hold(self._descriptor)
            except BaseException:
                os.close(self._descriptor)
                raise
            if self._is_still_there():
                return
            os.close(self._descriptor)  # the holder before us removed the file: take a new one

    def release(self) -> None:
        """Remove the lock file and let go of it."""
        if sys.platform == "win32":  # an open file cannot be removed there
            os.close(self._descriptor)
            self._path.unlink(missing_ok=True)
        else:
            self._path.unlink(missing_ok=True)
            os.close(self._descriptor)

    def _is_still_there(self) -> bool:
        try:
            return os.path.samestat(os.fstat(self._descriptor), self._path.stat())
        except OSError:
            return False


def hold(descriptor: int) -> None:
    """Lock an open file until it is closed.

    Raises LockTaken, or OSError on a file system without locks, for one.
    """
    try:
        if sys.platform == "win32":
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError) as problem:
        raise LockTaken(str(problem.filename or "")) from None


def is_ours(path: Path, *, folder: bool = False) -> bool:
    """Whether it is a file or a folder of this user, and no link to one."""
    if path.is_symlink() or not (path.is_dir() if folder else path.is_file()):
        return False
    return not hasattr(os, "getuid") or path.stat().st_uid == os.getuid()
