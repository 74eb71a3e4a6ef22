"""Source of Typst as PDF: tagged for everybody to read, to be kept, the same bytes each time.

Held to PDF/UA-1 (ISO 14289-1) and, where it has a date, to PDF/A-2a (ISO 19005-2) by the compiler,
which refuses what breaks either. Only the shipped fonts and those in the wheel are seen, and
nothing but the folder of the style; no package is ever fetched.
"""

import datetime
import os
import threading
from functools import lru_cache
from typing import Any, Final

import typst

from specgen.document import Document
from specgen.shipped import print_folder
from specgen.write import typst as source_writer
from specgen.write.options import Options
from specgen.write.typst_text import lacking

Standards = list[Any]  # of words that the stubs of the wheel list
FOR_ALL: Final[Standards] = ["ua-1"]
TO_KEEP: Final[Standards] = ["ua-1", "a-2a"]
"""PDF/A asks for a date, and no clock may stand in for one."""


class _Held(threading.local):
    compiler: typst.Compiler | None = None


_held = _Held()
_compiled_in: Final[set[int]] = set()
"""The process that has compiled something. In a fork of it the compiler would wait for ever."""


def has_compiled() -> bool:
    """Whether a fork of this process could make no PDF."""
    return bool(_compiled_in)


def page(document: Document, options: Options | None = None) -> bytes:
    """The document as a PDF. Raises RuntimeError where the source cannot be set: our bug."""
    options = options or Options()
    return compiled(source_writer.source(document, options), options.date)


def compiled(source: str, date: str = "") -> bytes:
    """A source that calls `document.typ` as a PDF, dated `date` (ISO 8601, "" for none).

    One compiler a thread is kept, since it holds the fonts. Raises RuntimeError in a process that
    was forked from one that had compiled, and where the source cannot be set.
    """
    here = os.getpid()
    if _compiled_in - {here}:
        raise RuntimeError("a process forked after a PDF was made cannot make one: spawn it")
    _compiled_in.add(here)
    if _held.compiler is None:
        folder = print_folder()
        _held.compiler = typst.Compiler(
            root=folder, font_paths=[folder / "fonts"], ignore_system_fonts=True
        )
    seconds = _seconds(date)
    made = _held.compiler.compile(
        input=source.encode(),
        format="pdf",
        pdf_standards=FOR_ALL if seconds is None else TO_KEEP,
        timestamp=seconds or 0,
    )
    assert isinstance(made, bytes)
    return made


def spelled_out(document: Document) -> tuple[str, ...]:
    """The letters of the document that no font has, which are printed as `[U+1F600]`."""
    return lacking(source_writer.texts(document))


@lru_cache(256)
def _seconds(date: str) -> int | None:
    """Since 1970, at midnight UTC."""
    on = source_writer.day(date)
    return None if on is None else int(datetime.datetime(*on, tzinfo=datetime.UTC).timestamp())
