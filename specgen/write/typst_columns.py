"""What the typesetter has to know of a table's columns to share out the width of a page."""

from collections.abc import Iterable, Iterator, Sequence

from specgen.document.tree import Cell, Column, Literal, Table, Value, plain_text
from specgen.document.tree_walks import leaves
from specgen.write.typst_text import LONG_DATA, LONGEST, folded, longest_piece, string, title_piece


def by_column(table: Table) -> Iterable[Sequence[Cell]]:
    """The cells of each column; none where a table has no rows."""
    return zip(*table.rows, strict=True) if table.rows else [()] * len(table.columns)


def column_of(column: Column, cells: Sequence[Cell]) -> str:
    """What the typesetter has to know of a column besides its cells."""
    align = "right" if column.align == "end" else "left"
    own = ", own: true" if column.own else ""
    title = string(title_piece(column.title))
    if column.short:
        return f"column({align}, {title}, whole: true{own})"
    words = [longest_piece(plain_text(cell)) for cell in cells]
    words += [word for cell in cells for word in _kept_words(cell)]
    word = string(max(words, key=len, default=""))
    return f"column({align}, {title}, word: {word}{_code_in(cells)}{own})"


def _kept_words(cell: Cell) -> Iterator[str]:
    """Numbers of a cell with their units: what `plain_text` does not know to be in one piece."""
    for each in cell:
        if isinstance(each, Value) and is_number(each):
            yield f"{each.number}{each.room} {each.unit}".rstrip()


def _code_in(cells: Iterable[Cell]) -> str:
    """The longest code of a column's cells, which is set in broader letters."""
    found = (each for cell in cells for each in leaves(cell) if isinstance(each, Literal))
    codes = [code for code in (folded(each.text) for each in found) if len(code) <= LONG_DATA]
    longest = max(codes, key=len, default="")
    return f", code: {string(longest)}" if longest else ""


def is_number(figure: Value) -> bool:
    """Whether a value counts for the width of its column's numbers."""
    return " " not in figure.number and is_one_line(figure)


def is_one_line(figure: Value) -> bool:
    """Whether a value is never broken over lines."""
    return figure.unbroken and len(figure.number) <= LONGEST
