"""PDFs of spec sheets in a batch, and the same sheets as HTML through WeasyPrint where it is there.

WeasyPrint is no dependency: it needs libraries of the system. Install it beside, and it is tried.
"""

import importlib.util
import io
import statistics
import time
from collections.abc import Callable, Sequence
from typing import Any

from pypdf import PdfReader

from specgen.document.shelf import templates_of
from specgen.document.tree import Document
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import compose, survey
from specgen.shipped import document_style
from specgen.write import html, pdf
from specgen.write.writer_options import Options
from tests.bench.projects import DEMO

TARGET = 0.150
"""Seconds for a sheet of four pages in a batch."""
FEW = 6  # sheets are enough for what takes long
TIMES = 8
"""At least so many times as fast as WeasyPrint."""


def prints() -> str:
    """Lines for a person: milliseconds a sheet, and the ratio."""
    sheets = demo_documents()
    options = Options(
        style=document_style().read_text(encoding="utf-8"), publisher="P", date="2026-06-12"
    )
    pages = [len(PdfReader(io.BytesIO(pdf.page(each, options))).pages) for each in sheets]
    long = [each for each, number in zip(sheets, pages, strict=True) if number >= 4] or sheets
    ours = each_takes(lambda sheet: pdf.page(sheet, options), long)
    lines = [
        f"PDF of a sheet of {max(pages)} pages, {len(long)} in a batch: {ours * 1000:.0f} ms each "
        f"(under {TARGET * 1000:.0f} ms)"
    ]
    if importlib.util.find_spec("weasyprint") is None:
        lines.append("WeasyPrint is not installed, so there is no ratio")
        return "\n".join(lines)
    theirs = each_takes(through_weasyprint(options), long[:FEW])
    lines.append(
        f"the same through WeasyPrint: {theirs * 1000:.0f} ms each, {theirs / ours:.1f} times as "
        f"long (at least {TIMES})"
    )
    return "\n".join(lines)


def demo_documents(name: str = "sheet", language: str = "en") -> list[Document]:
    """One document of all builds of the demo, with their drawings; the guide: of all platforms."""
    templates = templates_of(DEMO, language)
    engine = LayoutEngine()
    surveyed = survey(DEMO)
    made = []
    for case in surveyed.cases.values():
        if case.sound:
            document, _ = compose(name, templates, case, engine, nowhere)
            if document is not None:
                made.append(document)
    return made


def each_takes(make: Callable[[Document], Any], sheets: Sequence[Document]) -> float:
    """Median seconds of the processor, each sheet made once: nothing was made before.

    The processor's, since others may keep it busy at the same time.
    """
    taken = []
    for number, sheet in enumerate(sheets):
        # Another title, so that no answer to an earlier question fits.
        fresh = Document(f"{sheet.title} {number}", sheet.blocks, sheet.subtitle, meta=sheet.meta)
        began = time.process_time()
        make(fresh)
        taken.append(time.process_time() - began)
    return statistics.median(taken)


def through_weasyprint(options: Options) -> Callable[[Document], bytes]:
    """HTML of the same tree with our style sheet for print, tagged as well."""
    weasyprint = importlib.import_module("weasyprint")

    def make(sheet: Document) -> bytes:
        page = html.page(sheet, options).decode()
        made: bytes = weasyprint.HTML(string=page).write_pdf(pdf_variant="pdf/ua-1")
        return made

    return make


if __name__ == "__main__":
    print(prints())
