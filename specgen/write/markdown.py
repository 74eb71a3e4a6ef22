"""The tree as Markdown that a person reviews line by line.

One blank line between blocks, one line a paragraph or a sentence of a long one, one line a row. The
width of a column moves in steps, so that a changed cell changes its own line and seldom its
neighbours.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import chain
from typing import Final

from specgen.diagnostics.glyphs import width
from specgen.document.figure_text import in_words
from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    Column,
    Document,
    Emphasis,
    FactList,
    Figure,
    Footnote,
    Heading,
    Listing,
    Paragraph,
    Quote,
    Strong,
    Table,
    TermList,
    Text,
    ThematicBreak,
    Verbatim,
    words,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import anchors_of, cells_of, targets_of
from specgen.write.marks import folded, line_of, lines_of
from specgen.write.writer_options import (
    FACT,
    PICTURE,
    PICTURES,
    VALUE,
    Options,
    Resolve,
    address,
    caution_title,
    nowhere,
    worded,
)

_STEP: Final = 8
"""Columns of a table are as wide as a multiple of this, in columns of a terminal."""
_WIDEST: Final = 48
"""A longer cell sticks out instead of widening its column."""


def body(document: Document, resolve: Resolve = nowhere, pictures: str = PICTURES) -> str:
    """The document as Markdown, ending in a line break; `resolve` turns references to addresses.

    Files of pictures lie in the folder `pictures`, seen from the document.
    """
    out = _MarkdownWriter(resolve, document, pictures)
    return "\n".join(_with_gaps(out.document(document))) + "\n"


def page(document: Document, options: Options | None = None) -> bytes:
    """The document as a file in UTF-8."""
    options = options or Options()
    return body(document, options.resolve, options.pictures).encode()


_Lines = list[str]
_ANCHOR = re.compile(r"[\w.-]+")
_DASHES = re.compile("[- ]+")


def _with_gaps(chunks: Iterable[_Lines]) -> Iterator[str]:
    for number, lines in enumerate(filter(None, chunks)):
        if number:
            yield ""
        yield from lines


class _MarkdownWriter:
    def __init__(self, resolve: Resolve, document: Document, pictures: str) -> None:
        self.pictures = pictures
        self.resolve = resolve
        self.language = document.language
        wanted = {
            target[1:]
            for cell in cells_of(document.blocks)
            for target in targets_of(cell)
            if target.startswith("#")
        }
        there = (each for each in anchors_of(document.blocks) if _ANCHOR.fullmatch(each))
        self.led_to = wanted.intersection(there)
        """Anchors of the document that something leads to: these alone are written."""
        self.word = partial(worded, tag=document.language)
        self.notes: dict[Footnote, int] = {}
        """The footnotes that the text has come to, with their numbers."""
        self.line = partial(line_of, leads=self.leads, number=self.number)
        self.cell = partial(line_of, leads=self.leads, number=self.number, in_cell=True)

    def number(self, note: Footnote) -> int:
        return self.notes.setdefault(note, len(self.notes) + 1)

    def footnotes(self) -> Iterator[_Lines]:
        for note, number in self.notes.items():
            first, *rest = _with_gaps(self.blocks(note.children)) if note.children else ("",)
            yield [f"[^{number}]: {first}".rstrip(), *(f"    {line}".rstrip() for line in rest)]

    def leads(self, target: str) -> str | None:
        """The address of a link; where the document has no such anchor, its words stand alone."""
        if target.startswith("#") and target[1:] not in self.led_to:
            return None
        return address(target, self.resolve)

    def anchor(self, anchor: str) -> str:
        """The place that a link leads to, which no two readers of Markdown name alike by itself."""
        return f'<a id="{anchor}"></a>' if anchor in self.led_to else ""

    def document(self, document: Document) -> Iterator[_Lines]:
        yield self.heading(1, words(document.title))
        if document.mark:
            yield self.paragraph((Strong(words(document.mark)),))
        if str(document.subtitle).strip():
            yield self.paragraph((Emphasis(words(document.subtitle)),))
        items = tuple(
            (Paragraph((Strong((Text(f"{label}:"),)), Text(f" {text}"))),)
            for label, text in document.meta
        )
        yield from self.blocks((Listing(items), *document.blocks))
        yield from self.footnotes()

    def blocks(self, blocks: Sequence[Block]) -> Iterator[_Lines]:
        """The lines of each block; of two lists in a row the second gets another marker."""
        last, other = None, False  # the sort of the list that was written last, its marker
        for block in blocks:
            if isinstance(block, TermList):
                block = _as_listing(block)
            if isinstance(block, Listing):
                other = last is (block.first is None) and not other
                chunks = iter((self.listing(block, other=other),))
            else:
                chunks = self.block(block)
            for lines in filter(None, chunks):
                last = block.first is None if isinstance(block, Listing) else None
                yield lines

    def block(self, block: Block) -> Iterator[_Lines]:
        match block:
            case Heading(level, children, anchor):
                yield self.heading(level, children, anchor)
            case Paragraph(children):
                yield self.paragraph(children)
            case Table():
                yield self.named(str(block.title), block.anchor)
                yield self.grid(block.columns, block.rows, block.anchors)
                yield self.paragraph(block.note)
            case FactList(title, entries):
                columns = (Column(title or self.word(FACT)), Column(self.word(VALUE)))
                yield self.grid(columns, [(words(label), value) for label, value in entries])
            case Figure(title, _, _, anchor, captioned, is_numbered):
                word = self.word(PICTURE)
                caption = str(title) if is_numbered else f"{word}: {title}" if title else word
                yield self.named(caption if captioned else "", anchor)
                yield from self.blocks(in_words(block))
            case Image():
                yield self.named(str(block.title) if block.captioned else "", block.anchor)
                yield [f"![{self.line(words(block.text))}]({self.pictures}{block.screen[-1].name})"]
                yield self.paragraph((Emphasis(block.credit),)) if block.credit else []
                yield from self.blocks(block.below)
            case Caution():
                title = caution_title(block, self.language)
                yield self.quote((Paragraph((Strong(words(title)),)), *block.children))
            case Quote(children):
                yield self.quote(children)
            case Verbatim(text, language):
                yield _fenced(text, language)
            case ThematicBreak():
                yield ["---"]
            case Listing() | TermList():  # stand among others, see `blocks`
                pass

    def heading(self, level: int, children: Cell, anchor: str = "") -> _Lines:
        words = self.anchor(anchor) + self.line(children)
        if words.endswith("#"):  # a closing row of `#` would be dropped
            words = words[:-1] + "\\#"
        return [f"{'#' * max(1, min(level, 6))} {words}".rstrip()]

    def paragraph(self, children: Cell) -> _Lines:
        return lines_of(children, self.leads, self.number)

    def named(self, title: str, anchor: str) -> _Lines:
        """The title of a table or a picture, and the place that a link leads to."""
        lines = self.paragraph((Strong((Text(title),)),))
        place = self.anchor(anchor)
        return [place + lines[0], *lines[1:]] if lines else [place] * bool(place)

    def quote(self, children: Sequence[Block]) -> _Lines:
        return [f"> {line}".rstrip() for line in _with_gaps(self.blocks(children))]

    def listing(self, listing: Listing, *, other: bool) -> _Lines:
        written = [list(filter(None, self.blocks(item))) or [[""]] for item in listing.items]
        tight = all(map(_is_tight, listing.items)) and not any(map(_underlines, written))
        items = [list(chain(*item) if tight else _with_gaps(item)) for item in written]
        bullet = "+" if other else "-"
        if bullet == "-" and any(_DASHES.fullmatch(item[0]) for item in items):
            bullet = "*"  # with a dash before it, the line would be a rule
        lines: _Lines = []
        first = listing.first
        for index, inner in enumerate(items):
            marker = bullet if first is None else f"{first + index}{')' if other else '.'}"
            indent = " " * (len(marker) + 1)
            if lines and not tight:
                lines.append("")
            lines.append(f"{marker} {inner[0]}".rstrip())
            lines += [f"{indent}{line}".rstrip() for line in inner[1:]]
        return lines

    def grid(
        self,
        columns: Sequence[Column],
        rows: Sequence[Sequence[Cell]],
        anchors: Sequence[str] = (),
    ) -> _Lines:
        """A pipe table, padded, numbers to the right; rows that something leads to have a place."""
        cell = self.cell
        text = [[cell(words(column.title)) for column in columns]]
        text += [[cell(each) for each in row] for row in rows]
        for row, anchor in zip(text[1:], anchors, strict=False):
            row[0] = self.anchor(anchor) + row[0]
        widths = [_room(column) for column in zip(*text, strict=True)]
        to_end = [column.align == "end" for column in columns]
        lines = [_row(row, widths, to_end) for row in text]
        marks = ["-" * (wide - end) + ":" * end for wide, end in zip(widths, to_end, strict=True)]
        return [lines[0], f"| {' | '.join(marks)} |", *lines[1:]]


def _as_listing(terms: TermList) -> Listing:
    """Terms as a list, which every reader of Markdown knows."""
    items = ((Paragraph((Strong(term),)), *chain(*meanings)) for term, meanings in terms.entries)
    return Listing(tuple(items))


def _is_tight(item: tuple[Block, ...]) -> bool:
    """Whether an item is a line, with a list under it or without.

    A list that does not begin with 1 is told from the line above it by an empty one alone.
    Source: CommonMark 0.31, 5.3.
    """
    match item:
        case () | (Paragraph(),):
            return True
        case (Paragraph(), Listing(first=None | 1)):
            return True
    return False


def _underlines(chunks: Sequence[_Lines]) -> bool:
    """Whether a list under a paragraph begins with an empty item, which would underline it."""
    return len(chunks) > 1 and not chunks[1][0].lstrip("-+*.)0123456789")


def _room(cells: Iterable[str]) -> int:
    longest = max(min(width(each), _WIDEST) for each in cells)
    return max(_STEP, -(-longest // _STEP) * _STEP)


def _row(cells: Iterable[str], widths: Iterable[int], to_end: Iterable[bool]) -> str:
    padded = []
    for each, wide, end in zip(cells, widths, to_end, strict=True):
        gap = " " * (wide - width(each))
        padded.append(gap + each if end else each + gap)
    return f"| {' | '.join(padded)} |"


def _fenced(text: str, language: str) -> _Lines:
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * max(3, longest + 1)
    info = re.sub(r"[\s`]+", "", folded(language))
    return [fence + info, *map(_kept, text.rstrip("\n").split("\n")), fence]


def _kept(line: str) -> str:
    """A line of a sample, with its blanks and without control characters."""
    lead = line[: len(line) - len(line.lstrip(" "))]
    return lead + folded(line).lstrip(" ")
