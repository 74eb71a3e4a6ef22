"""What the HTML writer promises: the text of the tree, safe, accessible, in one file."""

import base64
import hashlib
import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from written_trees import awkward_document, bare, cells, documents, drawing, text

from specgen.document.outline import document
from specgen.document.tree import (
    Caution,
    Column,
    Document,
    Figure,
    Heading,
    Hyperlink,
    Listing,
    Paragraph,
    Table,
    Text,
    Value,
    link,
    paragraph,
    plain_text,
    value,
    words,
)
from specgen.write.html import body, page
from specgen.write.writer_options import Options

EXPECTED = Path(__file__).parent / "expected"
VOID = {"meta", "br", "hr"}
TRAPS = (
    "javascript:alert(1)",
    "JAVASCRIPT:x",
    " javascript:x",
    "java\tscript:x",
    "data:text/html,x",
    "vbscript:x",
    "//example.org",
    "/\\example.org",
)


class Seen(HTMLParser):
    """Elements in order with their attributes and the text within each, and what is not closed."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[int] = []
        self.elements: list[tuple[str, dict[str, str | None], list[str]]] = []
        self.feed(html)
        self.close()
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(attrs) == len(dict(attrs))
        self.elements.append((tag, dict(attrs), []))
        if tag not in VOID:
            self.open.append(len(self.elements) - 1)

    def handle_endtag(self, tag: str) -> None:
        assert self.elements[self.open.pop()][0] == tag

    def handle_data(self, data: str) -> None:
        for index in self.open:
            self.elements[index][2].append(data)

    def texts(self, *tags: str) -> list[str]:
        return [bare("".join(got)) for tag, _, got in self.elements if tag in tags]

    def attributes(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for each, attributes, _ in self.elements if each == tag]

    def all(self, name: str) -> list[str]:
        return [str(each[1][name]) for each in self.elements if name in each[1]]


def resolve(target: str) -> str | None:
    return {"part:riser-a": "../parts/riser-a.html", "platform:lantern": "lantern.html"}.get(target)


def test_the_awkward_document_is_written_as_approved() -> None:
    written = page(awkward_document(), Options("p { margin: 0 }\n", resolve))
    assert written.decode() == (EXPECTED / "awkward.html").read_text(encoding="utf-8")


@given(cells, text)
def test_any_text_comes_out_as_that_text(cell: tuple[Text, ...], title: str) -> None:
    made = document(
        title,
        [
            Heading(2, cell),
            Paragraph(cell),
            Table(title, (Column("x"), Column("y", header=True)), ((cell, cell),)),
            Caution(title, (Paragraph(cell),)),
        ],
    )
    seen = Seen(body(made, resolve))
    got = bare(plain_text(cell))
    close = str.maketrans("", "", " \u202f")  # a unit has its own space

    def alike(texts: list[str], *wanted: str) -> bool:
        return [bare(each).translate(close) for each in texts] == [
            bare(each).translate(close) for each in wanted
        ]

    assert alike(seen.texts("h1"), title)
    assert alike(seen.texts("h2", "td"), got, got)
    assert alike(seen.texts("th")[-1:], got)
    caution = f"Caution: {title}" if title else "Caution"
    assert alike(seen.texts("p"), got, caution, got)
    assert alike([str(seen.attributes("aside")[0]["aria-label"])], caution)


@given(documents)
def test_any_document_is_closed_without_style_script_or_event_and_every_id_is_its_own(made) -> None:
    seen = Seen(page(made).decode())
    assert not seen.attributes("script")
    assert not any(
        name == "style" or name.startswith("on") for each in seen.elements for name in each[1]
    )
    ids = seen.all("id")
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"\S+", each) for each in ids)
    assert set(seen.all("aria-labelledby")) <= set(ids)


@given(documents)
def test_headings_go_down_one_level_at_a_time(made) -> None:
    levels = [int(tag[1]) for tag, _, _ in Seen(body(made)).elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@given(documents)
def test_the_same_document_gives_the_same_bytes(made) -> None:
    assert page(made) == page(made)


def test_the_page_allows_its_own_style_sheet_and_nothing_else() -> None:
    style = "a::after { content: '</style><script>' }\r\nb {}"
    html = page(document("T", []), Options(style)).decode()
    inner = re.search("<style>(.*?)</style>", html, re.DOTALL)
    assert inner
    digest = base64.b64encode(hashlib.sha256(inner[1].encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:"
    assert f'<meta http-equiv="Content-Security-Policy" content="{policy}">' in html
    assert html.count("</style") == 1
    assert "\r" not in html


def test_the_page_names_its_language_and_its_title() -> None:
    html = page(document("Lantern <A>", [], subtitle="Spec sheet", language="de")).decode()
    assert html.startswith('<!DOCTYPE html>\n<html lang="de">')
    assert "<title>Lantern &lt;A&gt; – Spec sheet</title>" in html
    assert '<meta charset="utf-8">' in html


def test_a_printed_fact_keeps_its_unit_apart_and_names_its_key() -> None:
    html = body(document("T", [Paragraph((Value("750", "W", "power.maximum"),))]))
    assert (
        '<p><span class="value" data-fact="power.maximum">750'
        '<span class="unit">\u202fW</span></span></p>'
    ) in html


def test_a_range_within_a_value_stays_on_one_line_and_reads_as_before() -> None:
    said = "DIMM 1A1 to 1H1, x8 Gen 4 & more"
    html = body(document("T", [Paragraph((Value(said, "", "memory.next"),))]))
    whole = '<span class="whole">{}</span>'.format
    inner = f"{whole('DIMM 1A1 to 1H1')}, {whole('x8 Gen 4')} &amp; more"
    assert f'<span class="value words" data-fact="memory.next">{inner}</span>' in html
    assert (
        "".join(re.split("<[^>]*>", html)).strip().endswith("DIMM 1A1 to 1H1, x8 Gen 4 &amp; more")
    )


def test_the_outline_of_a_picture_is_a_list_with_lists_in_it() -> None:
    said = "CPU1\n\tP0\n\t\tx16\n\tP1\nCPU2"
    html = body(document("T", [Figure("Lanes", None, said)])).replace("\n", "")
    inner = "<li>P0<ul><li>x16</li></ul></li><li>P1</li>"
    assert f"<ul><li>CPU1<ul>{inner}</ul></li><li>CPU2</li></ul></details>" in re.sub(
        "</?p>", "", html
    )


def test_steps_go_on_with_the_number_that_their_list_begins_with() -> None:
    step = (paragraph("Lift the cover."),)
    assert "<ul>" in body(document("Steps", [Listing((step,))]))
    assert "<ol>" in body(document("Steps", [Listing((step,), first=1)]))
    assert '<ol start="0">' in body(document("Steps", [Listing((step,), first=0)]))
    assert '<ol start="4">' in body(document("Steps", [Listing((step,), first=4)]))


def test_a_range_or_a_number_with_its_unit_stays_on_one_line_in_a_cell() -> None:
    columns = (Column("A", header=True), Column("B"))
    rows = (
        (words("DIMM 1A1 to 1H1"), words("Power supply 1300 W, 60 mm")),
        (words("CPU1 to 2"), words("Steps 1 to 4")),
    )
    html = body(document("T", [Table("", columns, rows)]))
    for whole in ("DIMM 1A1 to 1H1", "1300 W", "60 mm", "CPU1 to 2"):
        assert f'<span class="whole">{whole}</span>' in html


def test_a_table_names_its_rows_columns_and_itself() -> None:
    columns = (Column("Slot", header=True), Column("Width"), Column("Draw", "end"))
    rows = ((words("SLOT 1"), words("x16"), value("5", "W")),)
    html = body(document("T", [Table("Slots", columns, rows, "slots", words("declared"))]))
    assert '<figure class="table" id="slots"><figcaption id="slots-t">Slots</figcaption>' in html
    assert (
        '<div class="scroll" role="region" aria-labelledby="slots-t" tabindex="0"><table>' in html
    )
    assert '<th scope="col">Slot</th><th scope="col">Width</th><th scope="col" class="num">' in html
    assert (
        '<tr><th scope="row"><span class="whole">SLOT 1</span></th><td data-title="Width">x16</td>'
        in html
    )
    assert '<td class="num" data-title="Draw"><span class="value">5' in html
    assert '<p class="table-note">declared</p>' in html


def test_a_row_of_systems_beside_each_other_tells_the_unit_that_its_values_have() -> None:
    columns = (Column("Parameter", header=True), Column("One", "end"), Column("Other", "end"))
    rows = (
        (words("Depth"), value("712", "mm"), value("378", "mm")),
        (words("Memory"), value("2", "TiB"), value("192", "GiB")),
        (words("Cores"), value("96"), value("16")),
    )
    html = body(document("T", [Table("", columns, rows, beside=True)]))
    assert '<figure class="table beside">' in html
    assert re.findall(r'<th data-unit="(.*?)" scope="row">(.*?)</th>', html) == [("mm", "Depth")]
    assert "data-unit" not in body(document("T", [Table("", columns, rows)]))


def test_columns_of_few_letters_are_told_to_phones() -> None:
    columns = (Column("Part", header=True), *map(Column, ("Inlet", "Goes into", "Status")))
    rows = (
        (words("A"), words("C14"), words("SLOT 1"), words("active")),
        (words("B"), words("-"), words("SLOT 1, SLOT 2 and SLOT 3"), words("active")),
    )
    html = body(document("T", [Table("", columns, rows)]))
    assert html.count('<td class="brief" data-title="Inlet">') == 2
    assert html.count('<td data-title="Goes into">') == 2


def test_a_column_without_a_title_has_no_empty_header() -> None:
    html = body(document("T", [Table("", (Column(""), Column("B")), ((words("1"), words("2")),))]))
    assert "<thead><tr><td></td><th" in html
    assert "<tr><td>1</td>" in html


def test_a_picture_is_printed_as_drawn_and_said_in_words() -> None:
    html = body(document("T", [Figure("Lanes", drawing(9, 9), "CPU1 < 16\nit ends", "lanes")]))
    assert (
        '<figure class="picture" id="lanes"><figcaption>Lanes</figcaption>\n'
        '<div class="drawing scroll" role="region" aria-label="Lanes" tabindex="0">'
        '<svg xmlns="http://www.w3.org/2000/svg" width="9pt" height="9pt"/></div>\n'
    ) in html
    assert "<p>CPU1 &lt; 16</p>\n<p>it ends</p>\n</details>" in html


def hrefs(target: str, found: str | None = None) -> list[str | None]:
    made = document("T", [Paragraph(link("x", target))])
    return [each["href"] for each in Seen(body(made, lambda _: found)).attributes("a")]


def test_a_reference_leads_where_the_caller_says_or_nowhere() -> None:
    assert hrefs("part:riser-a", "../parts/riser-a.html") == ["../parts/riser-a.html"]
    assert hrefs("part:riser-a", None) == []


def test_web_addresses_and_anchors_lead_there_whatever_the_caller_says() -> None:
    for target in ("https://example.org/?a=1&b=2", "mailto:a@example.org", "#power"):
        assert hrefs(target) == [target]


def test_no_link_leads_to_a_script_or_another_host_in_disguise() -> None:
    for target in TRAPS:
        assert hrefs(target) == []
        assert hrefs("part:x", target) == []


@given(st.text(max_size=20))
def test_a_link_has_an_allowed_scheme_or_none(target: str) -> None:
    for href in hrefs(target, target):
        assert re.match(r"(https?|mailto|HTTPS?|MAILTO):|#|[^:/?#]*([/?#]|$)", str(href))


def test_a_link_does_not_stand_within_a_link() -> None:
    outer = Hyperlink((Text("a "), *link("b", "#b")), "#a")
    assert Seen(body(document("T", [Paragraph((outer,))]))).attributes("a") == [{"href": "#a"}]


def test_controls_and_lone_surrogates_do_not_reach_the_file() -> None:
    html = page(document("a\x00\x1b\ud800b", [paragraph("\ufffe\x85c")], meta=(("\udfff", "d"),)))
    assert b"<h1>ab</h1>" in html
    assert "<p>c</p>" in html.decode()


def test_rows_have_the_anchors_that_a_document_leads_to():
    rows = ((words("a"),), (words("b"),))
    table = Table("", (Column("Name"),), rows, anchors=("row-a", ""))
    html = body(Document("D", (Heading(2, words("Rows"), "rows"), table)))
    assert '<tr id="row-a"><td' in html
    assert '<tr><td data-title="Name">b' in html
    # under a heading a table without a title has its name
    assert 'aria-labelledby="rows"' in html


def test_anchors_are_as_many_as_rows():
    with pytest.raises(ValueError, match="1 anchors for 2 rows"):
        Table("", (Column("Name"),), ((words("a"),), (words("b"),)), anchors=("row-a",))
