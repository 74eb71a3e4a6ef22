"""CSV and XLSX: numbers are numbers, text is text, the same input gives the same bytes."""

import csv as reader
import io
import os
import subprocess
import sys
import time
import zipfile
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from specgen.document.data import build_data, parts_list
from specgen.messages.catalogue import language_of
from specgen.pipeline import Survey
from specgen.quantity import plain
from specgen.write import csv, xlsx
from specgen.write.data_forms import Manner, order_workbook
from specgen.write.worksheets import SheetData, facts_sheet, parts_sheet, values_sheet
from specgen.write.xlsx import Imprint

FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1+1", "=cmd|'/c x'!A1")
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def sheet(*rows: tuple[str | int | Decimal | None, ...]) -> SheetData:
    headings = tuple(f"Column {number}" for number in range(len(rows[0])))
    return SheetData("Any", headings, rows, (10,) * len(headings))


def read_csv(data: bytes) -> list[list[str]]:
    return list(reader.reader(io.StringIO(data.decode("utf-8"), newline="")))


def read_xlsx(made: SheetData, title: str = "t") -> Any:
    return load_workbook(io.BytesIO(xlsx.workbook(Imprint(title), [made]))).worksheets[0]


@pytest.mark.parametrize("text", FORMULAS)
def test_csv_cells_that_look_like_formulas_begin_with_an_apostrophe(text: str):
    assert read_csv(csv.table(sheet((text, "plain"))))[1] == [f"'{text}", "plain"]


@pytest.mark.parametrize("text", FORMULAS)
def test_workbook_cells_that_look_like_formulas_are_quoted_text(text: str):
    cell = load_workbook(io.BytesIO(xlsx.workbook(Imprint("t"), [sheet((text, "plain"))])))["Any"][
        "A2"
    ]
    assert cell.data_type == "s"
    assert cell.quotePrefix
    assert cell.value.strip() == text.strip()


def test_negative_numbers_stay_numbers():
    row = sheet((-5, Decimal("-0.25"), Decimal("1E+3")))
    assert read_csv(csv.table(row))[1] == ["-5", "-0.25", "1000"]
    page = load_workbook(io.BytesIO(xlsx.workbook(Imprint("t"), [row])))["Any"]
    assert [cell.value for cell in page[2]] == [-5, -0.25, 1000]
    assert {cell.data_type for cell in page[2]} == {"n"}


def test_what_is_not_known_is_an_empty_cell():
    row = sheet((None, "", 0))
    assert read_csv(csv.table(row))[1] == ["", "", "0"]
    page = load_workbook(io.BytesIO(xlsx.workbook(Imprint("t"), [row])))["Any"]
    assert [cell.value for cell in page[2]] == [None, None, 0]


@given(st.lists(TEXTS, min_size=2, max_size=5))
def test_any_text_comes_back_from_csv_and_no_cell_is_a_formula(texts: list[str]):
    cells = read_csv(csv.table(sheet(tuple(texts))))[1]
    assert [cell.removeprefix("'") for cell in cells] == [text.removeprefix("'") for text in texts]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)


def test_text_that_no_workbook_can_hold_is_replaced_not_refused():
    page = read_xlsx(sheet(("a\x00b\ufffe",)), "\x07")
    assert page["A2"].value == "a\ufffdb\ufffd"


def test_the_same_tables_give_the_same_workbook_whenever(monkeypatch: pytest.MonkeyPatch):
    row = sheet(("=1", 2, Decimal("3.5")))
    first = xlsx.workbook(Imprint("t"), [row])
    later = time.time() + 86_400
    monkeypatch.setattr(time, "time", lambda: later)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(later))
    assert xlsx.workbook(Imprint("t"), [row]) == first
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        entries = archive.infolist()
        core = archive.read("docProps/core.xml")
    assert [entry.filename for entry in entries] == sorted(entry.filename for entry in entries)
    assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}
    assert core.count(b"1980-01-01T00:00:00Z") == 2


def test_a_parts_list_reads_back_from_both(demo: Survey):
    parts = parts_list([(demo.cases["lantern-office"], 3), (demo.cases["boathouse-archive"], 1)])
    made = parts_sheet(parts)
    rows = read_csv(csv.table(made))
    assert rows[0] == list(made.headings)
    assert [int(row[0]) for row in rows[1:]] == [line.quantity for line in parts.lines]
    page = load_workbook(io.BytesIO(xlsx.workbook(Imprint("Order"), [made])))["Parts"]
    assert [cell.value for cell in page["A"][1:-1]] == [line.quantity for line in parts.lines]
    assert [cell.value for cell in page["B"][1:-1]] == [line.number for line in parts.lines]
    assert page.freeze_panes == "A2"
    drive = next(row for row in rows if row[4] == "s25-sata-1.92t")
    assert drive[5] == "lantern-office: BAY 0 to 3"
    assert rows[0][8:] == ["Weight each (kg)", "Total weight (kg)"]
    assert drive[8:] == ["0.065", "0.780"]


def test_every_value_is_a_row_with_its_unit_apart(demo: Survey):
    case = demo.cases["lantern-office"]
    rows = read_csv(csv.table(facts_sheet(build_data(case))))
    assert [row[0] for row in rows[1:]] == list(case.facts)
    values = {row[0]: (row[3], row[5]) for row in rows}
    assert values["memory.capacity"] == ("256", "GiB")
    assert values["processors.base_clock"] == ("2.7", "GHz")
    assert values["expansion.SLOT 2.running"] == ("", "")


