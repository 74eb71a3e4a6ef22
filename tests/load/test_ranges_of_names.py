"""Ranges of positions, read and said: what one stands for, and what many names are together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.diagnostics import Span
from specgen.model import (
    BadRange,
    condensed,
    expand,
    joined_names,
    natural,
    nth,
    piece_of,
    range_meant,
    ranged,
)

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
        ("DIMM A1, A3..A5", ("DIMM A1", "DIMM A3", "DIMM A4", "DIMM A5")),
        ("DIMM A1, 3..4", ("DIMM A1", "DIMM A3", "DIMM A4")),
        ("DIMM A1, DIMM B1", ("DIMM A1", "DIMM B1")),
        ("DIMM A1,B1", ("DIMM A1", "DIMM B1")),
        ("DIMM 1A1..1A2, 2C1", ("DIMM 1A1", "DIMM 1A2", "DIMM 2C1")),
        ("BAY 0, 2 , 5..6", ("BAY 0", "BAY 2", "BAY 5", "BAY 6")),
        ("PSU1, 3", ("PSU1", "PSU3")),
        ("CPU1, GPU2", ("CPU1", "GPU2")),
        ("DIMM A1, CPU1", ("DIMM A1", "CPU1")),
        ("SLOT 1.C0, 2, SLOT 3.C1, J4", ("SLOT 1.C0", "SLOT 1.C2", "SLOT 3.C1", "SLOT 3.J4")),
        (".J0, 2", (".J0", ".J2")),
        ("TPM, BAY 0", ("TPM", "BAY 0")),
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
        ("BAY 0, 7..2", "runs backwards"),
        ("BAY 0,", "nothing before or after a comma"),
        ("BAY 0, , 2", "nothing before or after a comma"),
        ("BAY 0..4, 6, 3", "names BAY 3 twice"),
        ("BAY 0..511, 600..1111, 2000", "more than 1024"),
        ("TPM, 2", "is not a name"),
    ],
)
def test_a_range_that_cannot_be_counted_says_why(text: str, why: str) -> None:
    with pytest.raises(BadRange) as caught:
        expand(text)
    assert why in str(caught.value.message)


@pytest.mark.parametrize(
    ("text", "piece"), [("BAY 0, 7..2, 9", "7..2"), ("BAY 0..4, 6, 3", "3"), ("TPM, 2", "2")]
)
def test_a_list_that_cannot_be_read_says_which_piece(text: str, piece: str) -> None:
    with pytest.raises(BadRange) as caught:
        expand(text)
    assert caught.value.at is not None
    first, last = caught.value.at
    assert text[first:last] == piece


def test_a_name_of_a_list_is_found_in_the_file() -> None:
    text = "BAY 0, 2..4,  7"
    plain, quoted = (Span("a.yaml", 3, 5, 3, 5 + len(text) + more) for more in (0, 2))
    assert plain.part(text, piece_of(text, "BAY 3")) == Span("a.yaml", 3, 12, 3, 16)
    assert quoted.part(text, piece_of(text, "BAY 7")) == Span("a.yaml", 3, 20, 3, 21)
    folded = plain._replace(end_line=4)
    assert folded.part(text, piece_of(text, "BAY 7")) == folded
    assert plain.part("BAY 0..4", piece_of("BAY 0..4", "BAY 3")) == plain


_NAMES = st.one_of(
    st.builds(
        "{}{}".format, st.sampled_from(("BAY ", "PSU", "OCP.PORT ", ".J")), st.integers(0, 9)
    ),
    st.builds(
        "{}{}{}".format,
        st.sampled_from(("DIMM ", "DIMM 1", "DIMM 2", "", "SLOT 1.")),
        st.sampled_from("ABCD"),
        st.integers(0, 9),
    ),
    st.sampled_from(("TPM", "BAY 007", "SLOT 1.", "DIMM A-1", "A1B")),
).filter(lambda name: not name.endswith("."))


@given(st.sets(_NAMES, min_size=1), st.integers(0, 60))
def test_names_joined_are_read_as_the_same_names(names: set[str], most: int) -> None:
    lines = [*joined_names(sorted(names, key=natural), most)]
    assert sorted(name for line in lines for name in expand(line)) == sorted(names)
    assert all(len(line) <= most or "," not in line for line in lines)


@pytest.mark.parametrize(
    ("names", "lines"),
    [
        (("DIMM A1", "DIMM A3", "DIMM A4", "DIMM A5"), ["DIMM A1, 3..5"]),
        (("DIMM A1", "DIMM B1"), ["DIMM A1, B1"]),
        (("DIMM 1A1", "DIMM 1C1", "DIMM 2A1"), ["DIMM 1A1, 1C1, 2A1"]),
        (("PSU1", "PSU3", "TPM"), ["PSU1, 3, TPM"]),
        (("SLOT 1.C0", "SLOT 2.C0", "TPM"), ["SLOT 1.C0, SLOT 2.C0", "TPM"]),
        (("DIMM A1", "J1"), ["DIMM A1", "J1"]),  # behind DIMM A1, J1 is DIMM J1
        (
            tuple(f"BAY {n}" for n in range(0, 24, 2)),
            ["BAY 0, 2, 4, 6, 8, 10", "BAY 12, 14, 16, 18, 20", "BAY 22"],
        ),
    ],
)
def test_names_are_joined_by_leaving_out_what_is_said_already(
    names: tuple[str, ...], lines: list[str]
) -> None:
    assert list(joined_names(names, 24)) == lines


def test_the_greatest_range_is_as_great_as_it_is_said() -> None:
    assert len(expand("DIMM 1A1..1H128")) == 1024


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("SLOT 1.C0, SLOT 3.C0", ("SLOT 1.C0", "SLOT 3.C0")),
        ("EDGE 2, 1", ("EDGE 2", "EDGE 1")),
        (".J0, 2", (".J0", ".J2")),
        ("EDGE 1..3", ("EDGE 1..3", "EDGE 1..3")),
        ("EDGE 1, 2, 3", ("EDGE 1, 2, 3", "EDGE 1, 2, 3")),
    ],
)
def test_the_nth_of_a_list_belongs_to_the_nth_of_another(text: str, ends: tuple[str, str]) -> None:
    assert tuple(nth(text, index, 2) for index in range(2)) == ends


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
        ("BAY 0-2, 5", "BAY 0..2, 5"),
        ("BAY 0..2, 5", ""),
    ],
)
def test_another_way_of_writing_a_range_is_understood_for_the_help(text: str, meant: str) -> None:
    assert range_meant(text) == meant


def test_a_long_text_is_no_range_and_takes_no_time() -> None:
    """Once exponential in the letters behind the sign: twenty-six took minutes."""
    assert range_meant("BAY 1-" + "a" * 50_000 + "!") == ""
    assert range_meant("A1 to " * 10_000 + "!") == ""
