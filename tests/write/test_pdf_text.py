"""What is read on paper is found in the file: two readers of PDF agree on every code and value."""

import io
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain, product

import pypdfium2
import pytest
from pypdf import PdfReader

from specgen.document.outline import document
from specgen.document.shelf import templates_of
from specgen.document.tree import (
    Block,
    Caution,
    Document,
    FactList,
    Figure,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Literal,
    Paragraph,
    Quote,
    Table,
    TermList,
    Text,
    Value,
    paragraph,
)
from specgen.document.tree_walks import leaves
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import Survey, compose
from specgen.write import pdf
from specgen.write.typst_text import LONG_DATA
from specgen.write.writer_options import Options, options_of
from tests.timing import first

WRITTEN = (
    ("boathouse-archive", "sheet"),
    ("boathouse-archive", "engineering"),
    ("capstan-forecast", "parts-list"),
    ("lantern-office", "review"),
    ("pocket-lamp-room", "information"),
    ("lantern-exchange", "site-preparation"),
    ("beacon-lookout", "presenters-brief"),
    ("pocket-radio-hut", "guide"),
)
JAPANESE = re.compile("[\u3000-\u30ff\u4e00-\u9fff\uff00-\uff60]")
CODE = re.compile(r"[A-Z0-9]+(?:-[A-Z0-9]+)+")


def by_pypdf(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)


def by_pdfium(data: bytes) -> str:
    read = pypdfium2.PdfDocument(data)
    text = "\n".join(page.get_textpage().get_text_range() for page in read)
    return text.replace("\ufffe", "-")  # a hyphen at the end of a line, as PDFium says it


READERS = {"pypdf": by_pypdf, "pdfium": by_pdfium}


def spaced(text: str) -> str:
    """Lines joined: a phrase may go over the end of one."""
    return " ".join(text.split())


