"""Where something is written: a stretch of text in one file of the project."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of text, from its first character up to, not including, its end.

    `file` is the path relative to the project folder, written with `/`. Lines and columns
    count from 1; columns count characters (code points), so a tab and a wide letter are one each.
    """

    file: str
    line: int
    column: int
    end_line: int
    end_column: int
