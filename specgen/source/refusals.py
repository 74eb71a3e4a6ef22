"""What is said of files that the gate does not open."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.files.gate import LARGEST, NotOpened, WhyNotOpened, look_through
from specgen.messages import NOTHING, Message, Nothing, say

WRITTEN: Final = ("pages", "prose", "templates", "translations")
"""Folders of a project beside those of its definitions."""


def refusals(root: Path, folders: tuple[str, ...]) -> Iterator[Finding]:
    """What is not opened in folders of a project, each told once, whoever reads there."""
    for folder in folders:
        for each in look_through(root, folder):
            if isinstance(each, NotOpened):
                yield refusal(each)


def refusal(refused: NotOpened) -> Finding:
    """The finding for one file that is not opened."""
    outside = refused.reason in (WhyNotOpened.OUTSIDE, WhyNotOpened.HIDDEN)
    message, help_ = _words(refused)
    at = Label(Span(refused.name, 1, 1, 1, 1))
    return Finding(codes.LEADS_OUT if outside else codes.UNREADABLE, message, at, help=help_)


def _words(refused: NotOpened) -> tuple[Message, Message | Nothing]:
    match refused.reason:
        case WhyNotOpened.OUTSIDE:
            return (
                say("a link that leads out of the project is not followed"),
                say("put the file itself here, or delete the link"),
            )
        case WhyNotOpened.HIDDEN:
            return (
                say("a link that leads to something hidden is not followed"),
                say("put the file itself here, or delete the link"),
            )
        case WhyNotOpened.FOLDER:
            return (
                say("a link to a folder is not followed"),
                say("put the folder itself here, or a link for each of its files"),
            )
        case WhyNotOpened.CIRCLE:
            return say("a link that leads back to itself"), say("delete the link")
        case WhyNotOpened.NOWHERE:
            return (
                say("cannot be read: there is no such file"),
                say("put the file here, or delete the link"),
            )
        case WhyNotOpened.NAME:
            return (
                say("a file with signs in its name that cannot be shown"),
                say("rename it: letters, digits, hyphens and underscores"),
            )
        case WhyNotOpened.NO_FILE:
            return say("not a file with text in it"), say("move it out of the project")
        case WhyNotOpened.NO_FOLDER:
            return say("a folder is meant here, and this is none"), say("rename or delete it")
        case WhyNotOpened.LARGE:
            return (
                say("larger than {size} MiB", size=LARGEST // 1024 // 1024),
                say("split it; a project may have any number of files"),
            )
        case WhyNotOpened.DENIED:
            return say("cannot be read: permission denied"), say("look at the file's permissions")
        case WhyNotOpened.FAILED:
            return say("cannot be read: {problem}", problem=refused.detail), NOTHING
