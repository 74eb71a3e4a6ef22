"""What is said of several is not said of one, and what is free is told in one sense."""

import pytest

from specgen.document.shelf import templates_of
from specgen.document.tree import Table, plain_text
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import Survey, compose


def _table(demo: Survey, document: str, build: str, anchor: str) -> Table:
    made, problems = compose(
        document, templates_of(demo.root), demo.cases[build], LayoutEngine(), nowhere
    )
    assert made is not None, problems
    return next(each for each in made.blocks if isinstance(each, Table) and each.anchor == anchor)


@pytest.mark.parametrize(
    ("build", "shared"),
    [
        ("pocket-lamp-room", ""),
        ("capstan-eyes", "The load is shared equally over 4 power supplies."),
    ],
)
def test_one_power_supply_shares_with_none(demo: Survey, build: str, shared: str) -> None:
    note = plain_text(_table(demo, "engineering", build, "efficiency-table").note)
    assert ("share" in note) == bool(shared)
    assert shared in note
    assert "linear between its points" in note


def test_free_slots_and_the_table_of_places_count_in_one_sense(demo: Survey) -> None:
    table = _table(demo, "sheet", "capstan-eyes", "slots-table")
    slots = demo.cases["capstan-eyes"].facts.value("expansion.slots")
    assert f"Card slots: {slots}." in plain_text(table.note)


def test_lanes_that_are_allocated_are_not_called_in_use(demo: Survey) -> None:
    # A card may run on fewer lanes than its slot has: the lane map says how many are in use.
    heads = [
        str(each.title)
        for each in _table(demo, "engineering", "capstan-eyes", "lanes-table").columns
    ]
    assert heads == ["Processor", "Lanes owned", "Allocated", "Unallocated"]
