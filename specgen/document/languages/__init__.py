"""Documents in other languages than English: a pass over finished trees, and its catalogues."""

from specgen.document.languages.catalogue import (
    SOURCE,
    Catalogue,
    base_of,
    catalogue,
    languages,
)
from specgen.document.languages.given import NOTHING_GIVEN, Given, given_of, words_in
from specgen.document.languages.translate import Translator, translated

__all__ = [
    "NOTHING_GIVEN",
    "SOURCE",
    "Catalogue",
    "Given",
    "Translator",
    "base_of",
    "catalogue",
    "given_of",
    "languages",
    "translated",
    "words_in",
]
