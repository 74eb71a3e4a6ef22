"""Numbers and dates as a language writes them.

Digits, roundings and groups were settled by `quantity.printing`; only the signs between digits
change. Source of the signs and of the forms of dates: Unicode CLDR, as Babel carries it.
"""

import re
from datetime import date
from functools import lru_cache
from typing import Final

from babel.dates import format_date
from babel.numbers import get_decimal_symbol, get_group_symbol

from specgen.document.languages.catalogue import SOURCE, base_of, locale_of
from specgen.quantity.printing import NARROW_SPACE

NUMBER: Final = rf"\d+(?:{NARROW_SPACE}\d{{3}})*(?:\.\d+)?"
_NUMBER: Final = re.compile(NUMBER)
_DATE: Final = re.compile(r"\d{4}-\d{2}-\d{2}")


@lru_cache(32)
def _signs(language: str) -> tuple[str, str]:
    """The sign before the decimals and the one between groups of three digits."""
    locale = locale_of(language)
    return get_decimal_symbol(locale), get_group_symbol(locale)


def number_in(language: str, number: str) -> str:
    """A printed number with the signs of the language; in English, as it is printed."""
    if base_of(language) == SOURCE:
        return number
    point, group = _signs(language)
    whole, _, decimals = number.partition(".")
    whole = whole.replace(NARROW_SPACE, group)
    return f"{whole}{point}{decimals}" if decimals else whole


def numbers_in(language: str, text: str) -> str:
    """A text of numbers and signs (`1.5 x 2`, `-5`) with every number as the language writes it."""
    return _NUMBER.sub(lambda found: number_in(language, found[0]), text)


def is_date(text: str) -> bool:
    """Whether a text is a date of ISO 8601 and nothing else."""
    return _DATE.fullmatch(text) is not None


@lru_cache(512)
def date_in(language: str, text: str, *, long: bool = False) -> str:
    """A date of ISO 8601 as the language writes it; in English, and where it is none, as it is."""
    if base_of(language) == SOURCE:
        return text
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return text
    return format_date(day, "long" if long else "medium", locale=locale_of(language))
