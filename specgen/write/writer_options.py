"""What every writer is told beside the document, and the fixed words that writers add."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.document.link_targets import REFERENCES, WEB, safe_target, scheme
from specgen.document.tree import Caution, Document, Signal
from specgen.frozen import frozen
from specgen.messages import Message, Words, say_as
from specgen.messages.catalogue import language_of
from specgen.model import Build, Definitions, Paper
from specgen.shipped import document_style

Resolve = Callable[[str], str | None]
"""The address for a reference (`part:tall-riser`) or a relative path, None for none."""


def nowhere(target: str) -> None:  # noqa: ARG001
    """No reference leads anywhere: right for a document that travels alone."""
    return


PICTURES: Final = "pictures/"
"""The folder of pictures' files, beside a document and in a site."""


@frozen
class Options:
    """`style` is the style sheet to embed, where the format has one.

    What is printed on `paper` bears the `publisher` and the `date` (ISO 8601, "" for none) in its
    properties: a file's date is its document's, never the clock's. A format that holds no pictures
    refers to files in the folder `pictures`, seen from the document.
    """

    style: str = ""
    resolve: Resolve = nowhere
    paper: Paper = "a4"
    publisher: str = ""
    date: str = ""
    pictures: str = PICTURES


def options_of(
    definitions: Definitions,
    build: Build | None = None,
    paper: Paper | None = None,
    pictures: str = PICTURES,
) -> Options:
    """What a document that travels alone is dated and signed with: the build's day, else the
    project's. Without `paper` it is set for that of the project."""
    project = definitions.project
    day = (build.date if build else None) or project.date
    style = document_style().read_text(encoding="utf-8")
    date = day.isoformat() if day else ""
    name = project.publisher.name
    paper = paper or project.paper
    return Options(style, paper=paper, publisher=name, date=date, pictures=pictures)


CONTEXT: Final = "writer"
"""The context of what writers add by themselves."""
FACT: Final = say_as("writer", "Fact")
VALUE: Final = say_as("writer", "Value")
PICTURE: Final = say_as("writer", "Figure")
TABLE: Final = say_as("writer", "Table")
FOLIO: Final = say_as("writer", "{page} of {pages}", page="{page}", pages="{pages}")
TICKS: Final = ("\N{BALLOT BOX}", "\N{BALLOT BOX WITH CHECK}")
"""A box that is open, and one that is ticked."""
IN_WORDS: Final = say_as("writer", "The figure in words")


def worded(words: Words, tag: str) -> str:
    """Words of the writers in the language of a document."""
    return language_of(tag).text(words)


def named(document: Document) -> str:
    """What a file is called among others, in its properties: its title, its kind, its mark."""
    words = (document.title, document.subtitle, document.mark)
    return " \N{EN DASH} ".join(filter(None, map(str, words)))


SIGNALS: Final[Mapping[Signal, tuple[Message, Message]]] = {
    "warning": (say_as("writer", "Warning"), say_as("writer", "Warning: {subject}")),
    "caution": (say_as("writer", "Caution"), say_as("writer", "Caution: {subject}")),
    "notice": (say_as("writer", "Notice"), say_as("writer", "Notice: {subject}")),
    "note": (say_as("writer", "Note"), say_as("writer", "Note: {subject}")),
}


def caution_title(caution: Caution, tag: str) -> str:
    """What stands above a caution: the signal word, and of what."""
    alone, of = SIGNALS[caution.signal]
    return worded(of.filled(subject=caution.subject) if caution.subject else alone, tag)


def address(target: str, resolve: Resolve) -> str | None:
    """Where a link leads, None where it is to be printed as its words only.

    Web addresses and anchors stand as they are; references and relative paths are resolved. What
    `resolve` gives is judged like everything else, and a reference is no address.
    """
    if not target.startswith("#") and scheme(target) not in WEB:
        target = resolve(target) or ""
    return target if safe_target(target) and scheme(target) not in REFERENCES else None
