"""Conditions of `--at` reach every command that takes them, or are refused with the reason."""

import pytest

from specgen.rules.unread_conditions import OF_COSTS
from tests.cli.conftest import Run


@pytest.mark.parametrize("name", OF_COSTS)
def test_what_nothing_reads_is_refused_with_the_reason(run: Run, here, name):
    got = run("limits", "lantern", "--at", f"{name}={'euro' if name == 'currency' else 1}")
    assert got.status == 2
    assert f"`{name}` changes no limit" in got.err


@pytest.mark.parametrize(
    ("by", "name"), [("inlet", "inlet=20 degC"), ("supplies", "redundancy=1+1")]
)
def test_what_the_axis_sets_itself_is_refused(run: Run, here, by, name):
    got = run("limits", "lantern", "--by", by, "--at", name)
    assert got.status == 2
    assert f"`--by {by}` goes through" in got.err


@pytest.mark.parametrize(
    "words",
    [
        ("facts", "lantern-full", "mechanics.depth_spare"),
        ("facts", "lantern", "mechanics.depth_spare"),
        ("check", "lantern-full"),
        ("data", "lantern-full"),
        ("explain", "lantern-full", "mechanics.depth_spare"),
        ("sheet", "lantern-full", "--to", "md"),
        ("complete", "lantern-full"),
        ("limits", "lantern", "--only", "drives"),
        ("compare", "lantern-full", "lantern-small"),
    ],
    ids=lambda words: " ".join(words[:2]),
)
def test_a_rack_of_600_mm_reaches_every_command(run: Run, here, words):
    """Source: arithmetic; the system is 712 mm deep."""
    got = run(*words, "--at", "rack_depth=600 mm")
    told = (got.out + got.err).replace("\u202f", " ")
    assert any(text in told for text in ("SG391", "−112 mm", "-112", "no build"))


def test_a_reason_that_was_asked_for_is_printed_as_it_was_written(run: Run, here):
    got = run("limits", "lantern", "--only", "drives", "--at", "rack_depth=600 mm")
    assert "--at:0" not in got.out + got.err
    checked = run("check", "lantern-full", "--at", "rack_depth=600 mm")
    assert "--at rack_depth=600 mm" in checked.out + checked.err
    assert ":0" not in checked.out + checked.err
    told = run("explain", "lantern-full", "power.available", "--at", "redundancy=1+1")
    assert "--at redundancy=1+1" in told.out


def test_systems_are_compared_under_what_is_asked_for(run: Run, here):
    got = run("compare", "lantern-full", "lantern-small", "--at", "altitude=777 m", "--to", "md")
    assert "777" in got.out
    assert got.status == 0, got.err
