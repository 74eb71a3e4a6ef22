"""What stands in a document tree, in its order: runs of words, anchors, where links lead."""

from collections.abc import Iterable, Iterator

from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    Emphasis,
    FactList,
    Figure,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Paragraph,
    Quote,
    Strong,
    Table,
)


def leaves(inlines: Iterable[Inline]) -> Iterator[Inline]:
    """What is within strong and slanted words and links, in its order."""
    for each in inlines:
        if isinstance(each, (Strong, Emphasis, Hyperlink)):
            yield from leaves(each.children)
        else:
            yield each


def cells_of(blocks: Iterable[Block]) -> Iterator[Cell]:
    """Every run of words in blocks, in their order."""
    for block in blocks:
        match block:
            case Heading(children=children) | Paragraph(children):
                yield children
            case Table(rows=rows, note=note):
                yield from (cell for row in rows for cell in row)
                yield note
            case FactList(entries=entries):
                yield from (cell for _, cell in entries)
            case Listing(items):
                for item in items:
                    yield from cells_of(item)
            case Caution(children=inner) | Quote(inner):
                yield from cells_of(inner)


def anchors_of(blocks: Iterable[Block]) -> Iterator[str]:
    """The anchors that links within a document can lead to."""
    for block in blocks:
        match block:
            case Heading(anchor=anchor) | Figure(anchor=anchor):
                yield anchor
            case Table(anchor=anchor, anchors=anchors):
                yield from (anchor, *anchors)
            case Listing(items):
                for item in items:
                    yield from anchors_of(item)
            case Caution(children=inner) | Quote(inner):
                yield from anchors_of(inner)


def targets_of(inlines: Iterable[Inline]) -> Iterator[str]:
    """Where links in words lead, those within other marks too."""
    for each in inlines:
        if isinstance(each, Hyperlink):
            yield each.target
        if isinstance(each, (Strong, Emphasis, Hyperlink)):
            yield from targets_of(each.children)
