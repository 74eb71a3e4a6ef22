"""Writers: the document tree in the formats that people and programs read."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from specgen.document.tree import Document
from specgen.frozen import frozen
from specgen.write import html, markdown, pdf
from specgen.write.options import Options, Resolve, nowhere

__all__ = ["WRITERS", "Options", "Resolve", "Writer", "nowhere"]


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


WRITERS: Final[Mapping[str, Writer]] = MappingProxyType(
    {
        "html": Writer(".html", "one HTML file that holds all it needs", html.page),
        "md": Writer(".md", "Markdown for a review line by line", markdown.page),
        "pdf": Writer(
            ".pdf", "PDF to print and to keep", pdf.page, binary=True, spelled_out=pdf.spelled_out
        ),
    }
)
"""Every writer by its name."""
