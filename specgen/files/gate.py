"""The one door through which files of a project are found and read.

Who contributes to a project chooses what lies in its folders, links among it. So nothing is opened
that leads out of the project or to something hidden in it, nothing is waited for that is no file,
and nothing is read that is larger than a file of a project can be. `tests/repo/test_gate.py` holds
every other module to that.
"""

import errno
import os
import re
import stat
from collections.abc import Collection, Iterator
from enum import Enum
from pathlib import Path
from typing import Final

LARGEST: Final = 64 * 1024 * 1024
"""Bytes of one file."""
_ODD: Final = (
    r"[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff"
    r"\ud800-\udfff\ue000-\uf8ff\\]"
)
"""What nobody sees in a name, what turns its direction, bytes that are not UTF-8, backslashes."""
_OPEN: Final = (
    os.O_RDONLY
    | getattr(os, "O_NONBLOCK", 0)  # a pipe is not waited for
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NOCTTY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)


class WhyNotOpened(Enum):
    """Why something is not opened."""

    OUTSIDE = "leads out of the project"
    HIDDEN = "leads to something hidden"
    FOLDER = "is a link to a folder"
    NOWHERE = "leads nowhere"
    CIRCLE = "leads back to itself"
    NAME = "has a name that cannot be shown"
    NO_FILE = "is no file"
    NO_FOLDER = "is no folder"
    LARGE = "is larger than a file may be"
    DENIED = "may not be read"
    FAILED = "cannot be read"


class NotOpened(OSError):
    """A file or folder that is not opened: its `name` from the project on, and the `reason`."""

    def __init__(self, name: str, reason: WhyNotOpened, detail: str = "") -> None:
        super().__init__(errno.EACCES, f"{name} {reason.value}")
        self.name = name
        self.reason = reason
        self.detail = detail


def read(root: Path, path: Path, most: int = LARGEST) -> bytes:
    """What a file of the project in the folder `root` holds. Raises `NotOpened`."""
    name = name_of(root, path)
    real = _real(root, path, name)
    try:
        descriptor = os.open(real, _OPEN)
    except OSError as error:
        raise _refused(name, error) from None
    try:
        state = os.fstat(descriptor)
        if not stat.S_ISREG(state.st_mode):
            raise NotOpened(name, WhyNotOpened.NO_FILE)
        with os.fdopen(os.dup(descriptor), "rb") as file:
            content = file.read(most + 1)  # no trust in the size that was told
    except NotOpened:
        raise
    except OSError as error:
        raise _refused(name, error) from None
    finally:
        os.close(descriptor)
    if len(content) > most:
        raise NotOpened(name, WhyNotOpened.LARGE)
    return content


def is_file(root: Path, path: Path) -> bool:
    """Whether there is a file that may be read."""
    try:
        return stat.S_ISREG(_real(root, path, name_of(root, path)).stat().st_mode)
    except OSError:
        return False


def may_write(root: Path, path: Path) -> bool:
    """Whether a new file at `path` lies within the project, through whatever links lead there."""
    try:
        folder = Path(os.path.realpath(path.parent))
        return folder.is_relative_to(os.path.realpath(root)) and not path.is_symlink()
    except OSError:
        return False


def files(root: Path, folder: str, endings: Collection[str] = ()) -> list[Path]:
    """The files in a folder of the project and below it, those that `look_through` finds sound."""
    return sorted(each for each in look_through(root, folder, endings) if isinstance(each, Path))


