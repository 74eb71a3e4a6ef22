"""Numbers and dates in other languages: the same digits, the signs and forms of the language."""

import re
from datetime import date
from decimal import Decimal

import pytest
from babel import Locale
from babel.dates import get_month_names, parse_date
from babel.numbers import format_decimal, parse_decimal
from hypothesis import given
from hypothesis import strategies as st

from specgen.document.prose.language_words import word_lists
from specgen.messages import ENGLISH
from specgen.messages.catalogue import language_of, languages
from specgen.quantity import Length, show
from specgen.quantity.printing import NARROW_SPACE

LANGUAGES = ("de", "de-CH", "de-AT", "ja", "fr", "pl", "sv", "pt-BR")
DAY = date(2026, 6, 8)


def locale(language: str) -> Locale:
    return Locale.parse(language, sep="-")


# Source: Unicode CLDR, in the release that is installed: signs move from one to the next
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_has_the_signs_of_its_language(language: str):
    expected = format_decimal(Decimal("12500.75"), "#,##0.00", locale=locale(language))
    assert language_of(language).number(Length.parse("12500.75 mm")) == (expected, "mm")


# Source: Unicode CLDR, in the release that is installed
@pytest.mark.parametrize("language", languages())
def test_the_word_lists_of_a_language_have_its_signs(language: str):
    assert word_lists(language)["point"] == language_of(language).signs.point


def test_other_languages_have_other_signs():
    length = Length.parse("12500.75 mm")
    printed = {language_of(language).number(length)[0] for language in ("en", "de", "ja")}
    assert len(printed) == 3
    assert ENGLISH.number(length)[0] == f"12{NARROW_SPACE}500.75"


# Source: Unicode CLDR, in the release that is installed
@pytest.mark.parametrize("language", ["de", "de-AT", "ja"])
def test_a_date_has_the_form_of_its_language(language: str):
    short = language_of(language).date(DAY)
    assert parse_date(short, locale=locale(language), format="medium") == DAY
    long = language_of(language).date(DAY, long=True)
    assert get_month_names("wide", locale=locale(language))[DAY.month] in long
    assert {str(DAY.day), str(DAY.year)} <= set(re.findall(r"\d+", long))


def test_english_keeps_the_form_of_iso_8601():
    assert ENGLISH.date(DAY) == ENGLISH.date(DAY, long=True) == "2026-06-08"


def test_a_language_that_nobody_knows_writes_as_english_does():
    assert language_of("xx-nowhere").number(Decimal("1.5")) == ("1.5", "")


@given(st.decimals(min_value=0, max_value=10**9, places=3), st.sampled_from(["de", "ja", "de-AT"]))
def test_a_number_reads_back_as_itself(number: Decimal, language: str):
    plain = Decimal(show(number).replace(NARROW_SPACE, ""))
    printed, _ = language_of(language).number(number)
    assert parse_decimal(printed, locale=language.replace("-", "_")) == plain
