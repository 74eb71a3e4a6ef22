"""CSV and XLSX: numbers are numbers, text is text, the same input gives the same bytes."""

import csv as reader
import io
import time
import zipfile
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from specgen.document.data import build_data, parts_list
from specgen.pipeline import Survey
from specgen.write import csv, xlsx
from specgen.write.worksheets import SheetData, facts_sheet, parts_sheet

FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1+1", "=cmd|'/c x'!A1")
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def sheet(*rows: tuple[str | int | Decimal | None, ...]) -> SheetData:
    headings = tuple(f"Column {number}" for number in range(len(rows[0])))
    return SheetData("Any", headings, rows, (10,) * len(headings))


def read_csv(data: bytes) -> list[list[str]]:
    return list(reader.reader(io.StringIO(data.decode("utf-8"), newline="")))


@pytest.mark.parametrize("text", FORMULAS)
def test_csv_cells_that_look_like_formulas_begin_with_an_apostrophe(text: str):
    assert read_csv(csv.table(sheet((text, "plain"))))[1] == [f"'{text}", "plain"]


@pytest.mark.parametrize("text", FORMULAS)
def test_workbook_cells_that_look_like_formulas_are_quoted_text(text: str):
    cell = load_workbook(io.BytesIO(xlsx.workbook("t", [sheet((text, "plain"))])))["Any"]["A2"]
    assert cell.data_type == "s"
    assert cell.quotePrefix
    assert cell.value.strip() == text.strip()


def test_negative_numbers_stay_numbers():
    row = sheet((-5, Decimal("-0.25"), Decimal("1E+3")))
    assert read_csv(csv.table(row))[1] == ["-5", "-0.25", "1000"]
    page = load_workbook(io.BytesIO(xlsx.workbook("t", [row])))["Any"]
    assert [cell.value for cell in page[2]] == [-5, -0.25, 1000]
    assert {cell.data_type for cell in page[2]} == {"n"}


def test_what_is_not_known_is_an_empty_cell():
    row = sheet((None, "", 0))
    assert read_csv(csv.table(row))[1] == ["", "", "0"]
    page = load_workbook(io.BytesIO(xlsx.workbook("t", [row])))["Any"]
    assert [cell.value for cell in page[2]] == [None, None, 0]


@given(st.lists(TEXTS, min_size=2, max_size=5))
def test_any_text_comes_back_from_csv_and_no_cell_is_a_formula(texts: list[str]):
    cells = read_csv(csv.table(sheet(tuple(texts))))[1]
    assert [cell.removeprefix("'") for cell in cells] == [text.removeprefix("'") for text in texts]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)


def test_text_that_no_workbook_can_hold_is_replaced_not_refused():
    page = load_workbook(io.BytesIO(xlsx.workbook("\x07", [sheet(("a\x00b\ufffe",))])))["Any"]
    assert page["A2"].value == "a\ufffdb\ufffd"


def test_the_same_tables_give_the_same_workbook_whenever(monkeypatch: pytest.MonkeyPatch):
    row = sheet(("=1", 2, Decimal("3.5")))
    first = xlsx.workbook("t", [row])
    later = time.time() + 86_400
    monkeypatch.setattr(time, "time", lambda: later)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(later))
    assert xlsx.workbook("t", [row]) == first
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        entries = archive.infolist()
        core = archive.read("docProps/core.xml")
    assert [entry.filename for entry in entries] == sorted(entry.filename for entry in entries)
    assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}
    assert core.count(b"1980-01-01T00:00:00Z") == 2


def test_a_parts_list_reads_back_from_both(demo: Survey):
    parts = parts_list([(demo.cases["lantern-office"], 3), (demo.cases["harbour-archive"], 1)])
    made = parts_sheet(parts)
    rows = read_csv(csv.table(made))
    assert rows[0] == list(made.headings)
    assert [int(row[0]) for row in rows[1:]] == [line.quantity for line in parts.lines]
    page = load_workbook(io.BytesIO(xlsx.workbook("Order", [made])))["Parts"]
    assert [cell.value for cell in page["A"][1:]] == [line.quantity for line in parts.lines]
    assert [cell.value for cell in page["B"][1:]] == [line.number for line in parts.lines]
    assert page.freeze_panes == "A2"
    drive = next(row for row in rows if row[4] == "s25-sata-1.92t")
    assert drive[5] == "lantern-office: BAY 0 to 3"
    assert drive[8:] == ["0.065", "0.780", "kg"]


def test_every_value_is_a_row_with_its_unit_apart(demo: Survey):
    case = demo.cases["lantern-office"]
    rows = read_csv(csv.table(facts_sheet(build_data(case))))
    assert [row[0] for row in rows[1:]] == list(case.facts)
    values = {row[0]: row[3:5] for row in rows}
    assert values["memory.capacity"] == ["256", "GiB"]
    assert values["processors.base_clock"] == ["2.7", "GHz"]
    assert values["expansion.SLOT 2.running"] == ["", ""]
