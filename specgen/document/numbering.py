"""Running numbers of the tables and figures of a document that is referred to by them."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

from specgen.document.tree import Block, Document, Figure, Table
from specgen.document.tree_image import Image
from specgen.messages import say


def numbered(document: Document) -> Document:
    """The document with a number before each title of a table and each caption of a figure."""
    return replace(document, blocks=tuple(_counted(document.blocks)))


def _counted(blocks: tuple[Block, ...]) -> Iterator[Block]:
    tables, figures = count(1), count(1)
    for block in blocks:
        match block:
            case Table() if block.title:
                title = say("Table {number}. {title}", number=next(tables), title=block.title)
                yield replace(block, title=title)
            case Figure() | Image() if block.title and block.captioned:
                title = say("Figure {number}. {title}", number=next(figures), title=block.title)
                yield replace(block, title=title, numbered=True)
            case _:
                yield block
