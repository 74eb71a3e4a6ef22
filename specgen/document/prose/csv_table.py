"""A file of comma-separated values beside a text, as a table: `{{ csv("cables.csv", "Cables") }}`.

The first line has the heads. Cells are words, and references in braces like those of the text.
Source: RFC 4180; a semicolon in place of the comma is common practice, no source.
"""

import csv
import io
from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Code, Finding, Label, Severity, Span, codes
from specgen.document.maker import AuthorError, FoundElsewhere
from specgen.document.prose.reference import IN_BRACES
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.tree import Cell, Column, Datum, Inline, Table, Text, words
from specgen.messages import NOTHING, Message, Nothing, say

_HELP: Final = say("each line has as many cells as the first; a comma in a cell stands in quotes")


def csv_table(text: Prose, subjects: Subjects, here: str, name: str, title: str = "") -> Table:
    """The table of a file that lies beside a text. Raises `AuthorError`."""
    content = dict(text.beside).get(name)
    if content is None:
        message = say("no file `{name}` lies beside the text", name=name)
        raise AuthorError(message, say("put it into the folder of the text"), word=name)
    file = f"{text.file.rpartition('/')[0]}/{name}"
    lines = list(_lines(content, file))
    if len(lines) < 2:
        raise _found(file, 1, say("a table without rows"), say("write heads and a line below them"))
    (_, heads), *rows = lines
    cells = [_row(row, number, len(heads), file) for number, row in rows]
    made = [
        tuple(_cell(each, number, file, text, subjects, here) for each in row)
        for (number, _), row in zip(rows, cells, strict=True)
    ]
    columns = tuple(
        Column(head, "end" if all(map(_is_number, column)) else "start")
        for head, column in zip(heads, zip(*made, strict=True), strict=True)
    )
    return Table(title, columns, tuple(made), f"{name.removesuffix('.csv')}-table")


def _lines(content: str, file: str) -> Iterator[tuple[int, list[str]]]:
    """Each record with the line that it begins on; empty lines are none."""
    first = content.partition("\n")[0]
    sign = ";" if first.count(";") > first.count(",") else ","
    reader = csv.reader(io.StringIO(content, newline=""), strict=True, delimiter=sign)
    begins = 1
    try:
        for record in reader:
            if record:
                yield begins, [" ".join(each.split()) for each in record]
            begins = reader.line_num + 1
    except csv.Error:
        raise _found(file, begins, say("a line that cannot be read as CSV"), _HELP) from None


def _row(row: list[str], line: int, wanted: int, file: str) -> list[str]:
    if len(row) != wanted:
        message = say("{found} cells in a table of {wanted} columns", found=len(row), wanted=wanted)
        raise _found(file, line, message, _HELP)
    return row


def _cell(written: str, line: int, file: str, text: Prose, subjects: Subjects, here: str) -> Cell:
    cell: list[Inline] = []
    at = 0
    for found in IN_BRACES.finditer(written):
        made = printed(found[1], text.subject, subjects, here)
        if made.code is not None and made.code.severity is Severity.ERROR:
            assert isinstance(made.message, Message)
            raise _found(file, line, made.message, made.help, made.code)
        cell += (*words(written[at : found.start()]), *made.linked)
        at = found.end()
    return (*cell, *words(written[at:]))


def _is_number(cell: Cell) -> bool:
    """Whether a cell holds a value alone, or a number as it was typed, or nothing."""
    match cell:
        case () | (Datum(),):
            return True
        case (Text(text),):
            return text.replace(".", "", 1).isdecimal()
    return False


def _found(
    file: str,
    line: int,
    message: Message,
    help_: Message | Nothing = NOTHING,
    code: Code = codes.TABLE_ROWS,
) -> FoundElsewhere:
    return FoundElsewhere(Finding(code, message, Label(Span(file, line, 1, line, 2)), help=help_))
