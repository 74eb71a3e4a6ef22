"""What findings say reads as a person would write it, whatever the part, the number or the kind."""

import pytest

from tests.mutated.breaks import BREAKS, FULL
from tests.mutated.contradicting_breaks import CONTRADICTING
from tests.mutated.said import said_of
from tests.projects import edited, project

CASES = {case.name: case for case in (*BREAKS, *CONTRADICTING)}


def test_slots_are_counted_and_lanes_are_widths():
    wide = said_of(CASES["card two slots wide with no slot beside it"]).text
    assert "it covers 2 slots, and 1 lie side by side from there on" in wide
    narrow = said_of(CASES["wide card in a narrow connector"]).text
    assert "x16" in narrow


@pytest.mark.parametrize("part", ["pack", "disk-4t", "corvane-c24"])
def test_a_kind_is_named_without_an_article_that_may_be_the_wrong_one(part):
    found = project(edited(FULL, "  TPM: tpm", f"  TPM: {part}"))
    labels = [str(found.findings[0].at.text)]
    assert [text for text in labels if text.startswith(("a ", "an "))] == []


def test_a_kind_is_named_in_words_where_something_must_be_fitted():
    text = said_of(CASES["no heat sink"]).text
    assert "fit a heat sink in HS 1 to 2" in text
