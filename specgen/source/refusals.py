"""What is said of files that the gate does not open."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.files.gate import LARGEST, Reason, Refused, look_through
from specgen.messages import NOTHING, Message, Nothing, say

WRITTEN: Final = ("pages", "prose", "templates")
"""Folders of a project beside those of its definitions."""


def refusals(root: Path, folders: tuple[str, ...]) -> Iterator[Finding]:
    """What is not opened in folders of a project, each told once, whoever reads there."""
    for folder in folders:
        for each in look_through(root, folder):
            if isinstance(each, Refused):
                yield refusal(each)


def refusal(refused: Refused) -> Finding:
    """The finding for one file that is not opened."""
    outside = refused.reason in (Reason.OUTSIDE, Reason.HIDDEN)
    message, help_ = _words(refused)
    at = Label(Span(refused.name, 1, 1, 1, 1))
    return Finding(codes.LEADS_OUT if outside else codes.UNREADABLE, message, at, help=help_)


def _words(refused: Refused) -> tuple[Message, Message | Nothing]:
    match refused.reason:
        case Reason.OUTSIDE:
            return (
                say("a link that leads out of the project is not followed"),
                say("put the file itself here, or delete the link"),
            )
        case Reason.HIDDEN:
            return (
                say("a link that leads to something hidden is not followed"),
                say("put the file itself here, or delete the link"),
            )
        case Reason.FOLDER:
            return (
                say("a link to a folder is not followed"),
                say("put the folder itself here, or a link for each of its files"),
            )
        case Reason.CIRCLE:
            return say("a link that leads back to itself"), say("delete the link")
        case Reason.NOWHERE:
            return (
                say("cannot be read: there is no such file"),
                say("put the file here, or delete the link"),
            )
        case Reason.NAME:
            return (
                say("a file with signs in its name that cannot be shown"),
                say("rename it: letters, digits, hyphens and underscores"),
            )
        case Reason.NO_FILE:
            return say("not a file with text in it"), say("move it out of the project")
        case Reason.NO_FOLDER:
            return say("a folder is meant here, and this is none"), say("rename or delete it")
        case Reason.LARGE:
            return (
                say("larger than {size} MiB", size=LARGEST // 1024 // 1024),
                say("split it; a project may have any number of files"),
            )
        case Reason.DENIED:
            return say("cannot be read: permission denied"), say("look at the file's permissions")
        case Reason.FAILED:
            return say("cannot be read: {problem}", problem=refused.detail), NOTHING
