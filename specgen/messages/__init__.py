"""What is to be said, as values; words are chosen at the end, for a language."""

from specgen.messages.language import ENGLISH, SOURCE, Around, Catalogue, Language, base_of
from specgen.messages.message import (
    NOTHING,
    SAID,
    Capital,
    Listed,
    Message,
    Within,
    Words,
    listed,
    say,
    say_as,
    say_many,
)

__all__ = [
    "ENGLISH",
    "NOTHING",
    "SAID",
    "SOURCE",
    "Around",
    "Capital",
    "Catalogue",
    "Language",
    "Listed",
    "Message",
    "Within",
    "Words",
    "base_of",
    "listed",
    "say",
    "say_as",
    "say_many",
]
