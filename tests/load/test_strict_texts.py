"""Texts that look right to a hasty pattern."""

import pytest

from specgen.load.decode import decode
from specgen.model import BadRange, Conditions, expand, natural
from specgen.source import YamlMapping, read_tree


def conditions(text: str) -> list[str]:
    tree, _ = read_tree(text, "specgen.yaml")
    assert isinstance(tree, YamlMapping)
    return [finding.code.id for finding in decode(Conditions, tree)[1]]


@pytest.mark.parametrize("text", ['redundancy: "none\\n"', "redundancy: |\n  none\n"])
def test_a_line_break_at_the_end_is_part_of_a_word(text: str) -> None:
    assert conditions(text) == ["SG112"]


def test_numbers_of_endless_length_are_no_range() -> None:
    with pytest.raises(BadRange):
        expand("EDGE 1.." + "9" * 5000)


@pytest.mark.parametrize("name", ["1²", "BAY ²", "9" * 5000])
def test_any_text_can_be_put_in_order(name: str) -> None:
    assert sorted([name, "BAY 2", "BAY 10"], key=natural)
