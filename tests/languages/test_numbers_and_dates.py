"""Numbers and dates in other languages: the same digits, the signs and forms of the language."""

from decimal import Decimal

import pytest
from babel.numbers import parse_decimal
from hypothesis import given
from hypothesis import strategies as st

from specgen.document.languages.numbers import date_in, is_date, number_in, numbers_in
from specgen.quantity import show
from specgen.quantity.printing import NARROW_SPACE


# Source: Unicode CLDR 46, numbers and gregorian calendar of de and ja
@pytest.mark.parametrize(
    ("language", "printed"),
    [
        ("en", f"12{NARROW_SPACE}500.75"),
        ("de", "12.500,75"),
        ("ja", "12,500.75"),
        ("de-CH", "12’500.75"),
    ],
)
def test_a_number_has_the_signs_of_its_language(language: str, printed: str):
    assert number_in(language, f"12{NARROW_SPACE}500.75") == printed


@pytest.mark.parametrize(
    ("language", "short", "long"),
    [
        ("en", "2026-06-08", "2026-06-08"),
        ("de", "08.06.2026", "8. Juni 2026"),
        ("ja", "2026/06/08", "2026年6月8日"),
    ],
)
def test_a_date_has_the_form_of_its_language(language: str, short: str, long: str):
    assert date_in(language, "2026-06-08") == short
    assert date_in(language, "2026-06-08", long=True) == long


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
