"""Memory slots on a channel that is probably another, and those that are where they belong; each
row counts the slots of the channels of one processor."""

from collections.abc import Sequence

import pytest

from tests.facts.systems import PLATFORM, PROJECT
from tests.projects import project
from tests.rules.test_words_by_hand import words_of

pytestmark = [
    pytest.mark.arithmetic("channels", "slots of a channel counted by hand"),
]

EQUAL = "channels of a processor have equal numbers of slots, and follow one another"


Slot = tuple[str, str]
"""Whose a memory slot is, and its channel."""


def told(slots: Sequence[Slot], population: str = "") -> list[tuple[str, str]]:
    """What is said of memory slots, in their order, and of which."""
    rows = [f"{{name: {each}, takes: processor, socket: tern-a}}" for each in ("CPU1", "CPU2")]
    for number, (owner, channel) in enumerate(slots, 1):
        of = f", of: {owner}" if owner else ""
        rows.append(f"{{name: DIMM {number}, takes: memory-module{of}, channel: {channel}}}")
    positions = "".join(f"  - {row}\n" for row in rows)
    text = f"{PLATFORM}positions:\n{positions}{population}"
    found = project({"specgen.yaml": PROJECT, "platforms/bench.yaml": text})
    return [
        (found.line(each).split("name: ")[1].split(",")[0], words_of(each))
        for each in found.findings
        if each.code.id == "SG224"
    ]


def of(owner: str, channels: str) -> list[Slot]:
    return [(owner, channel) for channel in channels.split()]


@pytest.mark.parametrize(
    ("slots", "at", "said", "channels"),
    [
        ("A A B B C C C D D", "DIMM 7", "C has 3 slots, and others of CPU1 2", "A, B, C, D"),
        ("A A A B B C C D D", "DIMM 3", "A has 3 slots, and others of CPU1 2", "A, B, C, D"),
        # what the one has too many, another lacks
        ("A A B B C C C D D E", "DIMM 7", "C has 3 slots, and others of CPU1 2", "A, B, C, D, E"),
        ("A B C D D", "DIMM 5", "D has 2 slots, and others of CPU1 1", "A, B, C, D"),
        ("1 2 3 44", "DIMM 4", "44 stands apart from the others of CPU1", "1, 2, 3, 44"),
        ("A1 A2 A3 B4", "DIMM 4", "B4 stands apart from the others of CPU1", "A1, A2, A3, B4"),
        ("B3 A1 A2 A4", "DIMM 1", "B3 stands apart from the others of CPU1", "A1, A2, A4, B3"),
        # nine and three more
        (
            *("1 2 3 4 5 6 7 8 9 12", "DIMM 10", "12 stands apart from the others of CPU1"),
            "1, 2, 3, 4, 5, 6, 7, 8, 9, 12",
        ),
    ],
)
def test_a_slot_on_a_channel_that_is_not_like_the_others(
    slots: str, at: str, said: str, channels: str
):
    words = f"channel {said} | probably another channel | {EQUAL} | the channels are {channels}"
    assert told(of("CPU1", slots)) == [(at, words)]


@pytest.mark.parametrize(
    "slots",
    [
        "A A B B C C D D",
        "A A B B C C C",  # two alike tell nothing
        "A A B B C C D D D D",  # two more than the others: meant so
        "A A B B C C C D D D",  # two are fuller
        "A A A B B C C D D E F",  # two lack one
        "A A A A B B C C D D E",  # two more than the others, and one less
        "1 2 3 5",
        "1 2 44",
        "A1 A2 B3",
        "A1 A2 A5 B4",  # two are missing: nothing follows
        "1 2 3 4 5 6 7 8 9 11",
        "A B C 44",
        "A1 A2 B3 B4",
    ],
)
def test_channels_that_are_as_they_may_be(slots: str):
    assert told(of("CPU1", slots)) == []


def test_slots_of_a_machine_without_owners():
    ((at, said),) = told(of("", "A B C D D"))
    assert at == "DIMM 5"
    assert said.startswith("channel D has 2 slots, and others of bench 1 | ")


ORDER = "population: [{of: CPU1, order: [DIMM 1..3]}, {of: CPU2, order: [DIMM 4..6, %s]}]\n"
OWNED = [*of("CPU1", "A B C"), *of("CPU2", "A B C"), *of("CPU1", "D")]
STRAY = (
    "DIMM 7",
    "DIMM 7 is of CPU1, and stands in the order of CPU2 | probably another processor"
    " | an order is one of slots that belong to one owner"
    " | write `of: CPU2`, or take it out of that order",
)


@pytest.mark.parametrize(
    ("order", "said"),
    [
        ("DIMM 7", [STRAY]),
        ("DIMM 2", []),  # which stands in the order of its own as well
        ("DIMM 7, DIMM 1", [STRAY]),
    ],
)
def test_a_slot_in_the_order_of_another_processor(order: str, said: list[tuple[str, str]]):
    assert told(OWNED, ORDER % order) == said


def test_two_slots_in_the_order_of_another_processor_are_meant_so():
    assert told([*OWNED, ("CPU1", "E")], ORDER % "DIMM 7..8") == []


@pytest.mark.parametrize(
    ("first", "second", "said"),
    [
        ("A B C D", "A A C D", [("DIMM 6", "channel A has 2 slots, and others of CPU2 1")]),
        ("A B C D", "A B C", []),
        ("A B B C", "A A B C", []),  # no processor shares them out evenly
        ("A A B B", "A B C D", []),
    ],
)
def test_a_channel_with_the_slot_of_another_where_a_processor_shares_them_out_evenly(
    first: str, second: str, said: list[tuple[str, str]]
):
    found = told([*of("CPU1", first), *of("CPU2", second)])
    assert [(at, words.split(" | ")[0]) for at, words in found] == said
