"""Writers: the document tree in the formats that people and programs read."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from specgen.document import Document
from specgen.write import html, markdown
from specgen.write.options import Options, Resolve, nowhere

__all__ = ["WRITERS", "Options", "Resolve", "Writer", "nowhere"]


@dataclass(frozen=True, slots=True)
class Writer:
    """A format: `write` makes the bytes of one file; `suffix` ends its name; `about` in words."""

    suffix: str
    about: str
    write: Callable[[Document, Options], bytes]


WRITERS: Final[Mapping[str, Writer]] = MappingProxyType(
    {
        "html": Writer(".html", "one HTML file that holds all it needs", html.page),
        "md": Writer(".md", "Markdown for a review line by line", markdown.page),
    }
)
"""Every writer by its name."""
