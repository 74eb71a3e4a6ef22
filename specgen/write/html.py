"""The tree as HTML: the article for a page of the site, and one self-contained file.

Written by joining strings: a table of two hundred rows is the common case, and a thousand
documents are written in a run. Every text passes `_text`, every attribute `_text` in double
quotes; the only markup that comes from elsewhere is a picture's drawing.
"""

import base64
import hashlib
from collections.abc import Iterable, Iterator
from typing import Final

from specgen.document.figure_text import in_words
from specgen.document.link_targets import ELSEWHERE, leads_away
from specgen.document.tree import (
    Block,
    Break,
    Caution,
    Cell,
    Column,
    Document,
    Emphasis,
    FactList,
    Figure,
    Footnote,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Literal,
    Paragraph,
    Quote,
    Strong,
    Table,
    TermList,
    Text,
    ThematicBreak,
    Tick,
    Value,
    Verbatim,
    plain_text,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import begins_with_box
from specgen.drawings.picture import written
from specgen.messages import Words
from specgen.write.carried import in_html
from specgen.write.html_image import image_open
from specgen.write.html_pieces import (
    CAUTION_CLOSE,
    NOTES_CLOSE,
    caution_open,
    footnote_mark,
    note_open,
    notes_open,
    tick,
    way_back,
)
from specgen.write.html_text import NOT_HTML, parted, printed_value, text_of, without_links
from specgen.write.writer_options import (
    IN_WORDS,
    PICTURE,
    TABLE,
    Options,
    Resolve,
    address,
    named,
    nowhere,
    worded,
)

CARDS: Final = 4
"""Columns of a table of which each row is a card on a phone."""
BRIEF: Final = 14
"""Letters of a cell that stands beside two others on a phone."""


def body(document: Document, resolve: Resolve = nowhere, pictures: str | None = None) -> str:
    """The document as one `<article>`; `resolve` turns references into addresses.

    Files of pictures lie in the folder `pictures`, seen from the page; None puts them into it.
    """
    out = _HtmlWriter(resolve, document, pictures)
    out.document(document)
    return "".join(out.parts)


def fragment(
    blocks: Iterable[Block], language: str, resolve: Resolve, pictures: str | None = None
) -> str:
    """Blocks that stand in a page which somebody has written."""
    out = _HtmlWriter(resolve, Document("", (), language=language), pictures)
    out.blocks(blocks)
    return "".join(out.parts)


def page(document: Document, options: Options | None = None) -> bytes:
    """The document as one file that holds all it needs, in UTF-8.

    It runs no script and asks no host for anything: its policy allows its own style sheet only.
    """
    options = options or Options()
    # A style sheet ends at `</style`; in CSS the backslash before the stroke changes nothing.
    style = options.style.replace("\r\n", "\n").replace("\r", "\n").replace("</", "<\\/")
    style = NOT_HTML.sub("", style)
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:"
    head = (
        f'<!DOCTYPE html>\n<html lang="{text_of(document.language)}">\n<head>\n'
        '<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        f"<title>{text_of(named(document))}</title>\n"
        f"<style>{style}</style>\n</head>\n<body>\n<main>\n"
    )
    return f"{head}{body(document, options.resolve)}</main>\n</body>\n</html>\n".encode()


class _HtmlWriter:
    def __init__(self, resolve: Resolve, document: Document, pictures: str | None) -> None:
        self.pictures = pictures
        self.parts: list[str] = []
        self.add = self.parts.append
        self.resolve = resolve
        self.language = document.language
        self.foreign = dict(document.foreign)
        self.notes: dict[Footnote, int] = {}
        """The footnotes that the text has come to, with their numbers."""
        self.under = ""
        """The anchor of the heading above, which names a table without a title of its own."""

    def tongue(self, text: Words) -> str:
        """The attribute that says the language of a text, where it is not the document's."""
        language = self.foreign.get(str(text))
        return f' lang="{text_of(language)}"' if language else ""

    def document(self, document: Document) -> None:
        self.add('<article class="document">\n<header class="document-head">\n')
        if document.mark:
            self.add(f'<p class="page-mark"><strong>{text_of(document.mark)}</strong></p>\n')
        self.add(f"<h1{self.tongue(document.title)}>{text_of(document.title)}</h1>\n")
        if document.subtitle:
            tongue = self.tongue(document.subtitle)
            self.add(f'<p class="subtitle"{tongue}>{text_of(document.subtitle)}</p>\n')
        if document.meta:
            self.add('<dl class="meta">\n')
            for label, text in document.meta:
                self.add(f"<div><dt>{text_of(label)}</dt><dd>{text_of(text)}</dd></div>\n")
            self.add("</dl>\n")
        self.add("</header>\n")
        self.blocks(document.blocks)
        self.footnotes()
        if document.record is not None:
            self.add(in_html(document.record))
        self.add("</article>\n")

    def blocks(self, blocks: Iterable[Block]) -> None:
        for block in blocks:
            self.block(block)

    def block(self, block: Block) -> None:
        match block:
            case Heading(level, children, anchor):
                level, self.under = max(2, min(level, 6)), anchor
                self.add(f"<h{level}{_id(anchor)}>{self.cell(children)}</h{level}>\n")
            case Paragraph(children):
                self.add(f"<p>{self.cell(children)}</p>\n")
            case Table():
                self.table(block)
            case FactList(title, entries):
                self.facts(title, entries)
            case TermList(entries=terms):
                self.terms(terms)
            case Listing():
                self.listing(block)
            case Figure():
                self.figure(block)
            case Image():
                self.image(block)
            case Caution():
                self.caution(block)
            case Quote(children):
                self.add("<blockquote>\n")
                self.blocks(children)
                self.add("</blockquote>\n")
            case Verbatim(text, language):
                kind = f' class="language-{text_of(language)}"' if language else ""
                self.add(f'<pre tabindex="0"><code{kind}>{text_of(text)}</code></pre>\n')
            case ThematicBreak():
                self.add("<hr>\n")

    def listing(self, listing: Listing) -> None:
        tag = "ul" if listing.first is None else "ol"
        start = f' start="{listing.first}"' if listing.first not in (None, 1) else ""
        self.add(f"<{tag}{start}>\n")
        for item in listing.items:
            self.add(f"<li{_TASK}>" if begins_with_box(item) else "<li>")
            match item:
                case (Paragraph(children), *rest) if all(isinstance(x, Listing) for x in rest):
                    self.add(self.cell(children))
                    self.blocks(rest)
                case _:
                    self.blocks(item)
            self.add("</li>\n")
        self.add(f"</{tag}>\n")

    def table(self, table: Table) -> None:
        title = text_of(table.title)
        label = f'aria-label="{title or worded(TABLE, self.language)}"'
        if not title and self.under:
            label = f'aria-labelledby="{text_of(self.under)}"'
        tongue = self.tongue(table.title)
        kind = "table beside" if table.beside else "table"
        self.add(f'<figure class="{kind}"{_id(table.anchor)}>')
        if title and table.anchor:
            caption = text_of(table.anchor) + "-t"
            label = f'aria-labelledby="{caption}"'
            self.add(f'<figcaption id="{caption}"{tongue}>{title}</figcaption>')
        elif title:
            self.add(f"<figcaption{tongue}>{title}</figcaption>")
        self.add(f'\n<div class="scroll" role="region" {label} tabindex="0"><table>\n<thead><tr>')
        self.add("".join(map(self.column, table.columns)))
        self.add("</tr></thead>\n<tbody>\n")
        self.rows(table)
        self.add("</tbody>\n</table></div>\n")
        if table.note:
            self.add(f'<p class="table-note">{self.cell(table.note)}</p>\n')
        self.add("</figure>\n")

    def column(self, column: Column) -> str:
        if not str(column.title).strip():
            return f"<td{_kind(column)}></td>"
        tongue = self.tongue(column.title)
        return f'<th scope="col"{_kind(column)}{tongue}>{text_of(column.title)}</th>'

    def rows(self, table: Table) -> None:
        cell = self.cell
        narrow = len(table.columns) < CARDS
        frames = [
            _frame(column, not narrow and _brief(row[at] for row in table.rows))
            for at, column in enumerate(table.columns)
        ]
        anchors = table.anchors or ("",) * len(table.rows)
        for row, anchor in zip(table.rows, anchors, strict=True):
            inner = [
                before + cell(each) + after
                for (before, after), each in zip(frames, row, strict=True)
            ]
            if table.beside:
                inner[0] = inner[0].replace("<th", f"<th{_unit_of(row)}", 1)
            self.add(f"<tr{_id(anchor)}>{''.join(inner)}</tr>\n")

    def facts(self, title: Words, entries: tuple[tuple[Words, Cell], ...]) -> None:
        label = f' aria-label="{text_of(title)}"' if title else ""
        self.add(f'<dl class="facts"{label}>\n')
        for name, cell in entries:
            inner = f"<dt{self.tongue(name)}>{text_of(name)}</dt><dd>{self.cell(cell)}</dd>"
            self.add(f"<div>{inner}</div>\n")
        self.add("</dl>\n")

    def terms(self, entries: tuple[tuple[Cell, tuple[tuple[Block, ...], ...]], ...]) -> None:
        self.add('<dl class="terms">\n')
        for term, meanings in entries:
            self.add(f"<dt>{self.cell(term)}</dt>\n")
            for each in meanings:
                self.add("<dd>")
                match each:
                    case (Paragraph(children),):
                        self.add(self.cell(children))
                    case _:
                        self.blocks(each)
                self.add("</dd>\n")
        self.add("</dl>\n")

    def footnotes(self) -> None:
        """What the footnotes say, each with a way back to the text."""
        if not self.notes:
            return
        self.add(notes_open(self.language))
        for note, number in self.notes.items():
            self.add(note_open(number))
            self.blocks(note.children)
            self.add(f"{way_back(number, self.language)}</li>\n")
        self.add(NOTES_CLOSE)

    def footnote(self, note: Footnote) -> str:
        again, number = note in self.notes, self.notes.setdefault(note, len(self.notes) + 1)
        return footnote_mark(number, self.language, again=again)

    def caution(self, caution: Caution) -> None:
        self.add(caution_open(caution, self.language))
        self.blocks(caution.children)
        self.add(CAUTION_CLOSE)

    def figure(self, figure: Figure) -> None:
        title = text_of(figure.title or worded(PICTURE, self.language))
        caption = f"<figcaption>{title}</figcaption>" if figure.captioned else ""
        self.add(
            f'<figure class="picture"{_id(figure.anchor)}>{caption}\n'
            f'<div class="drawing scroll" role="region" aria-label="{title}" tabindex="0">'
            f"{written(figure.picture).strip()}</div>\n"
        )
        if in_words(figure):
            summary = f"<summary>{text_of(worded(IN_WORDS, self.language))}</summary>"
            self.add(f'<details class="in-words">{summary}')
            self.blocks(in_words(figure))
            self.add("</details>\n")
        self.add("</figure>\n")

    def image(self, image: Image) -> None:
        tongue, credit = self.tongue(image.title), self.cell(image.credit)
        self.add(image_open(image, self.pictures, _id(image.anchor), tongue, credit))
        self.blocks(image.below)
        self.add("</figure>\n")

    def cell(self, inlines: Cell) -> str:
        if len(inlines) == 1:  # most cells of most tables
            only = inlines[0]
            if type(only) is Text and not self.foreign:
                return parted(text_of(only.text))
            return self.inline(only)
        return "".join([self.inline(each) for each in inlines])

    def inline(self, inline: Inline) -> str:
        match inline:
            case Text(text):
                inner = parted(text_of(text))
                tongue = self.tongue(text)
                return f"<span{tongue}>{inner}</span>" if tongue else inner
            case Value():
                return printed_value(inline)
            case Literal(text):
                return f"<code>{text_of(text)}</code>"
            case Strong(children):
                return f"<strong>{self.cell(children)}</strong>"
            case Emphasis(children):
                return f"<em>{self.cell(children)}</em>"
            case Hyperlink(children, target):
                return self.link(children, target)
            case Break():
                return "<br>"
            case Tick(done):
                return tick(done, self.language)
            case Footnote():
                return self.footnote(inline)
            case _:  # what has no words yet is read in English
                return text_of(plain_text((inline,)))

    def link(self, children: Cell, target: str) -> str:
        leads = address(target, self.resolve)
        if leads is None:
            return self.cell(children)
        away = f' rel="{ELSEWHERE}"' if leads_away(leads) else ""
        return f'<a href="{text_of(leads)}"{away}>{self.cell(without_links(children))}</a>'


_TASK: Final = ' class="task"'


def _id(anchor: str) -> str:
    return f' id="{text_of(anchor)}"' if anchor else ""


def _unit_of(row: tuple[Cell, ...]) -> str:
    """The unit of a row, where all values in it have the same: a phone shows it once."""
    units = {value.unit for cell in row for value in _values(cell)}
    return f' data-unit="{text_of(*units)}"' if len(units) == 1 and any(units) else ""


def _values(cell: Cell) -> Iterator[Value]:
    for inline in cell:
        match inline:
            case Value():
                yield inline
            case Strong(children) | Emphasis(children) | Hyperlink(children):
                yield from _values(children)


def _kind(column: Column, brief: bool = False) -> str:
    plain = brief and column.align != "end" and not column.short
    marks = (
        *(("num", column.align == "end"), ("short", column.short)),
        *(("brief", plain), ("own", column.own)),
    )
    kinds = " ".join(word for word, holds in marks if holds)
    return f' class="{kinds}"' if kinds else ""


def _brief(cells: Iterable[Cell]) -> bool:
    return all(len(plain_text(cell)) <= BRIEF for cell in cells)


def _frame(column: Column, brief: bool) -> tuple[str, str]:
    """What stands before and after a cell of the column."""
    if column.header:
        return f'<th scope="row"{_kind(column)}>', "</th>"
    if not str(column.title).strip():
        return f"<td{_kind(column)}>", "</td>"
    return f'<td{_kind(column, brief)} data-title="{text_of(column.title)}">', "</td>"
