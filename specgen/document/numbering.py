"""Running numbers of the tables and figures of a document that is referred to by them."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import count

from specgen.document.tree import (
    Block,
    Cell,
    Document,
    Emphasis,
    Figure,
    Footnote,
    Hyperlink,
    Inline,
    Strong,
    Table,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import with_cells
from specgen.messages import Message, say


def numbered(document: Document) -> Document:
    """The document with a number before each title of a table and each caption of a figure, and
    with these numbers where its texts refer to them."""
    numbers: dict[str, Message] = {}
    blocks = tuple(_counted(document.blocks, numbers))
    referring = _Referring(numbers)
    return replace(document, blocks=tuple(with_cells(each, referring.cell) for each in blocks))


def _counted(blocks: tuple[Block, ...], numbers: dict[str, Message]) -> Iterator[Block]:
    tables, figures = count(1), count(1)
    for block in blocks:
        match block:
            case Table() if block.title:
                number = next(tables)
                numbers[f"#{block.anchor}"] = say("Table {number}", number=number)
                title = say("Table {number}. {title}", number=number, title=block.title)
                yield replace(block, title=title)
            case Figure() | Image() if block.title and block.captioned:
                number = next(figures)
                numbers[f"#{block.anchor}"] = say("Figure {number}", number=number)
                title = say("Figure {number}. {title}", number=number, title=block.title)
                yield replace(block, title=title, numbered=True)
            case _:
                yield block


class _Referring:
    """Says the numbers where the words of links give way to them."""

    def __init__(self, numbers: Mapping[str, Message]) -> None:
        self.numbers = numbers

    def cell(self, cell: Cell) -> Cell:
        return tuple(map(self.inline, cell))

    def inline(self, inline: Inline) -> Inline:
        match inline:
            case Hyperlink(target=target, numbered=True) if target in self.numbers:
                return replace(inline, children=(self.numbers[target],))
            case Strong(children) | Emphasis(children):
                return replace(inline, children=self.cell(children))
            case Footnote(blocks):
                return Footnote(tuple(with_cells(each, self.cell) for each in blocks))
            case _:
                return inline
