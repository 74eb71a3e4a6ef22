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

from specgen.document.languages.numbers import date_in, is_date, number_in, numbers_in
from specgen.quantity import show
from specgen.quantity.printing import NARROW_SPACE

LANGUAGES = ("de", "de-CH", "de-AT", "ja", "fr", "pl", "sv", "pt-BR")
DAY = date(2026, 6, 8)


def locale(language: str) -> Locale:
    return Locale.parse(language, sep="-")


# Source: Unicode CLDR, in the release that is installed: signs move from one to the next
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_has_the_signs_of_its_language(language: str):
    expected = format_decimal(Decimal("12500.75"), "#,##0.00", locale=locale(language))
    assert number_in(language, f"12{NARROW_SPACE}500.75") == expected


def test_other_languages_have_other_signs():
    printed = f"12{NARROW_SPACE}500.75"
    assert len({number_in(language, printed) for language in ("en", "de", "ja")}) == 3
    assert number_in("en", printed) == printed


# Source: Unicode CLDR, in the release that is installed
@pytest.mark.parametrize("language", ["de", "de-AT", "ja"])
def test_a_date_has_the_form_of_its_language(language: str):
    short = date_in(language, DAY.isoformat())
    assert parse_date(short, locale=locale(language), format="medium") == DAY
    long = date_in(language, DAY.isoformat(), long=True)
    assert get_month_names("wide", locale=locale(language))[DAY.month] in long
    assert {str(DAY.day), str(DAY.year)} <= set(re.findall(r"\d+", long))


def test_english_keeps_the_form_of_iso_8601():
    assert (
        date_in("en", DAY.isoformat()) == date_in("en", DAY.isoformat(), long=True) == "2026-06-08"
    )


def test_what_is_no_date_stays():
    assert date_in("de", "2026-13-45") == "2026-13-45"
    assert not is_date("since 2026-06-08")


def test_a_language_that_nobody_knows_writes_as_english_does():
    assert number_in("xx-nowhere", "1.5") == "1.5"


def test_every_number_of_a_text_is_written_so():
    assert numbers_in("de", "0.5 × 2.25") == "0,5 × 2,25"


@given(st.decimals(min_value=0, max_value=10**9, places=3), st.sampled_from(["de", "ja", "de-AT"]))
def test_a_number_reads_back_as_itself(number: Decimal, language: str):
    printed = show(number)
    plain = Decimal(printed.replace(NARROW_SPACE, ""))
    assert parse_decimal(number_in(language, printed), locale=language.replace("-", "_")) == plain
