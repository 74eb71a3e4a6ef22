"""Messages: patterns, arguments, lists and plural forms, in English and in other languages."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.messages import (
    ENGLISH,
    AsWritten,
    Capital,
    Catalogue,
    Language,
    Naming,
    Within,
    following,
    listed,
    say,
    say_as,
    say_many,
)
from specgen.messages.catalogue import language_of
from specgen.messages.pattern import BadPattern, escaped, names_of, pieces_of
from specgen.model import Redundancy, SupplyLine, places
from specgen.quantity import Power, Voltage

GERMAN = Language(
    "de",
    Catalogue(
        {
            ("", "{count} of {all}"): ("von {all} {count}",),
            ("", "{first} and {second}"): ("{first} und {second}",),
            ("", "{number} drive"): ("{number} Laufwerk", "{number} Laufwerke"),
            ("", "Memory"): ("Arbeitsspeicher",),
            ("svg", "Memory"): ("Speicher",),
            ("", "{a} is broken"): ("{b} ist kaputt",),
            ("", "{a} has braces"): ("{a ist offen",),
            ("", "yes"): ("ja",),
        }
    ),
)


def test_arguments_stand_where_the_language_wants_them():
    message = say("{count} of {all}", count=2, all=12500)
    assert str(message) == "2 of 12\u202f500"
    assert GERMAN.text(message) == "von 12.500 2"


def test_a_text_of_a_definition_is_the_same_in_every_language():
    assert GERMAN.text(say("{count} of {all}", count="Memory", all="BAY 0")) == "von BAY 0 Memory"


def test_a_message_within_a_message_is_said_too():
    assert GERMAN.text(say("{count} of {all}", count=say("Memory"), all=1)) == (
        "von 1 Arbeitsspeicher"
    )


def test_names_in_short_are_worded_and_still_known():
    names = places(("BAY 0", "BAY 1", "BAY 2", "SLOT 1"))
    assert isinstance(names, Naming)
    assert names.names == ("BAY 0", "BAY 1", "BAY 2", "SLOT 1")
    said = say("{count} of {all}", count=names, all=names)
    assert str(said) == "BAY 0 to 2, SLOT 1 of BAY 0 to 2, SLOT 1"
    untranslated = {each.text for each in GERMAN.missing(said)}
    assert untranslated == {"{first} to {last}"}


def test_a_message_that_counts_has_the_form_of_its_number():
    one, two = (say_many(n, "{number} drive", "{number} drives") for n in (1, 2))
    assert [str(one), str(two)] == ["1 drive", "2 drives"]
    assert [GERMAN.text(one), GERMAN.text(two)] == ["1 Laufwerk", "2 Laufwerke"]


def test_a_list_is_joined_as_the_language_joins():
    things = listed(["A", "", "B", "C"], "and")
    assert str(things) == "A, B and C"
    assert GERMAN.text(things) == "A, B und C"


def test_a_context_goes_before_the_plain_word():
    assert GERMAN.text(say_as("svg", "Memory")) == "Speicher"
    assert GERMAN.text(say_as("column", "Memory")) == "Arbeitsspeicher"


@pytest.mark.parametrize("text", ["{a} is broken", "{a} has braces", "{a} has no translation"])
def test_what_cannot_be_said_in_the_language_stays_english(text: str):
    message = say(text, a=1)
    assert list(GERMAN.missing(message)) == [message]
    assert GERMAN.text(message) == text.replace("{a}", "1")


def test_a_language_knows_a_message_only_with_all_in_it():
    known = say("{count} of {all}", count=say("Memory"), all=1)
    assert list(GERMAN.missing(known)) == []
    unknown = say("{count} of {all}", count=say("unknown"), all=1)
    assert list(GERMAN.missing(unknown)) == [say("unknown")]


def test_numbers_dates_and_answers_are_printed_as_the_language_does():
    assert GERMAN.number(Power.parse("1234.5 W")) == ("1234,5", "W")
    assert GERMAN.number(Decimal("0.5")) == ("0,5", "")
    assert language_of("de").date(date(2026, 6, 8), long=True) == "8. Juni 2026"
    assert ENGLISH.date(date(2026, 6, 8)) == "2026-06-08"
    assert [ENGLISH.text(True), GERMAN.text(True), ENGLISH.text(None)] == [
        "yes",
        "ja",
        "not declared",
    ]
    assert ENGLISH.number(("a", "b")) == ("a, b", "")
    assert ENGLISH.number(()) == ("none", "")


def test_titles_within_a_sentence_and_at_its_start():
    assert str(Capital(say("empty"))) == "Empty"
    assert [str(Within(each)) for each in ("Memory module", "TPM", "PCIe riser")] == [
        "memory module",
        "TPM",
        "PCIe riser",
    ]
    assert GERMAN.text(Within(say("Memory"))) == "Arbeitsspeicher"


@given(st.text(max_size=20))
def test_escaped_text_is_read_as_itself(text: str):
    assert "".join(map(str, pieces_of(escaped(text)))) == text


def test_braces_that_do_not_go_together_are_reported():
    assert names_of("{1:the {2} of} {a.b-c}") == ("1", "2", "a.b-c")
    for pattern in ("a } b", "{a:b", "{1:{2}"):
        with pytest.raises(BadPattern):
            pieces_of(pattern)


@pytest.mark.parametrize("tag", ["en", "de", "ja"])
@pytest.mark.parametrize(
    "value",
    [
        SupplyLine(Voltage.of(-48), "dc"),
        Redundancy("1+1", 1),
        (Redundancy("none", 0),),
    ],
    ids=str,
)
def test_a_value_of_definitions_has_words_in_every_language(tag: str, value: object) -> None:
    """A report in German had none for the line that a supply is not made for."""
    language = language_of(tag)
    assert language.text(say("{value}", value=AsWritten(value)))
    assert language.text(listed(value) if isinstance(value, tuple) else value)


@pytest.mark.parametrize(
    ("before", "text", "found"),
    [
        ("BAY 0～11", "：空き", ": 空き"),
        ("RJ45", "；使用不可", "; 使用不可"),
        ("空き", "：なし", "：なし"),
        ("なし。", " 次", "次"),
        ("", "：なし", "：なし"),
    ],
)
def test_signs_of_full_width_do_not_stand_after_latin_text(before: str, text: str, found: str):
    assert following(before, text) == found
