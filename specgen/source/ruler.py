"""Where the parser of YAML has read something: lines and columns of a text."""

from typing import Any

from specgen.diagnostics import Span
from specgen.diagnostics.glyphs import lines_of
from specgen.source.unfinished_marks import marked_lines, may_be_unfinished


class Ruler:
    """Turns the parser's marks into lines and columns from 1.

    The parser may mark a place beyond the end of the text; that is then the end.
    """

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.lines = lines_of(text)
        self.end = len(self.lines), len(self.lines[-1]) + 1
        self.last = self.end[0]
        self.looks = may_be_unfinished(text)
        self.marked = marked_lines(self.lines) if self.looks else frozenset[int]()

    def at(self, mark: Any) -> tuple[int, int]:
        return min((mark.line + 1, mark.column + 1), self.end)

    def span(self, start: Any, end: Any) -> Span:
        last = end.line + 1
        if last < self.last:  # hardly anything stands in the last line
            # 20,000 of them for the demo: as a tuple, which takes half as long as by its names
            place = (self.file, start.line + 1, start.column + 1, last, end.column + 1)
            return tuple.__new__(Span, place)
        return Span(self.file, *self.at(start), *self.at(end))
