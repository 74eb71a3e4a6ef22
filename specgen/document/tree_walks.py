"""Walks over a tree: its runs of words, its anchors, what lies within a block, where links lead."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    Emphasis,
    FactList,
    Figure,
    Footnote,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Paragraph,
    Quote,
    Strong,
    Table,
    TermList,
    Tick,
)
from specgen.document.tree_image import Image

if TYPE_CHECKING:
    from specgen.images.prepared import Rendition

Blocks = tuple[Block, ...]


def within(block: Block) -> Iterator[Blocks]:
    """The runs of blocks that stand in a block."""
    match block:
        case Listing(items):
            yield from items
        case TermList(entries):
            for _, meanings in entries:
                yield from meanings
        case Caution(children=inner) | Quote(inner) | Image(below=inner):
            yield inner


def changed_within(block: Block, change: Callable[[Blocks], Blocks]) -> Block:
    """The block with each run of blocks that stands in it changed; itself where none does."""
    match block:
        case Listing(items):
            return replace(block, items=tuple(map(change, items)))
        case TermList(entries):
            changed = ((term, tuple(map(change, meanings))) for term, meanings in entries)
            return TermList(tuple(changed))
        case Caution(children=inner) | Quote(inner):
            return replace(block, children=change(inner))
        case Image():
            return replace(block, below=change(block.below))
        case _:
            return block


def with_cells(block: Block, change: Callable[[Cell], Cell]) -> Block:
    """The block with each run of words in it changed, those in blocks within it too."""
    match block:
        case Heading(children=children) | Paragraph(children):
            block = replace(block, children=change(children))
        case Table(rows=rows, note=note):
            changed = tuple(tuple(map(change, row)) for row in rows)
            block = replace(block, rows=changed, note=change(note))
        case FactList(entries=facts):
            block = replace(block, entries=tuple((label, change(cell)) for label, cell in facts))
        case Image():
            block = replace(block, credit=change(block.credit))
        case TermList(entries=terms):
            block = TermList(tuple((change(term), meanings) for term, meanings in terms))
    return changed_within(block, lambda inner: tuple(with_cells(each, change) for each in inner))


def begins_with_box(item: Blocks) -> bool:
    """Whether an item of a list is one to tick off."""
    match item:
        case (Paragraph((Tick(), *_)), *_):
            return True
    return False


def leaves(inlines: Iterable[Inline]) -> Iterator[Inline]:
    """What is within strong and slanted words and links, in its order."""
    for each in inlines:
        if isinstance(each, (Strong, Emphasis, Hyperlink)):
            yield from leaves(each.children)
        else:
            yield each


def cells_of(blocks: Iterable[Block]) -> Iterator[Cell]:
    """Every run of words in blocks, in their order; those of a footnote after what refers to it."""
    for block in blocks:
        for cell in _cells(block):
            yield cell
            for each in leaves(cell):
                if isinstance(each, Footnote):
                    yield from cells_of(each.children)
        for inner in within(block):
            yield from cells_of(inner)


def _cells(block: Block) -> Iterator[Cell]:
    match block:
        case Heading(children=children) | Paragraph(children):
            yield children
        case Table(rows=rows, note=note):
            yield from (cell for row in rows for cell in row)
            yield note
        case FactList(entries=facts):
            yield from (cell for _, cell in facts)
        case Image(credit=credit):
            yield credit
        case TermList(entries=terms):
            yield from (term for term, _ in terms)


def anchors_of(blocks: Iterable[Block]) -> Iterator[str]:
    """The anchors that links within a document can lead to."""
    for block in blocks:
        match block:
            case Heading(anchor=anchor) | Figure(anchor=anchor) | Image(anchor=anchor):
                yield anchor
            case Table(anchor=anchor, anchors=anchors):
                yield from (anchor, *anchors)
        for inner in within(block):
            yield from anchors_of(inner)


def renditions_of(blocks: Iterable[Block]) -> "Iterator[Rendition]":
    """The files of the pictures in blocks that are shown on a screen."""
    for block in blocks:
        if isinstance(block, Image):
            yield from (*block.screen, *block.dark)
        for inner in within(block):
            yield from renditions_of(inner)


def targets_of(inlines: Iterable[Inline]) -> Iterator[str]:
    """Where links in words lead, those within other marks too."""
    for each in inlines:
        if isinstance(each, Hyperlink):
            yield each.target
        if isinstance(each, (Strong, Emphasis, Hyperlink)):
            yield from targets_of(each.children)
