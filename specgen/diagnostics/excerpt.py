"""The lines of a file with marks under the places that play a part in a finding."""

from collections.abc import Iterable, Iterator, Sequence

from specgen.diagnostics.finding import Label
from specgen.diagnostics.glyphs import cells, harmless, width
from specgen.diagnostics.paint import Paint, Style
from specgen.diagnostics.span import Span
from specgen.frozen import frozen

ROOM = 100
"""How many columns of a line are shown; longer ones are cut round their first mark."""

_ROWS_BETWEEN = 2  # marked lines this close are shown in one piece, with the line between them
_CUT = "…"


@frozen
class Mark:
    """A row of carets or dashes under one line; columns count characters from 0, end exclusive."""

    line: int
    start: int
    end: int
    text: str
    main: bool
    style: Style


def within(span: Span, lines: Sequence[str]) -> bool:
    """Whether the span begins on a line that the file has."""
    return 1 <= span.line <= len(lines)


def marks_of(label: Label, lines: Sequence[str], main: bool, style: Style) -> Iterator[Mark]:
    """The marks of one label, which must begin within the file.

    A span over several lines is marked on its first and its last, and on the one between them
    where there is but one. Its text stands at the last.
    """
    span = label.span
    last, end = _last(span, lines)
    shown = range(span.line, last + 1)
    if len(shown) > 3:
        shown = range(span.line, last + 1, last - span.line)
    for number in shown:
        line = lines[number - 1]
        indent = len(line) - len(line.lstrip())
        start = span.column - 1 if number == span.line else indent
        start = max(0, min(start, len(line)))
        stop = end if number == last else len(line.rstrip())
        stop = max(start + 1, min(stop, len(line)))
        yield Mark(number, start, stop, str(label.text) if number == last else "", main, style)


def _last(span: Span, lines: Sequence[str]) -> tuple[int, int]:
    """The last line of a span that shows something of it, and the column after its end.

    A YAML mapping ends where the next thing begins, often several blank lines further down.
    """
    number, end = span.end_line, span.end_column - 1
    if number > len(lines):
        number, end = len(lines), len(lines[-1])
    while number > span.line and not lines[number - 1][: max(0, end)].strip():
        number -= 1
        end = len(lines[number - 1].rstrip())
    if number < span.line:
        return span.line, span.column
    return number, end


def pieces(marks: Iterable[Mark]) -> list[list[Mark]]:
    """Marks grouped by lines that stand near each other: the piece with the main mark first."""
    groups: list[list[Mark]] = []
    for mark in sorted(marks, key=lambda each: (each.line, not each.main, each.start, each.end)):
        if groups and mark.line - groups[-1][-1].line <= _ROWS_BETWEEN:
            groups[-1].append(mark)
        else:
            groups.append([mark])
    return sorted(groups, key=lambda group: not any(mark.main for mark in group))


def drawn(
    marks: Iterable[Mark], lines: Sequence[str], gutter: int, paint: Paint, room: int = ROOM
) -> Iterator[str]:
    """The printed rows for the marks of one file; `gutter` is the breadth of line numbers."""
    edge = paint(Style.GUTTER, " " * gutter + " |")
    for index, piece in enumerate(pieces(marks)):
        if index:
            yield paint(Style.GUTTER, " " * gutter + " ...")
        yield edge
        for number in range(piece[0].line, piece[-1].line + 1):
            here = [mark for mark in piece if mark.line == number]
            text, columns = _window(lines[number - 1], here, room)
            row = paint(Style.GUTTER, f"{number:>{gutter}} |")
            yield f"{row} {paint(Style.SOURCE, text)}" if text else row
            for mark, (start, end) in zip(here, columns, strict=True):
                sign = ("^" if mark.main else "-") * (end - start)
                words = f"{sign} {harmless(mark.text)}".rstrip()
                yield f"{edge} {' ' * start}{paint(mark.style, words)}"


def _window(line: str, marks: Sequence[Mark], room: int) -> tuple[str, list[tuple[int, int]]]:
    """A line as shown, cut to `room` columns, and the columns of each mark under it."""
    lead = next((mark.start for mark in marks if mark.main), marks[0].start if marks else 0)
    base, stop = 0, len(line)
    if stop > 4 * room:  # look no further than could be shown, however long the line
        base, stop = max(0, lead - 2 * room), lead + 2 * room
    shown = cells(line[base:stop])
    at = [0]
    for cell in shown:
        at.append(at[-1] + width(cell))
    first, last = _cut(at, lead - base, room)
    left = _CUT if base + first else ""
    right = _CUT if base + last < len(line) else ""
    offset = at[first] - len(left)
    edge = at[last] - offset + 1  # one place after the last character, where one may be missing
    at.append(at[-1] + 1)
    columns = []
    for mark in marks:
        start, end = (min(max(each - base, 0), len(shown) + 1) for each in (mark.start, mark.end))
        start = min(max(at[start] - offset, 0), edge - 1)
        columns.append((start, min(max(at[end] - offset, start + 1), edge)))
    return (left + "".join(shown[first:last]) + right).rstrip(), columns


def _cut(at: Sequence[int], lead: int, room: int) -> tuple[int, int]:
    """Which characters to show, first and end, so that the one at `lead` stands in sight.

    `at` holds the column of every character, and the column after the last.
    """
    first, last = 0, len(at) - 1
    if at[last] <= room:
        return first, last
    while first < lead and at[lead] - at[first] > room // 3:
        first += 1
    while first > 0 and at[last] - at[first - 1] < room - 1:
        first -= 1
    while last > first and at[last] - at[first] > room - 2:
        last -= 1
    return first, last
