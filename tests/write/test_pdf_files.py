"""What a PDF promises: everybody can read it, it can be kept, and it is the same each time."""

import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject
from written_trees import awkward_document, documents, drawing

from specgen.document.outline import document
from specgen.document.tree import (
    Column,
    Document,
    FactList,
    Figure,
    Heading,
    Hyperlink,
    Listing,
    Paragraph,
    Table,
    Text,
    paragraph,
    value,
    words,
)
from specgen.drawings.picture import Element
from specgen.write import pdf
from specgen.write.writer_options import Options
from tests.timing import tries

DATED = Options(publisher="Quillmere Works", date="2026-06-12")
DRAWING = drawing(
    200,
    90,
    Element(
        "rect",
        {"class": "box box-processor", "x": "5", "y": "5", "width": "80", "height": "40"},
    ),
    Element("text", {"class": "label", "x": "10", "y": "20"}, ("CPU1 日本",)),
)


def long_document() -> Document:
    columns = (Column("Position", header=True), Column("Part"), Column("Draw", align="end"))
    rows = tuple(
        (words(f"SLOT {at}"), words("Network adapter"), value("12.5", "W")) for at in range(120)
    )
    leads = (
        Hyperlink(words("down"), "#parts"),
        Text(" "),
        Hyperlink(words("out"), "https://example.org/a?b=1&c=2"),
    )
    return document(
        "Lantern for a test",
        [
            Heading(2, words("Summary")),
            Paragraph(leads),
            FactList("Glance", (("Power", value("750", "W")), ("Mass", value("12", "kg")))),
            Heading(2, words("Parts")),
            Heading(3, words("What to order")),
            Table("All parts", columns, rows, anchor="parts", note=words("as declared")),
            Figure("Topology", DRAWING, "CPU1 stands alone.\nNothing is wired.", "topology"),
            paragraph("日本語の文も印刷される。"),
        ],
        subtitle="Spec sheet",
        meta=(("Publisher", "Quillmere Works"), ("Revision", "B")),
    )


@pytest.fixture(scope="module")
def made() -> bytes:
    return pdf.page(long_document(), DATED)


@pytest.fixture(scope="module")
def reader(made: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(made), strict=True)


def tags(node: Any) -> Iterator[DictionaryObject]:
    node = node.get_object()
    if isinstance(node, ArrayObject):
        for each in node:
            yield from tags(each)
    elif isinstance(node, DictionaryObject) and "/S" in node:
        yield node
        if "/K" in node:
            yield from tags(node["/K"])


@pytest.fixture(scope="module")
def tagged(reader: PdfReader) -> list[DictionaryObject]:
    return list(tags(reader.root_object["/StructTreeRoot"]["/K"]))


def test_it_is_made_for_everybody_and_to_be_kept(reader: PdfReader):
    root = reader.root_object
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    xmp = root["/Metadata"].get_object().get_data().decode()
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert "<pdfaid:part>2</pdfaid:part>" in xmp
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in xmp


def test_its_properties_come_from_the_document(reader: PdfReader):
    assert reader.metadata is not None
    assert reader.metadata.title == "Lantern for a test – Spec sheet"
    assert reader.metadata.author == "Quillmere Works"
    assert str(reader.metadata.creation_date).startswith("2026-06-12")


def test_tags_say_what_things_are(tagged: list[DictionaryObject]):
    sorts = {str(each["/S"]) for each in tagged}
    assert sorts >= {"/H1", "/H2", "/P", "/L", "/Link"}
    assert sorts >= {"/Table", "/Caption", "/THead", "/TH", "/TD"}
    assert len([each for each in tagged if each["/S"] == "/Table"]) == 1


def test_every_picture_says_itself_in_words(tagged: list[DictionaryObject]):
    values = [each for each in tagged if each["/S"] == "/Figure"]
    assert [each["/Alt"] for each in values] == ["CPU1 stands alone.\nNothing is wired."]


def test_headings_are_bookmarks(reader: PdfReader):
    def titles(items: Any) -> list[Any]:
        return [titles(each) if isinstance(each, list) else each.title for each in items]

    assert titles(reader.outline) == ["Summary", "Parts", ["What to order"]]


def test_steps_go_on_with_the_number_that_their_list_begins_with():
    lists = (Listing(((paragraph("Lift it."),),), first) for first in (None, 1, 7))
    made = pdf.page(document("Steps", [*lists]), DATED)
    text = PdfReader(io.BytesIO(made)).pages[0].extract_text()
    assert re.findall(r"(\S*) *Lift it", text) == ["–", "1.", "7."]


def test_links_lead_within_and_out(reader: PdfReader):
    links = [each.get_object() for each in reader.pages[0]["/Annots"]]
    out = [each["/A"]["/URI"] for each in links if "/URI" in each.get("/A", {})]
    assert out == ["https://example.org/a?b=1&c=2"]
    assert len(links) == 2


