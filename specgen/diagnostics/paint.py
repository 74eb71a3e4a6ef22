"""What the pieces of a printed finding are, so that the command line can colour them."""

import enum
from collections.abc import Callable


class Style(enum.StrEnum):
    """A piece of a printed finding."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"
    MESSAGE = "message"
    PLACE = "place"
    GUTTER = "gutter"
    SOURCE = "source"
    OTHER = "other"  # the marks and words under a place that only plays a part
    HINT = "hint"  # the words `note` and `help` before their text


Paint = Callable[[Style, str], str]
"""Gives the text back in the colour of its style. The text is harmless when it gets here."""


def plain(style: Style, text: str) -> str:  # noqa: ARG001  (a Paint that has no colours)
    """No colour at all."""
    return text
