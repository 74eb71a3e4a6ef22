"""What the source of Typst promises: texts stay texts, columns fit, drawings turn to ink."""

import re
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from written_trees import awkward_document, documents, drawing, text

from specgen.document.outline import document
from specgen.document.tree import (
    Caution,
    Column,
    Document,
    Figure,
    Heading,
    Hyperlink,
    Paragraph,
    Strong,
    Table,
    Text,
    paragraph,
    words,
)
from specgen.drawings.picture import ACCENT, PAPER, Element, written
from specgen.write.html import body
from specgen.write.typst import source
from specgen.write.typst_drawing import WHITE, for_print
from specgen.write.typst_text import (
    LONG_DATA,
    folded,
    lacking,
    longest_piece,
    pieces,
    printable,
    seams,
    string,
    title_piece,
)
from specgen.write.writer_options import Options

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
    linked = (
        Hyperlink(words("a"), "#t"),
        Hyperlink(words("b"), "#gone"),
        Hyperlink(words("c"), "https://e.org"),
        Hyperlink(words("d"), "mailto:a@e.org"),
    )
    table = Table("T", (Column("x"),), ((words("1"),),), anchor="t")
    made = source(document("x", [Paragraph(linked), table, table]))
    assert 'link(label("t"), "a")' in made
    assert "gone" not in made
    assert 'away("https://e.org", [], "c")' in made
    assert 'link("mailto:a@e.org", "d")' in made
    assert made.count('anchor: "t"') == 1


def test_a_number_stays_with_its_unit_and_a_position_with_its_number():
    made = pieces(
        "At 12.5 W in SLOT 1 or DIMM 1A2, 27 °C, by OCP NIC 3.0, 3 hosts, QW-3-A (IEC 60364-4-43)"
    )
    assert [piece for piece, sort in made if sort == "whole"] == [
        "12.5 W",
        "SLOT 1",
        "DIMM 1A2",
        "27 °C",
        "QW-3-A",
        "IEC 60364-4-43",
    ]


def test_what_an_author_held_together_stays_so_and_its_blank_is_a_plain_one():
    assert list(pieces("a 7\u202fW\u00a0b c")) == [
        ("a ", "loose"),
        ("7 W b", "whole"),
        (" c", "loose"),
    ]


@given(text)
@example("a\u00a0b")
@example("x/" * 100)
def test_no_letter_is_lost_or_added_between_pieces(text: str):
    made = "".join(piece for piece, _ in pieces(folded(text)))
    assert made == re.sub("[\u00a0\u202f]", " ", folded(text))


def test_long_words_of_data_may_be_broken_and_words_of_a_language_are_not():
    path = "catalogue/house/backplanes.yaml:12"
    assert list(pieces(path)) == [(path, "seamed")]
    assert seams(path) == ("catalogue/", "house/", "backplanes.", "yaml:", "12")
    assert [sort for _, sort in pieces("x1" * (LONG_DATA // 2))] == ["loose"]
    assert [sort for _, sort in pieces("Donaudampfschifffahrtsgesellschaft")] == ["loose"]
    assert [
        sort for _, sort in pieces("電源ユニットの出力側の値で、変換損失は含みません。" * 2)
    ] == ["loose"]
    assert [sort for _, sort in pieces("x" * 100)] == ["seamed"]


def test_what_of_a_cell_stays_together():
    assert longest_piece("two words 日本") == "words"
    assert title_piece("公表値") == "公表値"
    assert title_piece("Peak bandwidth") == "bandwidth"


def test_cautions_stand_in_a_row():
    made = source(document("x", [Caution("mains", (paragraph("a"),))] * 5))
    assert made.count("cautions(") == 1


def test_a_drawing_gets_the_colours_of_paper():
    picture = drawing(
        90,
        45,
        Element("rect", {"class": "box box-processor", "x": "1"}),
        Element("path", {"class": "ribbon ribbon-used", "d": "M0,0"}),
        Element("rect", {"fill": PAPER}),
        Element("text", {"class": "label"}, ("a < 😀",)),
    )
    made = written(for_print(picture))
    assert "class" not in made
    assert f'stroke="{ACCENT}"' in made
    assert PAPER not in made
    assert f'fill="{WHITE}"' in made
    assert "a &lt; [U+1F600]" in made
    figure = Figure("Sides", picture, "the same in words")
    assert "(90.0pt, 45.0pt)" in source(document("x", [figure]))


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("8 in use", []),
        ("of 24 lanes 8 in use, 16 free", []),
        ("12 in Betrieb", []),
        ("a frame of 19 in", ["19 in"]),
        ("19 in, 482.6 mm", ["19 in", "482.6 mm"]),
    ],
)
def test_a_number_before_a_word_is_no_length_in_inches(text: str, whole: list[str]):
    assert [piece for piece, sort in pieces(text) if sort == "whole"] == whole
    said = body(Document("T", (Paragraph(words(text)),)))
    assert re.findall(r'<span class="whole">(.*?)</span>', said) == whole


def test_paper_and_date_are_said():
    made = source(document("x", [Paragraph((Text("a"),))]), Options("", paper="us-letter"))
    assert 'paper: "us-letter"' in made
    assert "date: none" in made
    assert "day: 29" in source(document("x", []), Options(date="2024-02-29"))
    assert "date: none" in source(document("x", []), Options(date="2025-02-29"))


@pytest.mark.parametrize(
    "whole",
    ["DIMM 1A1 to 1H2", "BAY 0 to 7", "BOOT.SSD 1 bis 2", "OCP 2.PORT 1 to 2", "x8 Gen 4", "Gen 5"],
)
def test_ranges_and_speeds_are_not_broken_over_lines(whole):
    assert (whole, "whole") in list(pieces(f"here are {whole}, and more"))
    said = Paragraph((*words(f"here are {whole}, and "), Strong(words("more"))))
    assert f'<span class="whole">{whole}</span>' in body(Document("T", (said,)))
