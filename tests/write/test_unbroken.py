"""What stays on one line is found whole in a text."""

import re

import pytest

from specgen.write.unbroken import MEASURED


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("up to 160 MB/s each", ["160 MB/s"]),
        ("60 mm deep", ["60 mm"]),
        ("5 m/s in front", ["5 m/s"]),
        ("8 in use", []),
        ("5 in, 1.200,5 W", ["5 in", "1.200,5 W"]),
    ],
)
def test_a_number_keeps_its_whole_unit(text: str, whole: list[str]) -> None:
    assert re.findall(MEASURED, text) == whole
