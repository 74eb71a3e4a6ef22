"""How a page is shared out: what `columns.typ` decides for tables and lists, as numbers."""

import json
from typing import Any

import pytest

from specgen.document.outline import document
from specgen.document.tree import Block, Column, FactList, Table, value, words
from specgen.drawings.typesetter import compiler
from specgen.write.typst import source

ROOM = 505.28
"""The breadth of the text on A4, points."""
PROBE = """
#import "columns.typ": *
#let points(each) = if type(each) == length { each.pt() } else { each }
#let probe(..blocks) = { set text(size: table-size); context [#metadata(
  rows-of(blocks.pos(), 505.28pt).map(row => row.map(((block, room)) => (
    room: room.pt(),
    ..if "rows" in block {
      let gutter = gutters(block.columns).sum()
      let (widths, scale, tight) = column-widths(block.asking, room - gutter)
      (widths: widths.map(points), gutter: gutter.pt(), scale: scale, tight: tight)
    } else {
      let (columns, label) = list-columns(block.entries, room)
      (entries: columns.map(each => each.len()), label: label.pt())
    }
  )))
) <probe>] }
"""

Placed = list[list[dict[str, Any]]]


def placed(*blocks: Block) -> Placed:
    """Rows of blocks, each with its room and what it does with it; the compiler decides."""
    code = source(document("x", list(blocks))).replace("  side-by-side(", "  probe(")
    first, _, rest = code.partition("\n")
    asked = compiler(f"{first}{PROBE}{rest}".encode())
    rows: Placed = json.loads(asked.query("<probe>", field="value", one=True))
    return rows


def columns_of(table: Table) -> dict[str, Any]:
    ((made,),) = placed(table)
    return made


def wide_table(number: int, letters: int) -> Table:
    columns = tuple(Column(f"Column {at}") for at in range(number))
    return Table("Wide", columns, (tuple(words("word " * letters) for _ in columns),) * 3)


@pytest.mark.parametrize("number", [1, 2, 7, 30])
@pytest.mark.parametrize("letters", [0, 1, 9, 60])
def test_columns_never_go_over_the_page(number: int, letters: int):
    made = columns_of(wide_table(number, letters))
    assert sum(made["widths"]) + made["gutter"] <= ROOM + 0.01
    assert min(made["widths"]) > 0


def test_a_table_that_fits_is_not_narrower_than_its_words_and_wide_ones_fill_the_page():
    small = columns_of(wide_table(2, 2))
    assert sum(small["widths"]) < ROOM / 2
    large = columns_of(wide_table(5, 4))
    assert sum(large["widths"]) + large["gutter"] == pytest.approx(ROOM)
    assert large["scale"] == 1


def test_short_words_keep_their_line_beside_long_ones():
    columns = (Column("Position", header=True), Column("Why"), Column("W", align="end"))
    row = (words("SLOT 1"), words("a long reason " * 30), value("12.5", "W"))
    first, second, third = columns_of(Table("T", columns, (row,)))["widths"]
    assert first < 60
    assert second > 400
    assert third < 60


def test_of_two_long_columns_the_longer_gets_more():
    columns = (Column("Why"), Column("How to fix it"))
    row = (words("a short reason " * 5), words("a long answer " * 40))
    first, second = columns_of(Table("T", columns, (row,)))["widths"]
    assert second > 1.5 * first


def test_values_that_are_sentences_leave_room_for_the_labels():
    columns = (Column("Value", header=True), *(Column(f"Build {n}", align="end") for n in range(5)))
    got = words("Registered module 32 GiB DDR5-5600, 2Rx8, as declared")
    rows = ((words("Memory modules as configured"), *[got] * 5),)
    made = columns_of(Table("T", columns, rows))
    assert made["widths"][0] > 50
    assert not any(made["tight"])


def test_a_wide_table_is_set_smaller_and_then_its_words_are_hyphenated():
    long = words("Donaudampfschifffahrt")
    wide = columns_of(Table("T", (Column("x"),) * 6, ((long,) * 6,)))
    assert 0.9 < wide["scale"] < 1
    assert not any(wide["tight"])
    wider = columns_of(Table("T", (Column("x"),) * 16, ((long,) * 16,)))
    assert wider["scale"] == pytest.approx(0.9)
    assert all(wider["tight"])


@pytest.mark.parametrize("lengths", [[0], [3, 40, 1], [2] * 20, [40, 1, 1, 1, 1, 1], [1] * 7])
def test_a_list_keeps_its_entries_in_columns_of_like_height(lengths: list[int]):
    entries = tuple((f"Label {n}", words("x " * each)) for n, each in enumerate(lengths))
    ((made,),) = placed(FactList("F", entries))
    assert sum(made["entries"]) == len(lengths)
    assert 1 <= len(made["entries"]) <= 4
    if len(set(lengths)) == 1:
        assert max(made["entries"]) - min(made["entries"]) <= 1


def test_short_lists_that_follow_one_another_stand_side_by_side():
    size = FactList("Size", (("Width", value("482", "mm")), ("Depth", value("860", "mm"))))
    (row,) = placed(size, size)
    assert sum(each["room"] for each in row) == pytest.approx(ROOM - 22)
    first, second = placed(*[size] * 8)
    assert len(first) + len(second) == 8
    assert len(first) > len(second)


def test_a_long_table_stands_alone():
    table = Table("T", (Column("x"),), ((words("1"),),) * 17)
    size = FactList("Size", (("Width", value("482", "mm")),))
    assert [len(each) for each in placed(size, table, size)] == [1, 1, 1]
    assert [len(each) for each in placed(size, Table("T", table.columns, table.rows[:16]))] == [2]
