"""What the source of Typst promises: texts stay texts, columns fit, drawings turn to ink."""

import re
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from written_trees import awkward_document, documents, text

from specgen.document.outline import document
from specgen.document.tree import (
    Caution,
    Column,
    Document,
    FactList,
    Heading,
    Link,
    Paragraph,
    Picture,
    Table,
    Text,
    figure,
    paragraph,
    words,
)
from specgen.drawings.svg import ACCENT, PAPER
from specgen.write.options import Options
from specgen.write.typst import source
from specgen.write.typst_drawing import WHITE, for_print, size_of
from specgen.write.typst_layout import (
    MEASURE,
    Row,
    columns_for,
    fact_columns,
    side_by_side,
)
from specgen.write.typst_text import folded, lacking, printable, string

EXPECTED = Path(__file__).parent / "expected"
STRING = re.compile(r'"((?:[^"\\]|\\.)*)"')


def test_an_awkward_document_as_source():
    assert source(awkward_document()) == (EXPECTED / "awkward.typ").read_text(encoding="utf-8")


@given(text)
@example('"\\ #$*_@<x>`//')
@example("\u2028\r\n\t")
def test_a_text_is_one_string(text: str):
    made = string(folded(text))
    found = STRING.fullmatch(made)
    assert found
    assert re.sub(r"\\(.)", r"\1", found[1]) == folded(text)


@given(documents)
def test_outside_of_strings_stands_only_our_own_code(made: Document):
    code = STRING.sub("", source(made))
    assert code.isascii()
    assert not set(code) - set(
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 \n#:,;(){}[].-*+"
    )


@given(st.text(max_size=20))
def test_what_is_printed_has_a_font(text: str):
    assert all(map(printable, folded(text)))


def test_letters_without_a_font_are_spelled_out_and_told():
    assert folded("a😀b") == "a[U+1F600]b"
    assert folded("𝐀 e\u0301") == "A é"
    assert lacking(["a😀", "日本\n\t\x00", "ไ", "½ \u202f"]) == ("ไ", "😀")


def test_a_level_that_is_skipped_is_taken_in():
    tree = Document("x", (Heading(2, words("a")), Heading(5, words("b"))))
    assert "heading(level: 2, " in source(tree)


def test_links_lead_where_something_is():
    linked = (Link(words("a"), "#t"), Link(words("b"), "#gone"), Link(words("c"), "https://e.org"))
    table = Table("T", (Column("x"),), ((words("1"),),), anchor="t")
    made = source(document("x", [Paragraph(linked), table, table]))
    assert 'link(label("t"), "a")' in made
    assert "gone" not in made
    assert 'link("https://e.org", "c")' in made
    assert made.count('#label("t")') == 1


def wide_table(number: int, letters: int) -> Table:
    columns = tuple(Column(f"Column {at}") for at in range(number))
    return Table("Wide", columns, (tuple(words("word " * letters) for _ in columns),) * 3)


@given(st.integers(1, 30), st.integers(0, 60), st.sampled_from(sorted(MEASURE.values())))
def test_columns_never_go_over_the_page(number: int, letters: int, room: float):
    made = columns_for(wide_table(number, letters), room)
    assert made.total <= room + 0.01
    assert min(made.widths) > 0


def test_short_words_keep_their_line_beside_long_ones():
    columns = (Column("Position", header=True), Column("Why"), Column("W", align="end"))
    row = (words("SLOT 1"), words("a long reason " * 30), figure("12.5", "W"))
    made = columns_for(Table("T", columns, (row,)), MEASURE["a4"])
    first, second, third = made.widths
    assert first < 60
    assert second > 400
    assert third < 60


def test_a_wide_table_is_set_smaller_before_words_are_broken():
    assert (
        columns_for(wide_table(4, 2), MEASURE["a4"]).size
        > columns_for(
            Table("T", tuple(Column("Eighteen letters" * 2) for _ in range(16)), ()), MEASURE["a4"]
        ).size
    )


@given(st.lists(st.integers(0, 40), min_size=1, max_size=20))
def test_a_fact_list_keeps_its_entries_in_columns(lengths: list[int]):
    facts = FactList("F", tuple((f"Label {n}", words("x " * n)) for n in lengths))
    made = fact_columns(facts, MEASURE["a4"])
    assert sum(made.counts) == len(lengths)
    assert 1 <= len(made.counts) <= 4


def test_short_lists_that_follow_one_another_stand_side_by_side():
    size = FactList("Size", (("Width", figure("482", "mm")), ("Depth", figure("860", "mm"))))
    made = side_by_side([size, size, paragraph("between"), size], MEASURE["a4"])
    assert [type(each) for each in made] == [Row, Paragraph, FactList]


def test_cautions_stand_in_a_row():
    made = source(document("x", [Caution("mains", (paragraph("a"),))] * 5))
    assert "cautions(3," in made


def test_a_drawing_gets_the_colours_of_paper():
    drawing = (
        f'<svg width="90pt" height="45pt"><rect class="box box-processor" x="1"/>'
        f'<path class="ribbon ribbon-used" d="M0,0"/><rect fill="{PAPER}"/>'
        '<text class="label">a &lt; 😀</text></svg>'
    )
    made = for_print(drawing)
    assert "class" not in made
    assert f'stroke="{ACCENT}"' in made
    assert PAPER not in made
    assert f'fill="{WHITE}"' in made
    assert "a &lt; [U+1F600]" in made
    assert size_of(made) == (90.0, 45.0)


@pytest.mark.parametrize(
    ("svg", "size"),
    [
        ('<svg width="96px" height="48"></svg>', (72.0, 36.0)),
        ('<svg viewBox="0 0 100 200"></svg>', (75.0, 150.0)),
        ("<svg></svg>", (0.0, 0.0)),
        ("<svg width='1' height='2'>", (0.0, 0.0)),
    ],
)
def test_the_size_of_a_drawing(svg: str, size: tuple[float, float]):
    assert size_of(svg) == size


def test_a_picture_is_not_higher_than_a_page():
    tall = Picture("Tall", '<svg width="100pt" height="6000pt"></svg>', "words")
    found = re.search(r'picture\("Tall", "words", ([0-9.]+)pt', source(document("x", [tall])))
    assert found
    assert float(found[1]) < 12


def test_paper_and_date_are_said():
    made = source(document("x", [Paragraph((Text("a"),))]), Options("", paper="us-letter"))
    assert 'paper: "us-letter"' in made
    assert "date: none" in made
    assert "day: 29" in source(document("x", []), Options(date="2024-02-29"))
    assert "date: none" in source(document("x", []), Options(date="2025-02-29"))
