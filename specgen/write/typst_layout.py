"""How a page is shared out: columns by what is in them, short lists and tables side by side.

All measures are points. Widths are estimated with the metrics of the font that is shipped, so that
the same document is laid out alike before any program sets it.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from specgen.document.tree import Block, Cell, Column, FactList, Table, plain_text
from specgen.drawings.widths import width
from specgen.write.options import Paper
from specgen.write.typst_text import folded, has_signs, pieces

MEASURE: Final[dict[Paper, float]] = {"a4": 595.28 - 2 * 45, "us-letter": 612 - 2 * 45}
"""The breadth of the text: the paper's less its margins."""
TABLE_SIZE: Final = 7.6
HEAD_SIZE: Final = 6.8
SMALLEST: Final = 6.4  # to which the letters of a wide table may shrink
GUTTER: Final = 9.0  # between columns of a table
WIDE_GUTTER: Final = 13.0  # between numbers and words to the right of them
GAP: Final = 22.0  # between things side by side
LABEL_GAP: Final = 8.0
EMPTY: Final = 10.0  # breadth of a column without a word
SIGNS: Final = 52.0  # a title of so much Chinese or Japanese is kept on one line
SHORT_TITLE: Final = 36.0  # a longer title of a column may take two lines
TEMPERS: Final = (0.7, 0.5, 1.0, 0.3)
"""How strongly a long column takes room from others; what makes the fewest lines is taken."""
KEPT: Final = 64.0  # cells of a column that asks for no more are not broken
LONGEST_PIECE: Final = 110.0  # a longer one may be broken
STRETCH: Final = 1.5  # how much wider than its words a narrow table is set
FULL: Final = 0.45  # of the room: tables that ask for more are as wide as the page
MOST_ROWS: Final = 16  # of what stands side by side and is not broken
FACT_COLUMNS: Final = 4
MOST_LABEL: Final = 0.72  # of a column
LEAST_VALUE: Final = 58.0
_SLACK: Final = 1.04  # estimates are rounded up


def measured(text: str, size: float, bold: bool = False) -> float:
    """Width of a text as it will be printed."""
    return width(folded(text), size, bold) * _SLACK


def longest_piece(text: str, size: float) -> float:
    return max((measured(piece, size) for piece in pieces(folded(text))), default=0.0)


@dataclass(frozen=True, slots=True)
class Columns:
    """Widths of a table's columns, gutters included, and the size of its letters."""

    widths: tuple[float, ...]
    size: float

    @property
    def total(self) -> float:
        return sum(self.widths)


def natural(table: Table) -> Columns:
    """The widths at which no cell is broken; titles of columns may be, over two lines."""
    return Columns(tuple(most for _, most in _bounds(table, TABLE_SIZE)), TABLE_SIZE)


def columns_for(table: Table, room: float) -> Columns:
    """Widths for a table in so much room: as its words ask, or shared out where they ask more."""
    size = TABLE_SIZE
    bounds = _bounds(table, size)
    least = sum(low for low, _ in bounds)
    if least > room:
        size = max(SMALLEST, TABLE_SIZE * room / least)
        bounds = _bounds(table, size)
    wanted = sum(most for _, most in bounds)
    if wanted <= room:
        generous = _bounds(table, size, lines=1)
        if sum(most for _, most in generous) <= room:
            bounds = generous
            wanted = sum(most for _, most in bounds)
        factor = room / wanted if wanted > room * FULL else STRETCH
        return Columns(tuple(most * factor for _, most in bounds), size)
    least = sum(low for low, _ in bounds)
    if least >= room:
        return Columns(tuple(low * room / least for low, _ in bounds), size)
    tried = [_shared(bounds, _weights(table, power), room) for power in TEMPERS]
    return Columns(min(tried, key=lambda widths: _height(table, widths, size)), size)