def bare(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("reader", READERS)
def test_a_link_to_another_host_has_a_sign_that_is_no_text(reader: str) -> None:
    """As on the site: shown beside its words, and nothing that a search would trip over."""

    def made(target: str) -> bytes:
        link = Hyperlink((Text("the 12.5 W register"),), target)
        end = Text(", kept since 2026.")
        return pdf.page(document("x", [Paragraph((Text("See "), link, end))]), Options())

    away, mail = made("https://example.org"), made("mailto:a@example.org")
    said = "See the 12.5 W register, kept since 2026."
    assert said in spaced(READERS[reader](away))
    assert said in spaced(READERS[reader](mail))
    assert signs(away) > signs(mail)


def signs(data: bytes) -> int:
    """The strokes on the first page that are no letters."""
    page = pypdfium2.PdfDocument(data)[0]
    return sum(1 for each in page.get_objects() if each.type == pypdfium2.raw.FPDF_PAGEOBJ_PATH)


def inlines(blocks: Iterable[Block]) -> Iterator[Inline]:
    for block in blocks:
        match block:
            case Heading(children=children) | Paragraph(children):
                yield from leaves(children)
            case Table(rows=rows, note=note):
                for cell in (*(cell for row in rows for cell in row), note):
                    yield from leaves(cell)
            case FactList(entries=entries):
                for _, cell in entries:
                    yield from leaves(cell)
            case Listing(items):
                for item in items:
                    yield from inlines(item)
            case Caution(children=children) | Quote(children=children):
                yield from inlines(children)
            case TermList(entries):
                for term, meanings in entries:
                    yield from leaves(term)
                    yield from inlines(chain(*meanings))
            case _:
                assert not isinstance(block, Figure) or block.picture


def unfound(made: Document, text: str, numbers: Iterable[str]) -> list[str]:
    """What stands in the document and is not found in the text, a value as often as it stands."""
    lines, joined = text, spaced(text)
    hyphened, crowded = joined.replace("- ", "-"), bare(text)
    missing = []
    values: Counter[str] = Counter()
    for inline in inlines(made.blocks):
        match inline:
            case Literal(code) if len(code) <= LONG_DATA:
                missing += [] if code in lines else [code]
            case Value(number, unit):
                said = spaced(f"{number} {unit}")
                values[said] += 1
            case _:
                missing += [each for each in CODE.findall(str(inline)) if each not in lines]
    for said, count in values.items():
        found = max(joined.count(said), hyphened.count(said.replace("- ", "-")))
        # lines of Japanese end between any two signs, without a blank
        found = max(found, crowded.count(bare(said)) if JAPANESE.search(said) else 0)
        missing += [said] if found < count else []
    shown = set(CODE.findall(str(made.blocks)))
    missing += [each for each in numbers if each in shown and each not in lines]
    return missing


def marks(text: str) -> set[str]:
    """Letters that nobody sees."""
    return {
        f"U+{ord(each):04X}"
        for each in text.replace("\r", "")
        if each != "\n" and (unicodedata.category(each) in ("Cf", "Cc", "Co") or each == "\u00ad")
    }


MADE: dict[tuple[str, str, str], tuple[Document, bytes]] = {}
"""Documents of the demo, each made and compiled once."""


def made_of(demo: Survey, build: str, name: str, language: str) -> tuple[Document, bytes]:
    of = build, name, language
    if of not in MADE:
        MADE[of] = _made(demo, *of)
    return MADE[of]


def _made(demo: Survey, build: str, name: str, language: str) -> tuple[Document, bytes]:
    case = demo.cases[build]
    templates = templates_of(demo.root, language)
    made, _ = compose(name, templates, case, LayoutEngine(), nowhere)
    assert made is not None
    return made, pdf.page(made, options_of(case.definitions, case.build))


# Each language, and each document in one of them, every time.
IN_LANGUAGES = sorted(
    product(range(len(WRITTEN)), ("en", "de", "ja")),
    key=lambda of: of[1] != ("en", "de", "ja")[of[0] % 3],
)


@pytest.mark.parametrize("of", first(len(WRITTEN), IN_LANGUAGES), ids=str)
def test_every_code_and_value_is_found(demo: Survey, of: tuple[int, str]):
    _all_found(demo, *WRITTEN[of[0]], of[1])


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", "de", "ja"])
def test_every_code_and_value_of_every_sheet_is_found(demo: Survey, language: str):
    for build, case in demo.cases.items():
        if case.sound:
            _all_found(demo, build, "sheet", language)


def _all_found(demo: Survey, build: str, name: str, language: str) -> None:
    made, data = made_of(demo, build, name, language)
    numbers = {part.number for part in demo.cases[build].definitions.parts.values() if part.number}
    for reader, read in READERS.items():
        text = read(data)
        assert unfound(made, text, numbers) == [], reader
        assert marks(text) == set(), reader


def test_the_check_can_fail():
    made = document("x", [Paragraph((Literal("QW-1"), Value("7", "W")))])
    assert unfound(made, "QW-\u200b1 and 7\nW", ()) == ["QW-1"]
    assert unfound(made, "QW-1 and 7W", ()) == ["7 W"]
    assert marks("a\u200bb\u00adc") == {"U+200B", "U+00AD"}


def test_marks_that_an_author_wrote_are_left_out():
    made = document("x", [paragraph("QW\u200b-36\u00ad1-11\u2060")])
    for read in READERS.values():
        assert "QW-361-11" in read(pdf.page(made))


def test_titles_differ_and_number_and_revision_are_properties(demo: Survey):
    titles = set()
    for name in ("sheet", "engineering", "parts-list", "review", "information"):
        reader = PdfReader(io.BytesIO(made_of(demo, "boathouse-archive", name, "en")[1]))
        assert reader.metadata is not None
        titles.add(reader.metadata.title)
        build = demo.cases["boathouse-archive"].build
        assert build is not None
        assert f" {build.number} " in f"{reader.metadata.subject} "
        assert f"Revision {build.revision}" in str(reader.metadata.subject)
    assert len(titles) == 5
    assert PdfReader(io.BytesIO(pdf.page(document("x", []), Options()))).metadata.title == "x"
