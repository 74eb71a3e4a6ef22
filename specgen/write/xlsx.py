"""Tables as a workbook for spreadsheets. The same tables give the same bytes."""

import io
import re
import zipfile
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from specgen.write.worksheets import CellValue, SheetData, formula_like

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LONGEST: Final = 32_767  # characters of a cell. Source: ECMA-376 applications' common limit
_EARLIEST: Final = (1980, 1, 1, 0, 0, 0)  # the first date a zip archive can hold
_STAMP: Final = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")
# Source: XML 1.0, production 2: characters that no document may hold
_UNWRITABLE: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def workbook(title: str, sheets: Sequence[SheetData]) -> bytes:
    """A workbook with a sheet a table: headings stay in view, columns can be filtered.

    Numbers are numbers. All text is text, and what looks like a formula is marked as quoted, so
    that it stays text when somebody edits the cell.
    """
    from openpyxl import Workbook  # heavy; only this format needs it

    book = Workbook()
    book.properties.title = _text(title)
    book.properties.creator = "specgen"
    book.remove(book.worksheets[0])
    for sheet in sheets:
        _fill(book.create_sheet(sheet.title), sheet)
    raw = io.BytesIO()
    book.save(raw)
    return _settled(raw.getvalue())


def _fill(page: "Worksheet", sheet: SheetData) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.properties import PageSetupProperties

    for column, (heading, width) in enumerate(zip(sheet.headings, sheet.widths, strict=True), 1):
        cell: Any = page.cell(1, column, heading)
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        page.column_dimensions[get_column_letter(column)].width = width
    wrapped = Alignment(wrap_text=True, vertical="top")
    top = Alignment(vertical="top")
    for number, row in enumerate(sheet.rows, 2):
        for column, value in enumerate(row, 1):
            if value is None or value == "":
                continue
            cell = page.cell(number, column)
            _put(cell, value)
            cell.alignment = wrapped if isinstance(value, str) else top
    page.freeze_panes = "A2"
    page.auto_filter.ref = page.dimensions
    page.print_title_rows = "1:1"
    page.page_setup.orientation = "landscape"
    page.page_setup.fitToWidth = 1
    page.page_setup.fitToHeight = 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)


def _put(cell: Any, value: CellValue) -> None:
    if isinstance(value, bool):
        value = "yes" if value else "no"
    if isinstance(value, str):
        cell.value = _text(value)
        cell.data_type = "s"  # whatever the text looks like
        cell.quotePrefix = formula_like(value)
    else:
        cell.value = value


def _text(text: str) -> str:
    return _UNWRITABLE.sub("\ufffd", text)[:_LONGEST]


def _settled(archive: bytes) -> bytes:
    """The same archive with its entries in order and without times."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(archive)) as before,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as after,
    ):
        for name in sorted(before.namelist()):
            entry = zipfile.ZipInfo(name, _EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            data = before.read(name)
            if name == "docProps/core.xml":
                data = _STAMP.sub(rb"\g<1>1980-01-01T00:00:00Z", data)
            after.writestr(entry, data)
    return out.getvalue()
