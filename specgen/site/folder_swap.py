"""What the operating system gives for publishing: two folders change places, and a lock."""

import ctypes
import errno
import os
import sys
from pathlib import Path
from typing import Final

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_AT_FDCWD: Final = -100  # Linux: paths are relative to the current folder
_RENAME_EXCHANGE: Final = 2  # Linux: include/uapi/linux/fs.h
_RENAME_SWAP: Final = 2  # macOS: sys/stdio.h
# Answers of a kernel or a file system that does not know the call.
_UNKNOWN: Final = frozenset({errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP})


def exchange(one: Path, other: Path) -> bool:
    """Let two folders change places in one step. False where the system cannot.

    Raises OSError if the system can but the folders cannot.
    """
    first, second = os.fsencode(one), os.fsencode(other)
    library = ctypes.CDLL(None, use_errno=True) if os.name == "posix" else None
    if sys.platform.startswith("linux") and hasattr(library, "renameat2"):
        assert library is not None
        failed = library.renameat2(_AT_FDCWD, first, _AT_FDCWD, second, _RENAME_EXCHANGE)
    elif sys.platform == "darwin" and hasattr(library, "renamex_np"):
        failed = library.renamex_np(first, second, _RENAME_SWAP)
    else:
        return False
    if not failed:
        return True
    number = ctypes.get_errno()
    if number in _UNKNOWN:
        return False
    raise OSError(number, os.strerror(number), str(other))


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
                _take(self._descriptor)
            except OSError as problem:
                os.close(self._descriptor)
                if isinstance(problem, (BlockingIOError, PermissionError)):
                    raise LockTaken(str(path)) from None
                raise  # a file system without locks, for one
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


def _take(descriptor: int) -> None:
    if sys.platform == "win32":
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
