"""Paper of the demo's documents: pages, how much of them is blank, the smallest type.

    python -m tests.bench.paper                 all spec sheets
    python -m tests.bench.paper guide de        all guides, in German

Blank is what lies below the last ink of a page's body, as a share of the body.
"""

import io
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PIL import Image
from pypdf import PdfReader

from specgen.document.tree import Document
from specgen.drawings.typesetter import compiler
from specgen.write import pdf
from specgen.write.typst import source
from specgen.write.writer_options import Options

TOP, BOTTOM = 44.0, 40.0
"""Margins of `site/print/document.typ`, in points: what stands in them is no body."""
PPI = 36.0


@dataclass(frozen=True, slots=True)
class Paper:
    """What a document is on paper."""

    title: str
    blank: tuple[float, ...]
    """Of each page the share of its body below the last ink."""
    smallest: float
    """Letters, in points, those of drawings too."""

    @property
    def pages(self) -> int:
        return len(self.blank)


def paper_of(document: Document) -> Paper:
    """The document set for A4."""
    options = Options(publisher="P", date="2026-06-12")
    made = PdfReader(io.BytesIO(pdf.page(document, options)))
    return Paper(
        str(document.title),
        tuple(map(_blank, _pictures(document, options))),
        min(sizes(made)),
    )


def sizes(reader: PdfReader) -> Iterator[float]:
    """The size of every piece of text on every page, in points."""
    found: list[float] = []

    def see(
        text: str, at: Sequence[float], line: Sequence[float], _font: object, size: float
    ) -> None:
        if text.strip():
            found.append(size * abs(line[3] or line[1]) * abs(at[3] or at[1]))

    for page in reader.pages:
        page.extract_text(visitor_text=see)
    yield from found


def _pictures(document: Document, options: Options) -> Iterator[Image.Image]:
    made = compiler().compile(source(document, options).encode(), format="png", ppi=PPI)
    for one in made if isinstance(made, list) else [made]:
        yield Image.open(io.BytesIO(one)).convert("L")


def _blank(page: Image.Image) -> float:
    top, bottom = round(TOP * PPI / 72), page.height - round(BOTTOM * PPI / 72)
    body = page.crop((0, top, page.width, bottom)).point(lambda grey: 255 if grey < 200 else 0)
    inked = body.getbbox()
    return 1 - (inked[3] if inked else 0) / body.height


def main(name: str = "sheet", language: str = "en") -> str:
    """Lines for a person."""
    from tests.bench.prints import demo_documents

    all_of = [paper_of(each) for each in demo_documents(name, language)]
    lines = [
        f"{each.title:32} {each.pages} pages  blank {' '.join(f'{of:4.0%}' for of in each.blank)}"
        f"  smallest {each.smallest:.2f} pt"
        for each in all_of
    ]
    pages = [blank for each in all_of for blank in each.blank]
    lines.append(
        f"{len(pages)} pages of {len(all_of)} documents, {sum(pages) / len(pages):.1%} blank, "
        f"smallest type {min(each.smallest for each in all_of):.2f} pt"
    )
    return "\n".join(lines)


if __name__ == "__main__":
    print(main(*sys.argv[1:]))
