"""Files written whole or not at all: whoever reads one meanwhile sees the old or the new one."""

import os
import re
import sys
from contextlib import suppress
from pathlib import Path
from typing import Final
from zlib import crc32

from specgen.files.locks import LockTaken, hold, is_ours

_ASIDE: Final = re.compile(r"\.specgen-[0-9a-f]{8}-[0-9a-f]{8}\.part\Z")
_ATTEMPTS: Final = 5


def write_whole(path: Path, content: bytes) -> None:
    """The content in place of what the file held; its folder has to exist. Raises OSError.

    Where writing fails or is stopped, the old file stays as it was. What a killed run has left of
    the same file is cleared.
    """
    # not from the name itself, which may be as long as names can be
    beginning = f".specgen-{crc32(path.name.encode('utf-8', 'surrogateescape')):08x}-"
    clear_parts(path.parent, beginning)
    for attempt in range(_ATTEMPTS):
        aside = path.with_name(f"{beginning}{os.urandom(4).hex()}.part")
        try:
            _replace(path, aside, content)
        except FileNotFoundError:  # another run took it for abandoned before it was locked
            if attempt + 1 == _ATTEMPTS or not path.parent.is_dir():
                raise
        else:
            return


def _replace(path: Path, aside: Path, content: bytes) -> None:
    try:
        with aside.open("xb") as file:
            with suppress(OSError, LockTaken):  # a file system without locks
                hold(file.fileno())
            file.write(content)
            file.flush()
            if sys.platform != "win32":  # where it stays locked until it has its name
                aside.replace(path)
                return
        aside.replace(path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise


def clear_parts(folder: Path, beginning: str = ".specgen-") -> None:
    """Remove what killed runs left of files in a folder; what a run still writes stays."""
    with suppress(OSError):
        for part in folder.glob(f"{beginning}*.part"):
            with suppress(OSError, LockTaken):
                if _ASIDE.match(part.name) and is_ours(part):
                    with part.open("rb") as file:
                        hold(file.fileno())
                        if sys.platform != "win32":
                            part.unlink()
                    part.unlink(missing_ok=True)


def keep(path: Path, content: bytes) -> None:
    """The same in a cache: one that cannot be written is no cache, and no error."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        clear_parts(path.parent)
        write_whole(path, content)
    except OSError:
        return
