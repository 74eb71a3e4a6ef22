"""Pieces of HTML that documents and pages written by hand share: footnotes, boxes, warnings."""

from html import escape
from typing import Final

from specgen.document.tree import Caution
from specgen.messages import say_as
from specgen.write.writer_options import TICKS, caution_title, worded

_NOTE: Final = "note."
"""How the anchors of footnotes begin: no words become an anchor with a dot."""
_MARK: Final = "mark."
"""How those of their numbers in the text begin."""
_FOOTNOTE: Final = say_as("writer", "Footnote {number}", number="{number}")
_FOOTNOTES: Final = say_as("writer", "Footnotes")
_BACK: Final = say_as("writer", "Back to the text")
_DONE: Final = say_as("writer", "Done")
_OPEN: Final = say_as("writer", "Open")

NOTES_CLOSE: Final = "</ol>\n</section>\n"
CAUTION_CLOSE: Final = "</aside>\n"


def footnote_mark(number: int, tag: str, *, again: bool) -> str:
    """The number in the text; `again` where the text has come to the footnote before."""
    name = escape(worded(_FOOTNOTE.filled(number=str(number)), tag))
    place = "" if again else f' id="{_MARK}{number}"'
    return (
        f'<sup class="mark"><a{place} href="#{_NOTE}{number}" role="doc-noteref"'
        f' aria-label="{name}">{number}</a></sup>'
    )


def notes_open(tag: str) -> str:
    """Before the footnotes."""
    name = escape(worded(_FOOTNOTES, tag))
    return f'<section class="notes" role="doc-endnotes" aria-label="{name}">\n<ol>\n'


def note_open(number: int) -> str:
    """Before what a footnote says."""
    return f'<li id="{_NOTE}{number}">'


def way_back(number: int, tag: str) -> str:
    """The link from a footnote to its number in the text."""
    name = escape(worded(_BACK, tag))
    return (
        f'<a class="back" href="#{_MARK}{number}" role="doc-backlink"'
        f' aria-label="{name}">\u21a9\ufe0e</a>'
    )


def tick(done: bool, tag: str) -> str:
    """A box, and a blank behind it."""
    name = escape(worded(_DONE if done else _OPEN, tag))
    return f'<span class="tick" role="img" aria-label="{name}">{TICKS[done]}</span> '


def caution_open(caution: Caution, tag: str) -> str:
    """A warning up to its title."""
    title = escape(caution_title(caution, tag))
    return (
        f'<aside class="caution {caution.signal}-sign" role="note" aria-label="{title}">'
        f'<p class="caution-title">{title}</p>\n'
    )
