"""Tables as CSV: for programs, and for spreadsheets in the way of a language.

Source: RFC 4180: commas, lines that end in CR LF, quotes where they are needed.
"""

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Final

from specgen.messages import NO, YES, Language
from specgen.write.worksheets import CellValue, SheetData, formula_like

_MARK: Final = "\ufeff"
"""What tells a spreadsheet program that the file is UTF-8."""


def table(sheet: SheetData) -> bytes:
    """A sheet for programs: one row of headings, numbers in ASCII digits with a point.

    Text that a spreadsheet would take for a formula gets an apostrophe in front; an unknown value
    is an empty cell.
    """
    return _lines((sheet.headings, *sheet.rows), ",", _cell)


def for_spreadsheet(sheet: SheetData, language: Language) -> bytes:
    """A sheet that a spreadsheet program of a language opens as it is: its decimal sign, the
    separator that goes with it, totals, and a mark that says UTF-8."""
    point = language.signs.point
    separator = ";" if point == "," else ","

    def cell(value: CellValue) -> str:
        if isinstance(value, bool):
            return language.text(YES if value else NO)
        if isinstance(value, Decimal):
            return _cell(value).replace(".", point)
        return _cell(value)

    rows = (sheet.headings, *sheet.rows, *sheet.totals)
    return _MARK.encode() + _lines(rows, separator, cell)


def _lines(
    rows: Iterable[tuple[CellValue, ...]], separator: str, cell: Callable[[CellValue], str]
) -> bytes:
    lines = (separator.join(_quoted(cell(each), separator) for each in row) for row in rows)
    return "".join(f"{line}\r\n" for line in lines).encode("utf-8", "replace")


def _quoted(text: str, separator: str) -> str:
    # not the standard library's writer, which leaves a lone CR without quotes
    if any(character in text for character in f'{separator}"\r\n'):
        return '"' + text.replace('"', '""') + '"'
    return text


def _cell(value: CellValue) -> str:
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return f"'{value}" if formula_like(value) else value
    return str(value)
