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

    def part(self, text: str, at: tuple[int, int] | None) -> "Span":
        """The place of some letters of a text that stands here, in quotes or without; the whole
        where that cannot be told."""
        quotes = self.end_column - self.column - len(text)
        if at is None or self.line != self.end_line or quotes not in (0, 2):
            return self
        first, last = (self.column + quotes // 2 + each for each in at)
        return self._replace(column=first, end_column=last)
