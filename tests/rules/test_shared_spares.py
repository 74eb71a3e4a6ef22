"""A hot spare of several volumes: common practice, no source."""

import pytest

from tests.facts.arrays import array
from tests.projects import edited, project

FULL = "configured/lantern-full.yaml"
TWO = """volumes:
  - {name: Data, level: 1, drives: BAY 0..1, spares: BAY 3}
  - {name: Log, level: 0, drives: BAY 2%s}
"""
OLD = "volumes:\n  - {name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}\n"


@pytest.mark.parametrize(
    ("more", "codes"),
    [
        ("", []),
        (", spares: BAY 3", []),  # stands by for both
        (", spares: [BAY 3, BAY 3]", ["SG344"]),  # twice for one
        (", spares: BAY 1", ["SG344"]),  # a member of the other
    ],
)
def test_a_drive_may_stand_by_for_several_volumes(more, codes):
    found = project(edited(FULL, OLD, TWO % more))
    assert [code for code in found.codes if code == "SG344"] == codes


def test_a_shared_spare_counts_once():
    """Two mirrors of 4 TB, one drive for both: 2 of 5 drives usable, none left over, 1 spare."""
    facts = array(
        "[{name: A, level: 1, drives: BAY 1..2, spares: BAY 5},"
        " {name: B, level: 1, drives: BAY 3..4, spares: BAY 5}]",
        fit="BAY 1..5: drive",
    )
    assert [facts.value(f"storage.{name}.spares") for name in "AB"] == [1, 1]
    assert facts.value("storage.spares") == 1
    assert facts.value("storage.outside").amount == 0
