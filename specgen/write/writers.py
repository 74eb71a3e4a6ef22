"""The formats of documents, by name."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from specgen.document.tree import Document
from specgen.frozen import frozen
from specgen.write import html, markdown
from specgen.write.writer_options import Options


@frozen
class Writer:
    """A format: `write` makes the bytes of one file; `suffix` ends its name; `about` in words.

    What is `binary` is no text for a terminal. `spelled_out` gives the letters of a document that
    the format has no shape for, and writes by their numbers.
    """

    suffix: str
    about: str
    write: Callable[[Document, Options], bytes]
    binary: bool = False
    spelled_out: Callable[[Document], tuple[str, ...]] = lambda _: ()


def _pdf(document: Document, options: Options) -> bytes:
    from specgen.write import pdf  # with the typesetter, which the other formats do without

    return pdf.page(document, options)


def _spelled_out(document: Document) -> tuple[str, ...]:
    from specgen.write import pdf

    return pdf.spelled_out(document)


WRITERS: Final[Mapping[str, Writer]] = MappingProxyType(
    {
        "html": Writer(".html", "one HTML file that holds all it needs", html.page),
        "md": Writer(".md", "Markdown for a review line by line", markdown.page),
        "pdf": Writer(".pdf", "PDF to print and to keep", _pdf, True, _spelled_out),
    }
)
"""Every writer by its name."""
