"""What lies in a published folder and is not of our making: it is kept, never removed.

The marker of a published folder lists what was published. All else there (a `.git`, a `CNAME`) was
put by somebody, and goes over to the next site by links to the same files, so that it is there in
the very step in which the folders change places.
"""

import os
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Final

MARKER: Final = ".specgen-site"
_HEAD: Final = "This folder was published by specgen; the next publishing replaces these files:"

_BESIDE_SITES: Final = frozenset((
    ".git", ".gitignore", ".gitattributes", ".gitkeep", ".nojekyll", ".well-known", ".htaccess",
    ".domains", "CNAME",
))  # fmt: skip
"""What version control and hosts of static files keep in a folder of pages. RFC 8615 for
`.well-known`; common practice for the others, no source."""


class InTheWay(Exception):
    """Something of somebody else's that cannot be carried over."""

    def __init__(self, path: str, why: str) -> None:
        super().__init__(path, why)
        self.path = path
        self.why = why


def mark(folder: Path) -> None:
    """Writes the marker: what the folder holds now is ours."""
    names = sorted(_files(folder), key=lambda name: name.encode("utf-8", "surrogateescape"))
    lines = [_HEAD, *(_line(name) for name in names if name != MARKER), ""]
    content = "\n".join(lines).encode("utf-8", "surrogateescape")
    (folder / MARKER).write_bytes(content)


def is_published(folder: Path) -> bool:
    """Whether we made the folder."""
    return (folder / MARKER).is_file()


def first_foreign(folder: Path) -> str | None:
    """The name of something in a folder that keeps a first site out of it."""
    names = sorted(each.name for each in folder.iterdir())
    return next((each for each in names if each not in _BESIDE_SITES), None)


def carry_over(old: Path, new: Path) -> None:
    """Has all that is somebody else's in `old` appear in `new` as well.

    Raises InTheWay for what is no file, folder or link, and for what we publish under its name.
    """
    ours = _listed(old)
    folders = {parent.as_posix() for name in ours for parent in Path(name).parents}
    for here, names, files in os.walk(old):
        for name in sorted((*names, *files)):
            source = Path(here, name)
            path = source.relative_to(old).as_posix()
            whole = _is_folder(source)
            if whole and (path in folders or _is_folder(new / path)):
                continue
            if _line(path) in ours and not whole:
                continue
            _carry(source, new / path, path)
            if whole:
                names.remove(name)


def _carry(source: Path, target: Path, path: str) -> None:
    if os.path.lexists(target):
        raise InTheWay(path, "was not published by specgen, and the new site has the same name")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError):
        raise InTheWay(path, "lies where the new site has a file") from None
    if _is_folder(source):
        shutil.copytree(source, target, symlinks=True, copy_function=_link)
    else:
        _link(source, target)


def _link(source: str | Path, target: str | Path) -> None:
    """The same file under another name, or a copy of it where there are no such links."""
    mode = os.lstat(source).st_mode
    if stat.S_ISLNK(mode):
        Path(target).symlink_to(os.readlink(source))  # noqa: PTH115
        return
    if not stat.S_ISREG(mode):
        raise InTheWay(str(source), "is no file, no folder and no link")
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _files(folder: Path) -> Iterator[str]:
    for here, names, files in os.walk(folder):
        for name in (*files, *(each for each in names if Path(here, each).is_symlink())):
            yield Path(here, name).relative_to(folder).as_posix()


def _line(name: str) -> str:
    """The name of a file on one line."""
    return name.replace("\\", "\\\\").replace("\n", "\\n")


def _listed(folder: Path) -> frozenset[str]:
    """What the marker of a published folder lists, the marker included; all else is foreign."""
    if not is_published(folder):
        return frozenset()
    text = (folder / MARKER).read_bytes().decode("utf-8", "surrogateescape")
    head, *names = text.split("\n")
    return frozenset((MARKER, *(names if head == _HEAD else ())))
