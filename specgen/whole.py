"""Files written whole or not at all: whoever reads one meanwhile sees the old or the new one."""

import secrets
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """The content in place of what the file held; its folder has to exist. Raises OSError.

    Where writing fails or is stopped, the old file stays as it was.
    """
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with aside.open("xb") as file:
            file.write(content)
        aside.replace(path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise


def keep(path: Path, content: bytes) -> None:
    """The same in a cache: one that cannot be written is no cache, and no error."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    except OSError:
        return
