"""Atomic publishing: a reader sees the old site or the new one, never a mixture.

The new site, or any other folder of files, is made in a workshop folder beside the target, on the
same file system, and changes places with the target in one system call where there is one (Linux,
macOS), else in two renames. A run that fails leaves the old one alone; what a killed run leaves
behind, the next one clears. What others have put into the target stays (`others_files`).
"""

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from specgen.files.locks import Lock, LockTaken
from specgen.site.addresses import FOLDERS, RULES, START
from specgen.site.folder_swap import exchange
from specgen.site.others_files import (
    InTheWay,
    carry_over,
    first_foreign,
    is_published,
    mark,
)
from specgen.site.page import Page


class CannotPublish(Exception):
    """The site could not be put into place; the old one, if any, is whole.

    `message` says what is in the way, `help` what would mend it (may be empty).
    """

    def __init__(self, message: str, help: str = "") -> None:  # noqa: A002  # as in a finding
        super().__init__(message)
        self.message = message
        self.help = help


@contextmanager
def publishing(target: Path) -> Iterator[Path]:
    """Give an empty folder to make the files in; put it in place of `target` at the end.

    Any exception leaves `target` as it was. Raises CannotPublish if the folder is not ours to
    replace, if another run is publishing there, or if the disk fails.
    """
    with _as_cannot_publish(target):
        target = target.resolve()
        refuse_foreign(target)
        target.parent.mkdir(parents=True, exist_ok=True)
        workshop = target.parent / f".{target.name}.specgen"
        workshop.mkdir(exist_ok=True)
        with _locked(workshop, target):
            _recover(workshop, target)
            staged = workshop / "new"
            try:
                staged.mkdir()
                yield staged
                mark(staged)
                refuse_foreign(target)
                if target.exists():
                    carry_over(target, staged)
                _swap(staged, target, workshop)
            finally:
                _sweep(workshop)


def refuse_foreign(target: Path) -> None:
    """Raise CannotPublish if `target` holds what was not published by us, unless that is only what
    goes with any site (`.git`, `CNAME`)."""
    if not target.exists():
        return
    if not target.is_dir():
        raise CannotPublish(f"`{target}` is a file, and a folder is needed")
    if target == Path.cwd() or target == target.parent:
        raise CannotPublish(
            f"`{target}` is the current folder, which cannot be replaced",
            "name a folder inside it",
        )
    foreign = None if is_published(target) else first_foreign(target)
    if foreign is not None:
        raise CannotPublish(
            f"`{target}` is not empty and was not published by specgen: it holds `{foreign}`",
            "name a new or an empty folder",
        )


def lost_pages(target: Path, pages: Iterable[Page]) -> tuple[str, ...]:
    """The published pages of definitions and lists in `target` that are not among `pages`.

    Further documents of a build do not count (its own page lists what is wrong), nor do pages
    that are written by hand.
    """
    made = {page.path for page in pages}
    published = [
        path.relative_to(target).as_posix()
        for pattern in ("*.html", *(f"{each}/*.html" for each in (*FOLDERS.values(), RULES)))
        for path in sorted(target.glob(pattern))
    ]
    lists = {START, *(f"{folder}.html" for folder in FOLDERS.values())}
    return tuple(path for path in published if path not in made and ("/" in path or path in lists))


@contextmanager
def _as_cannot_publish(target: Path) -> Iterator[None]:
    try:
        yield
    except InTheWay as problem:
        raise CannotPublish(
            f"`{problem.path}` in `{target}` {problem.why}", "move it to another place"
        ) from None
    except OSError as problem:
        where = problem.filename or target
        raise CannotPublish(
            f"publishing stopped at `{where}`: {problem.strerror or problem}",
            "what was published before is unchanged",
        ) from problem


@contextmanager
def _locked(workshop: Path, target: Path) -> Iterator[None]:
    try:
        lock = Lock(workshop / "lock")
    except LockTaken:
        raise CannotPublish(
            f"another run is publishing to `{target}`", "wait until it has ended"
        ) from None
    try:
        yield
    finally:
        lock.release()
        with suppress(OSError):  # not empty, or another run is already in it
            workshop.rmdir()


def _recover(workshop: Path, target: Path) -> None:
    """Undo what a killed run left: put an old site back that was moved aside, clear the rest."""
    old = workshop / "old"
    if old.is_dir() and not target.exists():
        old.rename(target)
    _sweep(workshop)


def _sweep(workshop: Path) -> None:
    for name in ("new", "old"):
        shutil.rmtree(workshop / name, ignore_errors=True)


def _swap(staged: Path, target: Path, workshop: Path) -> None:
    if not target.exists():
        staged.rename(target)
        return
    staged.chmod(target.stat().st_mode & 0o7777)
    if exchange(staged, target):
        return
    old = workshop / "old"
    target.rename(old)
    try:
        staged.rename(target)
    except BaseException:
        os.rename(old, target)  # noqa: PTH104  # not the way that has just failed
        raise
