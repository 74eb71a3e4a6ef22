"""The formats that documents are written in, each in a line.

They stand this low because `downloads:` of a project names them too. The module of `specgen.write`
that writes a format is imported when something is written in it.
"""

from collections.abc import Mapping
from typing import Final

from specgen.frozen import frozen


@frozen
class Format:
    """A format by its own `name`, and what it is for.

    `module` of `specgen.write` has `page(document, options) -> bytes`. What is `binary` is no text
    for a terminal.
    """

    name: str
    about: str
    module: str
    binary: bool = False


FORMATS: Final[Mapping[str, Format]] = {
    "html": Format("HTML", "one file that holds all it needs", "html"),
    "md": Format("Markdown", "for a review line by line", "markdown"),
    "pdf": Format("PDF", "to print and to keep", "pdf", binary=True),
}
"""Every format by the word that asks for it, which ends the names of files too."""
