"""Tables as a workbook for spreadsheets. The same tables give the same bytes."""

import datetime
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any, Final
from xml.etree.ElementTree import canonicalize

from specgen.diagnostics.glyphs import width
from specgen.files.scratch import scratch
from specgen.frozen import frozen
from specgen.messages import NO, YES, Language
from specgen.model import Paper
from specgen.write.worksheets import CellValue, SheetData, formula_like

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LONGEST: Final = 32_767  # characters of a cell. Source: ECMA-376 applications' common limit
_EARLIEST: Final = (1980, 1, 1, 0, 0, 0)  # the first date a zip archive can hold
_TEXT: Final = re.compile(rb'<t(?: xml:space="preserve")?>')
_STAMP: Final = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")
# Source: XML 1.0, production 2: characters that no document may hold
_UNWRITABLE: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
# Source: ECMA-376, part 1, 18.3.1.63, `paperSize`
_PAPERS: Final[dict[Paper, int]] = {"a4": 9, "us-letter": 1}
_LINE: Final = 15.0  # points of a row with one line, as spreadsheet programs have it
_HIGHEST: Final = 409.0  # points. Source: the same programs' limit
_TITLE: Final = 31  # letters of a sheet's name. Source: the same


@frozen
class Imprint:
    """What a workbook says of itself: in its properties and at the edge of its printed pages.

    The date (ISO 8601, "" for none) is the document's, never the clock's.
    """

    title: str
    about: str = ""
    publisher: str = ""
    date: str = ""
    paper: Paper = "a4"


def workbook(
    imprint: Imprint, sheets: Sequence[SheetData], language: Language | None = None
) -> bytes:
    """A workbook with a sheet a table: headings stay in view, columns can be filtered.

    Numbers are numbers, with as many decimals as they are printed with. All text is text, and what
    looks like a formula is marked as quoted, so that it stays text when somebody edits the cell.
    """
    from openpyxl import Workbook  # heavy; only this format needs it

    book = Workbook()
    book.properties.title = _text(imprint.title)
    book.properties.subject = _text(imprint.about) or None
    book.properties.creator = _text(imprint.publisher) or "specgen"
    book.remove(book.worksheets[0])
    for sheet in sheets:
        page = book.create_sheet(sheet.title[:_TITLE])
        _fill(page, sheet, language or Language())
        _for_paper(page, imprint)
    raw = io.BytesIO()
    with scratch():  # it writes each sheet to a file first
        book.save(raw)
    return _settled(raw.getvalue(), imprint.date)


def _fill(page: "Worksheet", sheet: SheetData, language: Language) -> None:
    from openpyxl.styles import Alignment, Border, Font, Side
    from openpyxl.utils import get_column_letter

    numeric = {at for row in sheet.rows for at, each in enumerate(row) if _is_number(each)}
    alike = _alike(sheet) if sheet.totals else {}
    top, wrapped = Alignment(vertical="top"), Alignment(wrap_text=True, vertical="top")
    above = Alignment(wrap_text=True, vertical="bottom", horizontal="right")
    for column, (heading, wide) in enumerate(zip(sheet.headings, sheet.widths, strict=True)):
        cell: Any = page.cell(1, column + 1, _text(heading))
        cell.font = Font(bold=True)
        cell.alignment = above if column in numeric else wrapped
        page.column_dimensions[get_column_letter(column + 1)].width = wide
    rows = [*sheet.rows, *sheet.totals]
    for number, row in enumerate(rows, 2):
        for column, value in enumerate(row, 1):
            if value is None or value == "":
                continue
            cell = page.cell(number, column)
            _put(cell, value, language, alike.get(column - 1, 0))
            cell.alignment = wrapped if isinstance(value, str) else top
    for number, row in enumerate((sheet.headings, *rows), 1):
        page.row_dimensions[number].height = _height(row, sheet.widths)
    end = len(sheet.rows) + 1
    page.auto_filter.ref = f"A1:{get_column_letter(len(sheet.headings))}{end}"
    if sheet.totals:
        for column in range(1, len(sheet.headings) + 1):
            cell = page.cell(len(rows) + 1, column)
            cell.font = Font(bold=True)
            cell.border = Border(top=Side(style="thin"))
    page.freeze_panes = "A2"


def _for_paper(page: "Worksheet", imprint: Imprint) -> None:
    from openpyxl.worksheet.properties import PageSetupProperties

    page.print_title_rows = "1:1"
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = _PAPERS[imprint.paper]
    page.page_setup.fitToWidth = 1
    page.page_setup.fitToHeight = 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    head, foot = page.oddHeader, page.oddFooter
    assert head is not None
    assert foot is not None
    head.left.text, head.right.text = _at_edge(imprint.title), _at_edge(imprint.about)
    foot.left.text, foot.center.text = _at_edge(imprint.publisher), _at_edge(imprint.date)
    foot.right.text = "&P / &N"


def _at_edge(text: str) -> str | None:
    """Words of a header or a footer, in which `&` begins a code."""
    return _text(text).replace("&", "&&") or None


def _is_number(value: CellValue) -> bool:
    return isinstance(value, int | Decimal) and not isinstance(value, bool)


def _alike(sheet: SheetData) -> dict[int, int]:
    """Decimals by column where its numbers are summed, so that they stand under one another."""
    most: dict[int, int] = {}
    for row in (*sheet.rows, *sheet.totals):
        for at, value in enumerate(row):
            if isinstance(value, Decimal):
                most[at] = max(most.get(at, 0), _decimals(value))
    return most


def _decimals(value: int | Decimal) -> int:
    exponent = value.as_tuple().exponent if isinstance(value, Decimal) else 0
    return -exponent if isinstance(exponent, int) and exponent < 0 else 0


def _put(cell: Any, value: CellValue, language: Language, least: int) -> None:
    """A value, with as many decimals as it has, and `least` of them."""
    if isinstance(value, bool):
        value = language.text(YES if value else NO)
    if isinstance(value, str):
        cell.value = _text(value)
        cell.data_type = "s"  # whatever the text looks like
        cell.quotePrefix = formula_like(value)
    elif value is not None:
        cell.value = value
        decimals = max(_decimals(value), least)
        cell.number_format = f"0.{'0' * decimals}" if decimals else "0"


def _height(row: Iterable[CellValue], widths: Sequence[int]) -> float:
    """Points that the fullest cell of a row needs, words being broken at the breadth of columns."""
    lines = max(
        (
            sum(max(1, -(-width(line) // max(1, wide - 1))) for line in each.split("\n"))
            for each, wide in zip(row, widths, strict=True)
            if isinstance(each, str)
        ),
        default=1,
    )
    return min(_LINE * lines, _HIGHEST)


def _text(text: str) -> str:
    return _UNWRITABLE.sub("\ufffd", text)[:_LONGEST]


def _settled(archive: bytes, date: str) -> bytes:
    """The same archive with its entries in order, and no time but the document's date."""
    day = f"{_day(date) or datetime.date(*_EARLIEST[:3])}T00:00:00Z".encode()
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
            # whether lxml is there decides how openpyxl writes XML: one form of both
            data = canonicalize(before.read(name).decode()).encode()
            data = _TEXT.sub(b'<t xml:space="preserve">', data)
            if name == "docProps/core.xml":
                data = _STAMP.sub(rb"\g<1>" + day, data)
            after.writestr(entry, data)
    return out.getvalue()


def _day(date: str) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(date)
    except ValueError:
        return None
