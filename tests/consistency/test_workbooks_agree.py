"""Cells of spreadsheets are the facts, in the unit that their heads say, and totals are sums."""

import csv
import io
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import load_workbook

from specgen.document.case import Case
from specgen.document.data import build_data, parts_list
from specgen.document.several import Order
from specgen.document.tree import Value
from specgen.messages import Language
from specgen.messages.catalogue import language_of
from specgen.pipeline import Survey
from specgen.quantity import Mass
from specgen.write.data_forms import OF_BUILDS, OF_ORDERS, Manner, order_workbook
from tests.consistency.expected import agrees, read_back

LANGUAGES = ("en", "de", "ja")


def _cases(demo: Survey) -> list[Case]:
    return [case for case in demo.cases.values() if case.sound]


def _manner(case: Case, tag: str) -> Manner:
    return Manner(language_of(tag))


def _pages(case: Case, tag: str) -> list[Any]:
    made = OF_BUILDS["xlsx"].write(case, build_data(case), _manner(case, tag))
    return load_workbook(io.BytesIO(made)).worksheets


def shown(cell: Any, language: Language) -> str:
    """What a spreadsheet program shows of a cell."""
    if not isinstance(cell.value, int | float):
        return "" if cell.value is None else str(cell.value)
    decimals = len(cell.number_format.partition(".")[2])
    return f"{Decimal(str(cell.value)):.{decimals}f}".replace(".", language.signs.point)


def _rows(page: Any) -> Iterator[list[Any]]:
    yield from (list(row) for row in page.iter_rows(min_row=2))


def disagreeing(case: Case, tag: str, pages: list[Any]) -> Iterator[str]:
    """Rows of the sheet of values that are not their facts; and what it leaves out."""
    language = _manner(case, tag).language
    left = dict(case.facts.items())
    for key, _, label, value, unit, *_ in _rows(pages[1]):
        fact = left.pop(key.value, None)
        printed = Value(shown(value, language), unit.value or "")
        if fact is None:
            yield f"{key.value}: no such fact, or twice"
        elif fact.value is None:
            if printed.number:
                yield f"{key.value}: {printed} for a fact without a value"
        elif not agrees(printed, fact.value, language):
            yield f"{key.value}: {fact.value} is printed as {printed}"
        elif label.value != language.text(fact.label):
            yield f"{key.value}: called {label.value}"
    yield from (f"{key}: left out" for key in left)


def misadded(case: Case, _tag: str, pages: list[Any]) -> Iterator[str]:
    """Lines of the list of parts whose weights or total are not what they should be."""
    page = pages[0]
    heads = [cell.value for cell in page[1]]
    *rows, last = list(_rows(page))
    lines = [row for row in rows if row[4].value]
    quantity, each, whole = 0, 8, 9
    if not all("kg" in heads[at] for at in (each, whole)):
        yield f"no unit in the heads {heads}"
    for line in lines:
        one, total = (_number(line[at]) for at in (each, whole))
        if (one is None) is not (total is None):
            yield f"{line[4].value}: a weight without the other"
        elif one is not None and total is not None and one * line[quantity].value != total:
            yield f"{line[4].value}: {line[quantity].value} of {one} kg are {total} kg"
    if last[quantity].value != sum(line[quantity].value for line in lines):
        yield f"{last[quantity].value} pieces in all"
    weights = [_number(row[whole]) for row in rows]
    added = sum((each for each in weights if each is not None), Decimal(0))
    if _number(last[whole]) != added:
        yield f"{last[whole].value} kg in all, and the rows weigh {added}"
    mass = case.facts.value("mechanics.mass")
    if isinstance(mass, Mass) and added != mass.in_unit("kg"):
        yield f"the rows weigh {added} kg, the system {mass}"


def _number(cell: Any) -> Decimal | None:
    return None if cell.value is None else Decimal(str(cell.value))


def differing(case: Case, tag: str, pages: list[Any]) -> Iterator[str]:
    """What the table of text for spreadsheets says other than the workbook."""
    manner = _manner(case, tag)
    made = OF_BUILDS["csv-spreadsheet"].write(case, build_data(case), manner)
    text = made.decode("utf-8-sig")
    delimiter = ";" if manner.language.signs.point == "," else ","
    heads, *rows = csv.reader(io.StringIO(text), delimiter=delimiter)
    page = pages[1]
    if heads != [cell.value for cell in page[1]]:
        yield f"other heads: {heads}"
    for row, cells in zip(rows, _rows(page), strict=True):
        number = read_back(row[3], manner.language)
        same = (
            number == _number(cells[3])
            if isinstance(cells[3].value, int | float)
            else (row[3].lstrip("'") == (cells[3].value or ""))
        )
        if not same or row[4] != (cells[4].value or ""):
            yield f"{row[0]}: {row[3:5]} and {cells[3].value} {cells[4].value}"


def wrong(case: Case, tag: str) -> list[str]:
    """All that is wrong in the tables of a build."""
    pages = _pages(case, tag)
    return [line for find in (disagreeing, misadded, differing) for line in find(case, tag, pages)]


def test_cells_are_the_facts(demo: Survey) -> None:
    """In a language whose numbers have another point; of all builds in all languages when slow."""
    case = _cases(demo)[0]
    assert wrong(case, "de") == [], case.thing.id


@pytest.mark.slow
@pytest.mark.parametrize("tag", LANGUAGES)
def test_cells_of_all_builds_are_the_facts(demo: Survey, tag: str) -> None:
    for case in _cases(demo):
        assert wrong(case, tag) == [], case.thing.id


def _orders(demo: Survey) -> Mapping[str, tuple[tuple[Case, int], ...]]:
    cases = [case for case in demo.cases.values() if case.sound]
    return {
        "one": ((cases[0], 1),),
        "many of one": ((cases[3], 7),),
        "several": ((cases[2], 3), (cases[9], 1), (cases[17], 2)),
    }


@pytest.mark.parametrize("name", ["one", "many of one", "several"])
def test_an_order_s_list_sums_what_its_builds_do(demo: Survey, name: str) -> None:
    lines = _orders(demo)[name]
    parts, manner = parts_list(lines), _manner(lines[0][0], "de")
    made = OF_ORDERS["xlsx"](lines, parts, manner)
    assert made == order_workbook(lines, parts, manner)
    (page,) = load_workbook(io.BytesIO(made)).worksheets
    *rows, last = list(_rows(page))
    lines_of = [row for row in rows if row[4].value]
    counts: dict[str, int] = {}
    for case, count in lines:
        counts[case.platform.id] = counts.get(case.platform.id, 0) + count
        for place, part in case.assembly.everything():
            if place.how != "fixed":
                counts[part.id] = counts.get(part.id, 0) + count
    assert {row[4].value: row[0].value for row in lines_of} == counts
    assert last[0].value == sum(counts.values())
    mass = Order(lines[0][0].definitions, lines).facts["order.mass"].value
    assert isinstance(mass, Mass)
    assert Decimal(str(last[9].value)) == mass.in_unit("kg")
    assert sum(each for row in rows if (each := _number(row[9])) is not None) == mass.in_unit("kg")