def test_csv_for_programs_is_that_of_the_standard():
    """RFC 4180, 2: lines end in CR LF, fields with commas and quotes are quoted, no mark before."""
    row = sheet(('say "so", please', Decimal("0.055"), 1400))
    assert csv.table(row).split(b"\r\n")[1:] == [b'"say ""so"", please",0.055,1400', b""]
    assert not csv.table(row).startswith(b"\xef\xbb\xbf")


@pytest.mark.parametrize(
    ("language", "line"),
    [("de", "0,055;a,b;1400"), ("en", '0.055,"a,b",1400'), ("ja", '0.055,"a,b",1400')],
)
def test_csv_for_spreadsheets_has_the_signs_of_its_language(language: str, line: str):
    """A German spreadsheet program reads 0.055 as 55, and a comma as a decimal sign."""
    made = csv.for_spreadsheet(sheet((Decimal("0.055"), "a,b", 1400)), language_of(language))
    assert made.startswith(b"\xef\xbb\xbf")
    assert made.decode("utf-8-sig").split("\r\n")[1] == line


def test_a_separator_of_the_language_within_a_text_is_quoted():
    made = csv.for_spreadsheet(sheet(("a;b", "c")), language_of("de"))
    assert made.decode("utf-8-sig").split("\r\n")[1] == '"a;b";c'


def test_a_workbook_says_whose_it_is_and_is_made_to_be_printed(demo: Survey):
    case = demo.cases["lantern-office"]
    order = [(case, 1)]
    parts = parts_list(order)
    made = order_workbook(order, parts, Manner(language_of("de"), "us-letter"))
    book = load_workbook(io.BytesIO(made))
    page = book.worksheets[0]
    assert case.build is not None
    assert book.properties.created.date() == case.build.date
    assert book.properties.modified.date() == case.build.date
    assert (book.properties.creator, book.properties.subject) == ("Quillmere Works", "QB.20.02")
    assert page.page_setup.paperSize == 1  # ECMA-376, part 1, 18.3.1.63: letter
    assert page.oddHeader.left.text == f"1 × {case.build.name}"
    assert page.oddFooter.center.text == str(case.build.date)
    last = [cell.value for cell in page[page.max_row]]
    assert last[0] == sum(line.quantity for line in parts.lines)
    assert Decimal(str(last[9])) == parts.kilograms
    assert page.auto_filter.ref.endswith(str(page.max_row - 1))  # the total is never filtered
    formats = {cell.number_format for cell in page["J"][1:]}
    assert formats == {"0.000"}  # grams, one under another
    longer = parts_list(order := [(demo.cases["capstan-eyes"], 1)])
    made = order_workbook(order, longer, Manner(language_of("de"), "us-letter"))
    page = load_workbook(io.BytesIO(made)).worksheets[0]
    long = next(row for row in range(2, page.max_row) if len(page.cell(row, 3).value) > 44)
    assert page.row_dimensions[long].height > page.row_dimensions[1].height / 2
    assert page.row_dimensions[long].height >= 30


def test_values_for_people_are_shown_as_documents_print_them(demo: Survey):
    case = demo.cases["lantern-office"]
    english = {row[0]: row for row in values_sheet(case.facts.values()).rows}
    german = {row[0]: row for row in values_sheet(case.facts.values(), language_of("de")).rows}
    assert english.keys() == german.keys() == case.facts.keys()
    assert english["conditions.inlet"][3:5] == (25, "°C")
    assert german["mechanics.rails_fit"][3] == "ja"
    for key, row in german.items():
        assert row[3] == english[key][3] or isinstance(row[3], str), key
    sheets = [values_sheet(case.facts.values())]
    page = load_workbook(io.BytesIO(xlsx.workbook(Imprint("t"), sheets)))["Values"]
    for key, _, _, value, *_ in page.iter_rows(min_row=2):
        number = case.facts.value(key.value)
        if value.data_type == "n" and value.value is not None:
            decimals = len(value.number_format.partition(".")[2])
            assert f"{value.value:.{decimals}f}" == plain(number).partition(" ")[0], key.value


def test_what_is_printed_stands_beside_what_was_worked_out(demo: Survey):
    rows = read_csv(csv.table(facts_sheet(build_data(demo.cases["lantern-office"]))))
    assert rows[0][3:6] == ["Value", "Exact value", "Unit"]
    found = {row[0]: row for row in rows}
    power = found["power.maximum"]
    assert power[3] == "668"
    assert Decimal(power[4]).quantize(1) == 668
    assert Decimal(power[4]) != 668


@pytest.mark.slow
def test_a_workbook_does_not_depend_on_what_else_is_installed() -> None:
    """openpyxl writes XML by lxml where that is installed, and then with other bytes."""
    script = """
import sys
from specgen.write import xlsx
from specgen.write.worksheets import SheetData
sheet = SheetData("Parts", ("a", "b"), (("x & <y>", 1), ("  ", None)), (9, 9))
imprint = xlsx.Imprint("Title", "about", "Works", "2026-01-02")
sys.stdout.buffer.write(xlsx.workbook(imprint, [sheet]))
"""
    made = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "OPENPYXL_LXML": lxml},
            capture_output=True,
            check=True,
        ).stdout
        for lxml in ("True", "False")
    }
    assert len(made) == 1
