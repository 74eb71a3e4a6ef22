"""Source of Typst as PDF: tagged for everybody to read, to be kept, the same bytes each time.

Held to PDF/UA-1 (ISO 14289-1) and, where it has a date, to PDF/A-2a (ISO 19005-2) by the compiler,
which refuses what breaks either.
"""

import datetime
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any, Final

from specgen.document.tree import (
    Block,
    Caution,
    Document,
    FactList,
    Figure,
    Table,
    Verbatim,
    plain_text,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import cells_of, within
from specgen.drawings import typesetter
from specgen.write import typst as source_writer
from specgen.write.carried import in_pdf
from specgen.write.typst_text import lacking
from specgen.write.writer_options import Options

Standards = list[Any]  # of words that the stubs of the wheel list
FOR_ALL: Final[Standards] = ["ua-1"]
TO_KEEP: Final[Standards] = ["ua-1", "a-2a"]
"""PDF/A asks for a date, and no clock may stand in for one."""


def page(document: Document, options: Options | None = None) -> bytes:
    """The document as a PDF. Raises RuntimeError where the source cannot be set: our bug."""
    options = options or Options()
    made = compiled(source_writer.source(document, options), options.date)
    return made if document.record is None else in_pdf(made, document.record)


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
    return lacking(texts(document))


def texts(document: Document) -> Iterator[str]:
    """Every text of the document that is printed, as it stands in the tree."""
    yield from map(str, (document.title, document.subtitle))
    for label, value in document.meta:
        yield from map(str, (label, value))
    yield from map(plain_text, cells_of(document.blocks))
    yield from _block_texts(document.blocks)


def _block_texts(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Table(title, columns):
                yield str(title)
                yield from (str(column.title) for column in columns)
            case FactList(title, entries):
                yield str(title)
                yield from (str(label) for label, _ in entries)
            case Figure(title, picture, text):
                yield from (str(title), text, *(picture.texts() if picture else ()))
            case Image(title, text, credit=credit):
                yield from (str(title), str(text), plain_text(credit))
            case Caution(subject):
                yield str(subject)
            case Verbatim(text):
                yield text
        for inner in within(block):
            yield from _block_texts(inner)


@lru_cache(256)
def _seconds(date: str) -> int | None:
    """Since 1970, at midnight UTC."""
    on = source_writer.day(date)
    return None if on is None else int(datetime.datetime(*on, tzinfo=datetime.UTC).timestamp())
