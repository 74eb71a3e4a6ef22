"""What every writer is told beside the document, and the fixed words that writers add."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final
from typing import Literal as OneOf

from specgen.document.languages import SOURCE, base_of, catalogue
from specgen.document.tree import REFERENCES, WEB, safe_target, scheme
from specgen.messages import Words
from specgen.model import Build, Definitions
from specgen.shipped import document_style

Resolve = Callable[[str], str | None]
"""The address for a reference (`part:tall-riser`) or a relative path, None for none."""


def nowhere(target: str) -> None:  # noqa: ARG001
    """No reference leads anywhere: right for a document that travels alone."""
    return


Paper = OneOf["a4", "us-letter"]


@dataclass(frozen=True, slots=True)
class Options:
    """`style` is the style sheet to embed, where the format has one.

    What is printed on `paper` bears the `publisher` and the `date` (ISO 8601, "" for none) in its
    properties: a file's date is its document's, never the clock's.
    """

    style: str = ""
    resolve: Resolve = nowhere
    paper: Paper = "a4"
    publisher: str = ""
    date: str = ""


def options_of(
    definitions: Definitions, build: Build | None = None, paper: Paper = "a4"
) -> Options:
    """What a document that travels alone is dated and signed with: the build's day, else the
    project's."""
    project = definitions.project
    day = (build.date if build else None) or project.date
    style = document_style().read_text(encoding="utf-8")
    date = day.isoformat() if day else ""
    return Options(style, paper=paper, publisher=project.publisher.name, date=date)


CAUTION: Final = "Caution"
CAUTION_OF: Final = "Caution: {1}"
FACT: Final = "Fact"
VALUE: Final = "Value"
PICTURE: Final = "Picture"
TABLE: Final = "Table"
FOLIO: Final = "{page} of {pages}"
IN_WORDS: Final = "The picture in words"


def worded(text: str, language: str) -> str:
    """A fixed word of the writers in the language of a document, as it is where it has none."""
    if base_of(language) == SOURCE:
        return text
    return catalogue(language).get(text, "writer") or text


def caution_title(subject: Words, language: str) -> str:
    """What stands above a caution: the word of warning, and of what."""
    if not subject:
        return worded(CAUTION, language)
    return worded(CAUTION_OF, language).replace("{1}", str(subject))


def address(target: str, resolve: Resolve) -> str | None:
    """Where a link leads, None where it is to be printed as its words only.

    Web addresses and anchors stand as they are; references and relative paths are resolved. What
    `resolve` gives is judged like everything else, and a reference is no address.
    """
    if not target.startswith("#") and scheme(target) not in WEB:
        target = resolve(target) or ""
    return target if safe_target(target) and scheme(target) not in REFERENCES else None
