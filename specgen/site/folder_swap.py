"""What the operating system gives for publishing: two folders change places."""

import ctypes
import errno
import os
import sys
from pathlib import Path
from typing import Final

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
