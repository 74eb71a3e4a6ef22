"""Where something is written: a stretch of text in one file of the project."""

from typing import Final, NamedTuple

ASKED: Final = "--at "
"""Begins the place of a condition that was asked for instead of written."""


class Span(NamedTuple):
    """A stretch of text, from its first character up to, not including, its end.

    `file` is the path relative to the project folder, written with `/`. Lines and columns
    count from 1; columns count characters (code points), so a tab and a wide letter are one each.
    A named tuple, since a project has one for each of its words.
    """

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    @property
    def shown(self) -> str:
        """File and line; without a line for what stands in no file."""
        return f"{self.file}:{self.line}" if self.line else self.file
