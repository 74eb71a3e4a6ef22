"""Tables as CSV: UTF-8, commas, LF, quotes where RFC 4180 asks for them."""

from decimal import Decimal

from specgen.write.worksheets import CellValue, SheetData, formula_like


def table(sheet: SheetData) -> bytes:
    """A sheet as a file with one row of headings.

    Numbers are plain ASCII digits. Text that a spreadsheet would take for a formula gets an
    apostrophe in front; an unknown value is an empty cell.
    """
    rows = (sheet.headings, *sheet.rows)
    text = "".join(f"{','.join(_quoted(_cell(value)) for value in row)}\n" for row in rows)
    return text.encode("utf-8", "replace")


def _quoted(text: str) -> str:
    # not the standard library's writer: with LF line ends it leaves a lone CR without quotes
    if any(character in text for character in ',"\r\n'):
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