def _shared(
    bounds: Sequence[tuple[float, float]], weights: Sequence[float], room: float
) -> tuple[float, ...]:
    """Room by what each has to say, within its bounds, so that the sum fits."""
    low, high = 0.0, room
    shares: tuple[float, ...] = tuple(least for least, _ in bounds)
    for _ in range(40):
        level = (low + high) / 2
        tried = tuple(
            max(least, min(most, level * weight))
            for (least, most), weight in zip(bounds, weights, strict=True)
        )
        if sum(tried) > room:
            high = level
        else:
            low, shares = level, tried
    return shares


def _weights(table: Table, power: float) -> list[float]:
    """How much each column has to say, between its longest and its mean cell, tempered."""
    weights = []
    for cells in zip(*table.rows, strict=True):
        widths = [width(plain_text(cell), 1.0) for cell in cells]
        weights.append((max(widths) + 2 * sum(widths) / len(widths)) / 3)
    most = max(weights, default=1.0) or 1.0
    return [max(each / most, 0.01) ** power for each in weights]


def _height(table: Table, widths: Sequence[float], size: float) -> int:
    """About how many lines the rows take; a row is as high as its highest cell."""
    rooms = [max(each - gap, 1.0) for each, gap in zip(widths, gutters(table.columns), strict=True)]
    return sum(
        max(
            math.ceil(measured(plain_text(cell), size) / room - 0.001)
            for cell, room in zip(row, rooms, strict=True)
        )
        for row in table.rows
    )


def _bounds(table: Table, size: float, lines: int = 2) -> list[tuple[float, float]]:
    """Least and natural width of each column, with the gutter after it."""
    cells = zip(*table.rows, strict=True) if table.rows else [()] * len(table.columns)
    bounds = [_bound(*each, size, lines) for each in zip(table.columns, cells, strict=True)]
    return [
        (least + gutter, most + gutter)
        for (least, most), gutter in zip(bounds, gutters(table.columns), strict=True)
    ]


def gutters(columns: Sequence[Column]) -> tuple[float, ...]:
    """The room to the right of each column; none after the last."""
    after = [
        WIDE_GUTTER if (left.align, right.align) == ("end", "start") else GUTTER
        for left, right in pairwise(columns)
    ]
    return (*after, 0.0)


def _bound(column: Column, cells: Iterable[Cell], size: float, lines: int) -> tuple[float, float]:
    """Least and natural width of a column whose title takes so many lines, 1 or 2."""
    texts = {plain_text(cell) for cell in cells}
    most = max((measured(text, size) for text in texts), default=0.0)
    whole = column.short or column.align == "end" or most <= KEPT
    least = most if whole else max((longest_piece(text, size) for text in texts), default=0.0)
    least = min(least, LONGEST_PIECE)
    head = size * HEAD_SIZE / TABLE_SIZE
    title = measured(str(column.title), head)
    # three lines; a short title of Chinese or Japanese signs has no seams and stays whole
    part = 1.0 if title <= SIGNS and has_signs(str(column.title)) else 0.42
    piece = min(max(longest_piece(str(column.title), head), title * part), LONGEST_PIECE)
    if lines > 1 and title > SHORT_TITLE:
        title *= 0.62  # halves are seldom equal
    return max(least, piece, EMPTY), max(most, piece, title, EMPTY)


@dataclass(frozen=True, slots=True)
class Facts:
    """A fact list in columns: for each how many entries; widths of a column and of its labels."""

    counts: tuple[int, ...]
    column: float
    label: float


