"""Prose written by hand: references to what the definitions say, and checks that it still holds."""

from specgen.document.prose.checks import check_prose
from specgen.document.prose.maker import blocks_of_prose, notice, prose_maker
from specgen.document.prose.passages import Passage, anchors_in_html, passages
from specgen.document.prose.printing import Printed, printed
from specgen.document.prose.subjects import Subjects
from specgen.document.prose.texts import PAGES, Prose, language_of, parsed, read_texts

__all__ = [
    "PAGES",
    "Passage",
    "Printed",
    "Prose",
    "Subjects",
    "anchors_in_html",
    "blocks_of_prose",
    "check_prose",
    "language_of",
    "notice",
    "parsed",
    "passages",
    "printed",
    "prose_maker",
    "read_texts",
]
