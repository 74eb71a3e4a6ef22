"""Paper of the demo's documents: pages, how much of them is blank, the smallest type.

    python -m tests.bench.paper                 all spec sheets
    python -m tests.bench.paper guide de        all guides, in German

Blank is what lies below the last ink of a page's body, as a share of the body.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass

from PIL import Image
from pypdfium2 import PdfDocument, PdfPage, raw

from specgen.document.tree import Document
from specgen.write import pdf
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
    printed = PdfDocument(pdf.page(document, Options(publisher="P", date="2026-06-12")))
    return Paper(
        str(document.title),
        tuple(_blank(each.render(scale=PPI / 72).to_pil().convert("L")) for each in printed),
        min(size for each in printed for size in _sizes(each)),
    )


def _sizes(page: PdfPage) -> Iterator[float]:
    """The size of every letter on a page, in points."""
    text, matrix = page.get_textpage(), raw.FS_MATRIX()
    for at in range(raw.FPDFText_CountChars(text)):
        if not chr(raw.FPDFText_GetUnicode(text, at)).isspace():
            raw.FPDFText_GetMatrix(text, at, matrix)
            yield raw.FPDFText_GetFontSize(text, at) * abs(matrix.d or matrix.b)


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
