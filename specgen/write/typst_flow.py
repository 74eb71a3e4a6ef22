"""Blocks that are set together on paper: drawings that text flows round, tables side by side."""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.document.tree import Block, Caution, FactList, Figure, Heading, Table, ThematicBreak
from specgen.document.tree_image import Image

FLOATING: Final = "floating"
IN_FLOW: Final = "in-flow"


def floating_in(blocks: Sequence[Block]) -> Iterator[int]:
    """Sections that are a drawing and nothing else, by their `id`s: text may flow round them."""
    after = (*blocks[2:], ThematicBreak())
    for heading, figure, end in zip(blocks, blocks[1:], after, strict=False):
        match heading, figure, end:
            case Heading(), Figure(), Heading() | ThematicBreak():
                yield from (id(heading), id(figure))


def together(block: Block, floating: frozenset[int], inner: bool) -> str:
    """What sets the block together with others of its sort that follow it, "" for nothing."""
    if id(block) in floating:
        return FLOATING
    match block:
        case Figure(picture=picture, captioned=True) if picture and not inner:
            return IN_FLOW
        case Image() if not inner:
            return IN_FLOW
        case FactList() | Table():
            return "side-by-side"
        case Caution():
            return "cautions"
    return ""
