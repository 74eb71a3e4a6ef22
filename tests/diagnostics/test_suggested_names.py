"""Names an author may have meant."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.diagnostics import did_you_mean, question
from tests.timing import NO_HANG, stopwatch

PARTS = (
    "dimm-r32-4800",
    "dimm-r64-5600",
    "dimm-r96-5600",
    "lantern-riser-low",
    "lantern-riser-tall",
    "psu-2000-ti",
    "psu-3000-ti",
)


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("dimm-r64-56OO", "dimm-r64-5600"),  # letters O for zeros
        ("dimm_r64_5600", "dimm-r64-5600"),
        ("Dimm R64 5600", "dimm-r64-5600"),
        ("dimmr64-5600", "dimm-r64-5600"),
        ("dimm-r64-560", "dimm-r64-5600"),  # a digit lost
        ("dimm-r64-6500", "dimm-r64-5600"),  # two digits swapped
        ("lantren-riser-low", "lantern-riser-low"),
        ("lantern-riser-tal", "lantern-riser-tall"),
        ("psu-3000-t1", "psu-3000-ti"),
    ],
)
def test_a_slip_of_the_hand_or_eye_finds_its_name(word: str, meant: str) -> None:
    assert did_you_mean(word, PARTS) == (meant,)


@pytest.mark.parametrize("word", ["psu-3500-ti", "psu-1000-ti", "fan-80", "", "x", "riser"])
def test_no_guess_is_better_than_a_wild_one(word: str) -> None:
    assert did_you_mean(word, PARTS) == ()


def test_another_position_is_no_spelling_of_this_one() -> None:
    assert did_you_mean("SLOT 12", ["SLOT 1", "SLOT 2"]) == ()
    assert did_you_mean("BAY 9", ["BAY 0", "BAY 7"]) == ()
    assert did_you_mean("PSUl", ["PSU1", "PSU2"]) == ("PSU1",)
    assert did_you_mean("dimm a1", ["DIMM A1", "DIMM B1"]) == ("DIMM A1",)


def test_a_name_without_what_it_is_within_finds_it() -> None:
    assert did_you_mean("J0", ["FRONT.J0", "FRONT.J1", "BAY 0"]) == ("FRONT.J0",)
    assert did_you_mean("FRONT.J0", ["J0", "J1"]) == ("J0",)
    assert did_you_mean("J0", ["FRONT.J0", "MID.J0", "REAR.J0"]) == ()  # nobody knows which
    assert did_you_mean("J0", ["FRONT.XJ0"]) == ()


def test_short_fields_find_each_other() -> None:
    assert did_you_mean("levl", ["label", "level"]) == ("level",)
    assert did_you_mean("cup", ["cpu", "gpu"]) == ("cpu",)


def test_at_most_two_nearest_first_and_equal_ones_by_name() -> None:
    names = ["fan-d", "fan-c", "fan-b"]
    assert did_you_mean("fan-x", names) == ("fan-b", "fan-c")
    assert did_you_mean("fan-x", names, most=1) == ("fan-b",)
    assert did_you_mean("fan-x", names, most=0) == ()


def test_a_far_name_is_not_offered_beside_a_near_one() -> None:
    assert did_you_mean("riser-tal1", ["riser-tall", "riser-ball"]) == ("riser-tall",)


def test_ten_thousand_candidates_are_gone_through() -> None:
    rng = random.Random(7)
    names = [
        f"drive-{rng.randint(1, 99)}t-{rng.choice(['sas', 'nvme'])}-{rng.choice('mrw')}{number}"
        for number in range(10_000)
    ]
    used = stopwatch()
    assert did_you_mean("drvie-" + names[123].removeprefix("drive-"), names)[0] == names[123]
    assert used() < NO_HANG


words = st.text(st.sampled_from("abcO0l1I-_ 27é東"), max_size=9)


@settings(deadline=None)
@given(words, st.lists(words, max_size=8), st.randoms())
def test_never_the_word_itself_and_never_dependent_on_order(
    word: str, candidates: list[str], rng: random.Random
) -> None:
    found = did_you_mean(word, candidates)
    assert word not in found
    assert len(found) <= 2
    assert set(found) <= set(candidates)
    rng.shuffle(candidates)
    assert did_you_mean(word, candidates + candidates) == found


@settings(deadline=None)
@given(st.text(max_size=12), st.lists(st.text(max_size=12), max_size=5))
def test_any_text_may_be_asked_for(word: str, candidates: list[str]) -> None:
    did_you_mean(word, candidates)


@settings(deadline=None)
@given(st.text(st.sampled_from("abcdefgh"), min_size=6, max_size=12), st.data())
def test_one_letter_lost_is_always_found(name: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(name) - 1))
    slip = name[:at] + name[at + 1 :]
    assert did_you_mean(slip, [name, "0000-0000"]) == (name,)


def test_the_question_reads_as_a_sentence() -> None:
    assert question(()) == ""
    assert str(question(["a"])) == "did you mean `a`?"
    assert str(question(["a", "b"])) == "did you mean `a` or `b`?"
