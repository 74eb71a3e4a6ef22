"""Values typed by hand are held against facts, and sentences that mean something else are not."""

import pytest

from specgen.diagnostics import Code
from specgen.diagnostics.codes import VALUE_CONTRADICTED, VALUE_TYPED
from tests.prose.conftest import Check


@pytest.mark.parametrize(
    "sentence",
    [
        "Its maximum DC load is 800 W.",
        "Its maximum DC load is 0.7 kW.",
        "It draws 800 W of maximum DC load, and has a memory speed of 5600 MT/s.",
        "It has 12 memory slots.",
        "The machine's maximum DC load is 800 W.",
        "Lantern, full has a maximum DC load of 800 W.",
    ],
)
def test_a_value_that_contradicts_a_fact_is_reported(check: Check, sentence: str):
    found = [each for each in check(f"{sentence}\n") if each.code is VALUE_CONTRADICTED]
    assert len(found) == 1
    assert str(found[0].help).startswith("in place of")


def test_the_place_and_the_reference_to_paste_are_given(check: Check):
    (found,) = check("Fine.\nIts maximum\nDC load is **800 W** today.\n")
    assert (found.at.span.line, found.at.span.column) == (6, 14)
    assert (
        str(found.message)
        == "`800 W` is typed, and `lantern-full` has 825\u202fW (DC load, maximum)"
    )
    assert str(found.help) == "in place of the value with its unit write `{power.maximum}`"


def test_of_another_subject_the_reference_names_it(check: Check):
    (found,) = check("Lantern, full has a maximum DC load of 800 W.\n", head="title: x")
    assert "`{lantern-full: power.maximum}`" in str(found.help)


TABLE = "| {head} | Value |\n| --- | --- |\n| {label} | {value} |\n"


@pytest.mark.parametrize(
    ("label", "value", "code"),
    [
        ("DC load, maximum", "800 W", VALUE_CONTRADICTED),
        ("dc load, maximum", "0.825 kW", VALUE_TYPED),
        ("Memory slots", "9", VALUE_CONTRADICTED),
        ("Memory slots", "8", VALUE_TYPED),
    ],
)
def test_a_value_by_itself_in_a_cell_is_held_against_the_head_of_its_row(
    check: Check, label: str, value: str, code: Code
):
    (found,) = check(TABLE.format(head="Of it", label=label, value=value))
    assert found.code is code
    assert found.at.span.line == 6


def test_of_a_table_of_several_the_head_of_the_column_says_which_value(check: Check):
    row = "| {build lantern-full} | 800 W |"
    (found,) = check(f"| Build | DC load, maximum |\n| --- | --- |\n{row}\n", head="title: x")
    assert found.code is VALUE_CONTRADICTED
    assert "`{lantern-full: power.maximum}`" in str(found.help)


@pytest.mark.parametrize(
    ("label", "value"),
    [
        ("DC load, maximum", "about 800 W"),
        ("DC load, maximum, of each supply", "800 W"),
        ("Supply DC load", "800 W"),
        ("Memory slots", "9 W"),
        ("DC load, maximum", "800 W of 900 W"),
    ],
)
def test_a_cell_that_says_something_else_is_left_alone(check: Check, label: str, value: str):
    assert check(TABLE.format(head="Of it", label=label, value=value)) == ()


@pytest.mark.parametrize(
    "sentence",
    ["Its maximum DC load is 825 W.", "Its raw capacity is 15 TB.", "It has 8 memory slots."],
)
def test_a_typed_value_that_is_a_fact_is_a_note(check: Check, sentence: str):
    (found,) = check(f"{sentence}\n")
    assert found.code is VALUE_TYPED


@pytest.mark.parametrize(
    "sentence",
    [
        "It draws about 800 W of maximum DC load.",
        "Its maximum DC load is 30 W less than 900 W.",
        "Take 800 W.",
        "The supply's maximum DC load is 800 W.",
        "The maximum DC load of each supply is 800 W.",
        "The lamp beside it draws 800 W.",
        "Its maximum DC load is `800 W`.",
        "Its maximum DC load is [said elsewhere](x 'maximum DC load 800 W').",
        "Lantern, full and Lantern have a maximum DC load of 800 W.",
        "A Supply 800 W has a maximum DC load of its own, 1200 W.",
        "Its maximum DC load is 1300 W.",
        "In 2026 its maximum DC load was set down in LN-800 W-3.",
        "Two drives of 12 bays need 4 in the front.",
        "Its maximum DC load is {power.maximum}.",
        "The maximum is 3 m of cable.",
    ],
)
def test_what_may_mean_something_else_is_left_alone(check: Check, sentence: str):
    assert [f for f in check(f"{sentence}\n") if f.code is VALUE_CONTRADICTED] == []


def test_of_equal_facts_the_one_whose_words_stand_there_is_meant(check: Check):
    (found,) = check("Its memory capacity is 128 GiB.\n")
    assert str(found.help).endswith("`{memory.capacity}`")


def test_a_sentence_that_weighs_is_no_place_for_a_note(check: Check):
    assert check("Plan for a maximum DC load of 825 W.\n") == ()


def test_a_writer_can_allow_what_is_meant(check: Check):
    head = "subject: lantern-full\nallow: SG503"
    assert check("Its maximum DC load is 800 W.\n", head=head) == ()
