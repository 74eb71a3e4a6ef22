"""What a check of the demo costs, told by what it calls: no time is measured."""

from typing import Final

from tests.bench.counted import by_room, calls, largest

MOST: Final = {
    "all": 7730,
    "rules": 2110,
    "fitness": 850,
    "source": 820,
    "facts": 850,
    "assembly": 590,
    "model": 430,  # positions in one line that are not in a row, pictures
    "quantity": 390,
    "document": 570,  # sentences read whole, forms of Markdown, pictures
    "expressions": 330,
    "messages": 325,
    "load": 195,
    "diagnostics": 130,
    "frozen.py": 125,
}
"""Calls for each thing defined, at most, by room: some 7 % above what there were. What needs more
saves it elsewhere, or says here what it is for."""
OTHERS: Final = 115
"""The same of every other room."""


def test_no_room_calls_more_in_a_check_than_it_may() -> None:
    modules = calls()
    over = [
        f"{room} makes {count:.0f} calls of {MOST.get(room, OTHERS)}: {largest(modules, room)}"
        for room, count in by_room(modules).items()
        if count > MOST.get(room, OTHERS)
    ]
    assert over == []