def test_pages_bear_their_number_and_their_document(reader: PdfReader):
    pages = [page.extract_text() for page in reader.pages]
    assert len(pages) > 2
    for number, page in enumerate(pages, start=1):
        assert f"{number} of {len(pages)}" in page
        assert "Lantern for a test" in page
        assert "Quillmere Works · Revision B" in page


def test_a_table_over_pages_repeats_its_head_and_splits_no_row(reader: PdfReader):
    pages = [page.extract_text() for page in reader.pages]
    with_rows = [page for page in pages if "Network adapter" in page]
    assert len(with_rows) > 1
    assert all("Position" in page for page in with_rows)
    assert "All parts" in with_rows[0]
    for page in with_rows:
        assert page.count("SLOT") == page.count("Network adapter")


def test_all_fonts_are_embedded(reader: PdfReader):
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]
            assert {"/FontFile2", "/FontFile3"} & set(inner.get_object())


def test_only_shipped_fonts_are_used(reader: PdfReader):
    names = {
        str(font.get_object()["/BaseFont"]).partition("+")[2]
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert all(name.startswith(("Arimo", "NotoSansJP", "Libertinus")) for name in names), names


def test_same_document_same_bytes(made: bytes):
    assert pdf.page(long_document(), DATED) == made


def test_same_bytes_in_another_process_and_folder(made: bytes, tmp_path: Path):
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from test_pdf_files import DATED, long_document\nfrom specgen.write import pdf\n"
        "sys.stdout.buffer.write(pdf.page(long_document(), DATED))"
    )
    folder = Path(__file__).parent
    env = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"}
    done = subprocess.run(
        [sys.executable, "-c", code, folder], cwd=tmp_path, env=env, capture_output=True, check=True
    )
    assert done.stdout == made


def test_without_a_date_it_is_still_for_everybody():
    reader = PdfReader(io.BytesIO(pdf.page(long_document())))
    xmp = reader.root_object["/Metadata"].get_object().get_data().decode()
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert "pdfaid" not in xmp


def test_letters_without_a_font_do_not_stop_it():
    blocks = [paragraph("ไทย 日本 \U000e0001"), paragraph("\x00\ufeff")]
    tree = document("😀 \ue000", blocks)
    text = PdfReader(io.BytesIO(pdf.page(tree, DATED))).pages[0].extract_text()
    assert "[U+1F600]" in text
    assert "日本" in text
    assert "😀" in pdf.spelled_out(tree)


def test_whatever_a_text_holds_stays_text():
    text = PdfReader(io.BytesIO(pdf.page(awkward_document(), DATED))).pages[0].extract_text()
    assert "<script>alert(1)</script> &amp; {{ x }} {% y %} `z` [q](w) \\ 日本" in text
    assert "#e $f$ @g" in text


@pytest.mark.parametrize("word", ["x" * 8_000, "日" * 2_000, "/-" * 1_000])
def test_a_word_without_end_ends(word: str):
    table = Table("T", (Column("a"), Column("b")), ((words(word), words("b")),))
    reader = PdfReader(io.BytesIO(pdf.page(document("x", [paragraph(word), table]), DATED)))
    found = sum(page.extract_text().count(word[0]) for page in reader.pages)
    assert found >= 2 * word.count(word[0])


@settings(max_examples=tries(60))
@given(documents)
def test_any_document_can_be_made(tree: Document):
    made = pdf.page(tree, DATED)
    assert len(PdfReader(io.BytesIO(made)).pages) >= 1


@pytest.mark.parametrize(("paper", "wide"), [("a4", 595), ("us-letter", 612)])
def test_the_paper_is_as_asked(paper: Any, wide: int):
    reader = PdfReader(io.BytesIO(pdf.page(long_document(), Options(paper=paper))))
    assert int(reader.pages[0].mediabox.width) == wide


def test_threads_have_a_compiler_each(made: bytes):
    with ThreadPoolExecutor(2) as pool:
        every = list(pool.map(lambda _: pdf.page(long_document(), DATED), range(4)))
    assert every == [made] * 4


def test_a_checker_of_its_standard_finds_nothing(made: bytes, tmp_path: Path):
    # It checks what a program can of ISO 14289-1; there is no full one among Python's packages.
    pdfua = pytest.importorskip("pdfua", reason="comes with specgen[dev]")
    (tmp_path / "made.pdf").write_bytes(made)
    assert pdfua.validate(str(tmp_path / "made.pdf")).findings == ()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
def test_a_fork_after_the_first_pdf_is_refused_rather_than_left_waiting(made: bytes):
    assert made
    child = os.fork()
    if not child:
        try:
            pdf.compiled("a")
        except RuntimeError:
            os._exit(7)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7


def test_a_picture_is_not_higher_than_a_page():
    tall = Figure("Tall", drawing(100, 6000), "words")
    assert len(PdfReader(io.BytesIO(pdf.page(document("x", [tall]), DATED))).pages) == 1
