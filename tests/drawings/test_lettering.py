"""The words of drawings: large enough to be read in print, and none over another."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

import pytest

from specgen.document.figures import SHEETS
from specgen.drawings.paper import HANDS
from specgen.drawings.picture import MARGIN
from specgen.drawings.shapes import Shape, Sheet, TextShape
from specgen.drawings.widths import width
from specgen.pipeline import Survey

PRINTED = 505.28
"""The breadth of the text on A4, points."""
LARGEST = 0.71
"""How large drawings are printed that have room (`site/print/document.typ`)."""
LEAST = 6.0


class Box(NamedTuple):
    """Where a line of words is: its letters without what hangs below the line."""

    text: str
    left: float
    right: float
    top: float
    low: float

    def over(self, other: "Box") -> bool:
        return (
            min(self.right, other.right) - max(self.left, other.left) > 0.5
            and min(self.low, other.low) - max(self.top, other.top) > 0.5
        )


def boxes(shapes: Sequence[Shape]) -> Iterator[Box]:
    """The words of a drawing."""
    for shape in shapes:
        if isinstance(shape, TextShape):
            for one in (shape, *shape.continued):
                hand = HANDS[one.pen]
                wide = width(one.text, hand.size, hand.bold)
                left = one.x - {"start": 0.0, "middle": wide / 2, "end": wide}[one.anchor]
                yield Box(one.text, left, left + wide, one.y - 0.72 * hand.size, one.y)


def sheets(demo: Survey, name: str) -> Iterator[tuple[str, Sheet]]:
    for build, case in demo.cases.items():
        sheet = SHEETS[name](case)
        yield build, sheet.unlisted or sheet


@pytest.mark.parametrize("name", SHEETS)
def test_words_of_a_drawing_can_be_read_in_print(demo: Survey, name: str):
    for build, sheet in sheets(demo, name):
        scale = min(LARGEST, PRINTED / (sheet.width + 2 * MARGIN))
        sizes = [HANDS[each.pen].size for each in sheet.shapes if isinstance(each, TextShape)]
        assert min(sizes, default=LEAST / scale) * scale >= LEAST, build


@pytest.mark.parametrize("name", SHEETS)
def test_no_words_of_a_drawing_run_into_others(demo: Survey, name: str):
    for build, sheet in sheets(demo, name):
        words = list(boxes(sheet.shapes))
        over = [(a.text, b.text) for a, b in combinations(words, 2) if a.over(b)]
        assert not over, build
