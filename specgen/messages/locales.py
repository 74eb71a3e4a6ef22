"""Customs of languages. Source: Unicode CLDR, as Babel carries it."""

from functools import lru_cache

from babel import Locale, UnknownLocaleError

from specgen.messages.message import SOURCE


@lru_cache(64)
def locale_of(tag: str) -> Locale:
    """The customs of a language; those of the source for a tag that nobody knows."""
    try:
        return Locale.parse(tag, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(SOURCE)