def fact_columns(facts: FactList, room: float) -> Facts:
    """The number of columns that makes the list lowest, if its values have room."""
    best: tuple[int, Facts] | None = None
    for number in range(1, min(FACT_COLUMNS, max(1, len(facts.entries) // 2)) + 1):
        column = (room - (number - 1) * GAP) / number
        label, value = _labels(facts, column)
        if number > 1 and value < LEAST_VALUE:
            break
        lines = [_lines(str(name), said, label, value) for name, said in facts.entries]
        counts = _balanced(lines, number)
        starts = [sum(counts[:at]) for at in range(number)]
        high = max(sum(lines[a : a + n]) for a, n in zip(starts, counts, strict=True))
        if best is None or high < best[0]:
            best = (high, Facts(counts, column, label))
    assert best is not None
    return best[1]


def _labels(facts: FactList, column: float) -> tuple[float, float]:
    """Widths of labels and of values in a column."""
    widest = max((measured(str(name), TABLE_SIZE) for name, _ in facts.entries), default=0.0)
    label = min(widest, column * MOST_LABEL)
    return label, column - label - LABEL_GAP


def _lines(name: str, said: Cell, label: float, value: float) -> int:
    return max(
        math.ceil(measured(name, TABLE_SIZE) / max(label, 1.0) - 0.001),
        math.ceil(measured(plain_text(said), TABLE_SIZE) / max(value, 1.0)),
        1,
    )


def _balanced(lines: Sequence[int], number: int) -> tuple[int, ...]:
    """How many entries each column gets, in order, so that the highest is as low as can be."""
    for most in range(max(lines, default=1), sum(lines) + 1):
        counts = [0]
        high = 0
        for each in lines:
            if high + each > most:
                counts.append(0)
                high = 0
            counts[-1] += 1
            high += each
        if len(counts) <= number:
            return (*counts, *[0] * (number - len(counts)))
    return (len(lines), *[0] * (number - 1))


def rows_of(block: Table | FactList) -> int:
    return len(block.rows) if isinstance(block, Table) else len(block.entries)


def asked(block: Table | FactList) -> tuple[float, float]:
    """The least and the natural width of what may stand beside something else."""
    if isinstance(block, Table):
        whole = natural(block).total
        return whole, whole
    label = (
        max((measured(str(name), TABLE_SIZE) for name, _ in block.entries), default=0.0) + LABEL_GAP
    )
    value = max((measured(plain_text(s), TABLE_SIZE) for _, s in block.entries), default=0.0)
    title = max(measured(str(block.title), TABLE_SIZE, bold=True), EMPTY)
    return max(title, label + min(value, 92.0)), max(title, label + min(value, 260.0))


@dataclass(frozen=True, slots=True)
class Row:
    """Blocks side by side, each with its breadth."""

    blocks: tuple[Table | FactList, ...]
    widths: tuple[float, ...]


def side_by_side(blocks: Sequence[Block], room: float) -> list[Block | Row]:
    """The blocks, with short lists and narrow tables that follow one another in rows."""
    made: list[Block | Row] = []
    held: list[Table | FactList] = []
    for block in blocks:
        if isinstance(block, Table | FactList) and rows_of(block) <= MOST_ROWS:
            if held and _together([*held, block]) > room:
                made.append(_row(held, room))
                held = []
            held.append(block)
            continue
        if held:
            made.append(_row(held, room))
            held = []
        made.append(block)
    if held:
        made.append(_row(held, room))
    return made


def _together(blocks: Sequence[Table | FactList]) -> float:
    return sum(asked(each)[0] for each in blocks) + GAP * (len(blocks) - 1)


def _row(blocks: Sequence[Table | FactList], room: float) -> Block | Row:
    """The blocks in a row; what is left of the room goes to those that ask for more."""
    if len(blocks) == 1:
        return blocks[0]
    bounds = [asked(each) for each in blocks]
    free = room - GAP * (len(blocks) - 1)
    least = sum(low for low, _ in bounds)
    more = [most - low for low, most in bounds]
    if sum(more) > free - least:
        share = (free - least) / sum(more)
        return Row(
            tuple(blocks),
            tuple(low + each * share for (low, _), each in zip(bounds, more, strict=True)),
        )
    wanted = sum(most for _, most in bounds)
    return Row(tuple(blocks), tuple(most * free / wanted for _, most in bounds))
