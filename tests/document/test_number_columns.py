"""Which columns stand to the right, each cell on one line."""

import pytest

from specgen.document.cells.cell_makers import align_of
from specgen.document.tree import Cell, Datum, words
from specgen.messages import NOT_DECLARED
from specgen.quantity import Ratio

SHARE: Cell = (Datum(Ratio.of(94, "%")),)
NUMBER: Cell = (Datum(2026),)
ADDRESS = words("Net Loft Yard, Quillmere, documents@quillmere.example")


@pytest.mark.parametrize(
    ("cells", "align"),
    [
        ((SHARE, NUMBER), "end"),
        ((SHARE, NUMBER, words("none")), "end"),
        ((SHARE, NUMBER, words("more than 1 million years")), "end"),
        ((SHARE, words("none")), "start"),
        ((SHARE, words(NOT_DECLARED), words(NOT_DECLARED)), "end"),
        ((SHARE, NUMBER, NUMBER, ADDRESS), "start"),  # it would stand on one line, off the page
    ],
)
def test_a_column_of_numbers_holds_no_sentence(cells: tuple[Cell, ...], align: str) -> None:
    assert align_of(cells) == align
