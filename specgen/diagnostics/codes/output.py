"""SG4xx: output."""

from typing import Final

from specgen.diagnostics.codes.weights import error, note, warning

TEMPLATE_ERROR: Final = error("SG401", "template that cannot be filled in")
"""The template uses a word or block that is not there, or breaks its own syntax. The document it
would have filled is not written, so that no page appears half done."""
DRAWING_FAILED: Final = error("SG402", "drawing that could not be made")
"""The figure could not be laid out. The page is written without it, and what the picture shows
stands there in words only."""
LETTER_MISSING: Final = warning("SG403", "letter that no font for print has")
"""A PDF carries its own fonts: Latin, Greek, Cyrillic, and the common characters of Japanese. A
letter outside them is printed as its number, such as [U+1F600], so that the document is made and
nobody misses that something stood there."""
TEXT_UNTRANSLATED: Final = note("SG404", "text without a translation")
"""A document in another language than English says its headings, labels and sentences by
messages of a catalogue. What has no message there stands in English, marked as English for
whoever has the page read aloud. A project's own templates bring their messages in
`translations/`."""
NO_SOLVER: Final = warning("SG405", "question that no solver is there to answer")
"""Limits, and doubts about rules, are proved by OR-Tools, which cannot be imported here. What
was asked of it is not known; everything else was checked as usual."""
