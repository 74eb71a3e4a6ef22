"""Ranges of positions, read and said: what one stands for, and what many names are together."""

import pytest

from specgen.model import BadRange, condensed, expand, range_meant, ranged

EIGHT = tuple(f"DIMM 1{letter}1" for letter in "ABCDEFGH")
SIXTEEN = tuple(f"DIMM 1{letter}{slot}" for letter in "ABCDEFGH" for slot in (1, 2))


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("BAY 0..2", ("BAY 0", "BAY 1", "BAY 2")),
        ("DIMM A1..A3", ("DIMM A1", "DIMM A2", "DIMM A3")),
        ("OCP.PORT 1..2", ("OCP.PORT 1", "OCP.PORT 2")),
        ("DIMM 1A1..1H1", EIGHT),
        ("DIMM 1A1..H1", EIGHT),
        ("DIMM 1A1..DIMM 1H1", EIGHT),
        ("DIMM 1A1..1H2", SIXTEEN),
        ("DIMM 1A1..1A2", ("DIMM 1A1", "DIMM 1A2")),
        ("DIMM A1..B2", ("DIMM A1", "DIMM A2", "DIMM B1", "DIMM B2")),
        ("DIMM 1C2..1D2", ("DIMM 1C2", "DIMM 1D2")),
    ],
)
def test_a_range_counts_its_number_and_a_single_capital_before_it(
    text: str, names: tuple[str, ...]
) -> None:
    assert expand(text) == names


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("BAY 7..0", "runs backwards"),
        ("DIMM 1H1..1A1", "runs backwards"),
        ("DIMM 1A2..1H1", "runs backwards"),  # its letters run forwards, its numbers do not
        ("DIMM 1H1..1A2", "runs backwards"),
        ("BAY 0..1024", "more than 1024"),
        ("DIMM 1A0..1H128", "more than 1024"),  # 8 x 129
        ("DIMM 1A1..2A1", "only one capital may count along"),
        ("DIMM 1A1..1a2", "only one capital may count along"),
        ("DIMM 1AA1..1AC1", "only one capital may count along"),
        ("CPU1..GPU2", "only one capital may count along"),
    ],
)
def test_a_range_that_cannot_be_counted_says_why(text: str, why: str) -> None:
    with pytest.raises(BadRange) as caught:
        expand(text)
    assert why in str(caught.value.message)


def test_the_greatest_range_is_as_great_as_it_is_said() -> None:
    assert len(expand("DIMM 1A1..1H128")) == 1024


@pytest.mark.parametrize(
    ("names", "said", "written"),
    [
        (("BAY 0", "BAY 1", "BAY 3"), "BAY 0 to 1, BAY 3", ["BAY 0..1", "BAY 3"]),
        (("DIMM A1", "DIMM B1"), "DIMM A1, DIMM B1", ["DIMM A1", "DIMM B1"]),
        (EIGHT, "DIMM 1A1 to 1H1", ["DIMM 1A1..1H1"]),
        (SIXTEEN, "DIMM 1A1 to 1H2", ["DIMM 1A1..1H2"]),
        (("DIMM 1A1", "DIMM 1A2"), "DIMM 1A1 to 1A2", ["DIMM 1A1..1A2"]),
        (
            (*EIGHT, "DIMM 1A2", "DIMM 1C2"),
            "DIMM 1A1 to 1H1, DIMM 1A2, DIMM 1C2",
            ["DIMM 1A1..1H1", "DIMM 1A2", "DIMM 1C2"],
        ),
        (
            ("DIMM 1A1", "DIMM 1A2", "DIMM 1C1", "DIMM 1C2"),
            "DIMM 1A1 to 1A2, DIMM 1C1 to 1C2",
            ["DIMM 1A1..1A2", "DIMM 1C1..1C2"],
        ),
        (
            expand("DIMM A1..A8") + expand("DIMM B1..B8"),
            "DIMM A1 to 8, DIMM B1 to 8",
            ["DIMM A1..8", "DIMM B1..8"],
        ),
        (("BAY 007", "BAY 008"), "BAY 007, BAY 008", ["BAY 007", "BAY 008"]),
        (("SLOT 1.C0", "SLOT 1.C1", "TPM"), "SLOT 1.C0 to 1, TPM", ["SLOT 1.C0..1", "TPM"]),
    ],
)
def test_names_are_said_and_written_as_the_fewest_ranges(
    names: tuple[str, ...], said: str, written: list[str]
) -> None:
    assert condensed(names) == said
    assert list(ranged(names)) == written
    assert sorted(name for text in written for name in expand(text)) == sorted(names)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("BAY 0-2", "BAY 0..2"),
        ("BAY 0...2", "BAY 0..2"),
        ("DIMM 1A1-1H1", "DIMM 1A1..1H1"),
        ("DIMM 1A1 to 1H2", "DIMM 1A1..1H2"),
        ("BAY 7-0", ""),
    ],
)
def test_another_way_of_writing_a_range_is_understood_for_the_help(text: str, meant: str) -> None:
    assert range_meant(text) == meant


def test_a_long_text_is_no_range_and_takes_no_time() -> None:
    """Once exponential in the letters behind the sign: twenty-six took minutes."""
    assert range_meant("BAY 1-" + "a" * 50_000 + "!") == ""
    assert range_meant("A1 to " * 10_000 + "!") == ""
