"""Source of Typst as PDF: tagged for everybody to read, to be kept, the same bytes each time.

Held to PDF/UA-1 (ISO 14289-1) and, where it has a date, to PDF/A-2a (ISO 19005-2) by the compiler,
which refuses what breaks either.
"""

import datetime
from functools import lru_cache
from typing import Any, Final

from specgen.document.tree import Document
from specgen.drawings import typesetter
from specgen.write import typst as source_writer
from specgen.write.typst_text import lacking
from specgen.write.writer_options import Options

Standards = list[Any]  # of words that the stubs of the wheel list
FOR_ALL: Final[Standards] = ["ua-1"]
TO_KEEP: Final[Standards] = ["ua-1", "a-2a"]
"""PDF/A asks for a date, and no clock may stand in for one."""


def page(document: Document, options: Options | None = None) -> bytes:
    """The document as a PDF. Raises RuntimeError where the source cannot be set: our bug."""
    options = options or Options()
    return compiled(source_writer.source(document, options), options.date)


def compiled(source: str, date: str = "") -> bytes:
    """A source that calls `document.typ` as a PDF, dated `date` (ISO 8601, "" for none).

    Raises RuntimeError as `typesetter.compiled` does.
    """
    seconds = _seconds(date)
    return typesetter.compiled(
        source,
        "pdf",
        pdf_standards=FOR_ALL if seconds is None else TO_KEEP,
        timestamp=seconds or 0,
    )


def spelled_out(document: Document) -> tuple[str, ...]:
    """The letters of the document that no font has, which are printed as `[U+1F600]`."""
    return lacking(source_writer.texts(document))


@lru_cache(256)
def _seconds(date: str) -> int | None:
    """Since 1970, at midnight UTC."""
    on = source_writer.day(date)
    return None if on is None else int(datetime.datetime(*on, tzinfo=datetime.UTC).timestamp())