def look_through(
    root: Path, folder: str, endings: Collection[str] = ()
) -> Iterator[Path | NotOpened]:
    """Every file in a folder of the project and below it, and what is refused of what lies there.

    Hidden files and folders are passed over, and so are files with none of the `endings`, where
    there are any. A link to a folder is never followed, so no link leads in a circle.
    """
    start = root / folder
    try:
        state = _real(root, start, name_of(root, start)).stat()
        if not stat.S_ISDIR(state.st_mode):
            yield NotOpened(folder, WhyNotOpened.NO_FOLDER)
            return
    except NotOpened as refused:
        if refused.reason is not WhyNotOpened.NOWHERE or start.is_symlink():
            yield refused
        return
    waiting = [start]
    while waiting:
        here = waiting.pop()
        try:
            with os.scandir(here) as found:
                entries = sorted(found, key=lambda each: each.name)
        except OSError as error:
            yield _refused(name_of(root, here), error)
            continue
        for entry in entries:
            if entry.name.startswith("."):
                continue
            path = here / entry.name
            if entry.is_symlink() or not entry.is_dir():
                yield from _entry(root, path, entry, endings)
            elif _is_odd(entry.name):
                yield NotOpened(name_of(root, path), WhyNotOpened.NAME)
            elif path.suffix in endings:
                yield NotOpened(name_of(root, path), WhyNotOpened.NO_FILE)
            else:
                waiting.append(path)


def _entry(
    root: Path, path: Path, entry: os.DirEntry[str], endings: Collection[str]
) -> Iterator[Path | NotOpened]:
    name = name_of(root, path)
    wanted = not endings or path.suffix in endings
    if _is_odd(path.name):
        yield NotOpened(name, WhyNotOpened.NAME)
        return
    try:
        if entry.is_symlink():
            mode = _real(root, path, name).stat().st_mode
        else:  # it lies where its folder does, which has been looked at
            mode = entry.stat(follow_symlinks=False).st_mode
    except NotOpened as refused:
        if wanted or refused.reason in (WhyNotOpened.OUTSIDE, WhyNotOpened.HIDDEN):
            yield refused
        return
    except OSError as error:
        yield _refused(name, error)
        return
    if stat.S_ISDIR(mode):
        yield NotOpened(name, WhyNotOpened.FOLDER)
    elif not wanted:
        return
    elif stat.S_ISREG(mode):
        yield path
    else:
        yield NotOpened(name, WhyNotOpened.NO_FILE)


def name_in(root: Path, path: Path) -> str:
    """The name of a file from the project on; its whole path where it is named otherwise."""
    try:
        return path.relative_to(root).as_posix()
    except ValueError:
        return path.as_posix()


def name_of(root: Path, path: Path) -> str:
    """The same for messages, with what cannot be shown written out."""
    name = name_in(root, path)
    if not _is_odd(name):
        return name
    return re.sub(_ODD, lambda sign: sign[0].encode("unicode_escape").decode("ascii"), name)


def _is_odd(name: str) -> bool:
    """Most names are printable, which is known before the pattern has to be compiled."""
    return ("\\" in name or not name.isprintable()) and re.search(_ODD, name) is not None


def _real(root: Path, path: Path, name: str) -> Path:
    """Where a path leads, through all links. Raises `NotOpened` unless that is in the project."""
    home = Path(os.path.realpath(root))
    try:
        real = Path(os.path.realpath(path, strict=True))
    except OSError as error:
        raise _refused(name, error) from None
    except ValueError:  # a zero byte in it
        raise NotOpened(name, WhyNotOpened.NAME) from None
    if not real.is_relative_to(home):
        raise NotOpened(name, WhyNotOpened.OUTSIDE)
    # what is hidden, such as the folder of a version control system, is not the project's to show
    hidden = any(step.startswith(".") for step in real.relative_to(home).parts)
    if hidden and real != home / name_in(root, path):
        raise NotOpened(name, WhyNotOpened.HIDDEN)
    return real


def _refused(name: str, error: OSError) -> NotOpened:
    if isinstance(error, NotOpened):
        return error
    reason = {
        errno.ENOENT: WhyNotOpened.NOWHERE,
        errno.ENOTDIR: WhyNotOpened.NOWHERE,
        errno.ELOOP: WhyNotOpened.CIRCLE,
        errno.EACCES: WhyNotOpened.DENIED,
        errno.EPERM: WhyNotOpened.DENIED,
        errno.ENXIO: WhyNotOpened.NO_FILE,  # a socket
        errno.ENAMETOOLONG: WhyNotOpened.NAME,
    }.get(error.errno or 0, WhyNotOpened.FAILED)
    return NotOpened(name, reason, error.strerror or "")
