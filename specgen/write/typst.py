"""The tree as source of Typst: calls of what `site/print/document.typ` defines, in code.

Every text is a string of the code, never markup, so that no letter of a definition is read as a
mark. The source is pure text: the same tree gives the same source, whoever sets it.
"""

import datetime
import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Final

from specgen.document.link_targets import leads_away
from specgen.document.tree import (
    Block,
    Break,
    Caution,
    Cell,
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
from specgen.document.tree_walks import begins_with_box, within
from specgen.drawings.picture import written
from specgen.messages import Words
from specgen.write.typst_columns import by_column, column_of, is_one_line
from specgen.write.typst_drawing import for_print, photo
from specgen.write.typst_flow import FLOATING, IN_FLOW, floating_in, together
from specgen.write.typst_text import (
    LONG_DATA,
    Piece,
    folded,
    last_word,
    pieces,
    seams,
    shows,
    string,
)
from specgen.write.writer_options import (
    FOLIO,
    PICTURE,
    TICKS,
    Options,
    address,
    caution_title,
    named,
    worded,
)

UNTITLED: Final = "\N{EN DASH}"
LONG_ROW: Final = 2500  # letters of a cell in a row that may be broken over pages
_LANGUAGE: Final = re.compile(r"([a-z]{2,3})(?:-[A-Z][a-z]{3})?(?:-([A-Z]{2}))?(?:-.*)?")
_ANCHOR: Final = re.compile(r"[\w.-]+")


def source(document: Document, options: Options | None = None) -> str:
    """The document as source of Typst; `document.typ` has to lie beside it."""
    options = options or Options()
    writer = _TypstWriter(document, options)
    lines = ['#import "document.typ": *', "", "#show: sheet.with("]
    lines += [f"  {name}: {value}," for name, value in _properties(document, options)]
    lines += [")", "", "#{", *(f"  {line}" for line in writer.blocks(document.blocks)), "}", ""]
    return "\n".join(lines)


def day(date: str) -> tuple[int, int, int] | None:
    """Year, month and day of a date, None for what is none."""
    try:
        on = datetime.date.fromisoformat(date)
    except ValueError:
        return None
    return (on.year, on.month, on.day)


def _properties(document: Document, options: Options) -> Iterator[tuple[str, str]]:
    title = folded(document.title).strip() if shows(document.title) else UNTITLED
    subtitle = folded(document.subtitle).strip()
    meta = [(folded(label), folded(value)) for label, value in document.meta]
    about = " \u00b7 ".join(f"{label} {value}" for label, value in meta if value.strip())
    yield "title", string(title)
    yield "named", string(folded(named(document)).strip() if shows(document.title) else title)
    yield "about", string(about) if about else "none"
    yield "subtitle", string(subtitle)
    if document.mark:
        yield "mark", string(folded(document.mark).strip())
    yield "meta", _array(f"({string(label)}, {string(value)})" for label, value in meta)
    yield "imprint", string(" \u00b7 ".join(_short(*each) for each in meta if each[1].strip()))
    yield "of", string(folded(worded(FOLIO, document.language)))
    publisher = folded(options.publisher).strip()
    yield "author", _array([string(publisher)] if publisher else [])
    on = day(options.date)
    yield "date", f"datetime(year: {on[0]}, month: {on[1]}, day: {on[2]})" if on else "none"
    found = _LANGUAGE.fullmatch(document.language)
    yield "lang", string(found[1] if found else "en")
    yield "region", string(found[2]) if found and found[2] else "none"
    yield "paper", string(options.paper)


def _short(label: str, value: str) -> str:
    """An entry of the head for the foot of a page: what speaks for itself stands alone."""
    return value if len(value) > 4 else f"{label} {value}"


def _array(items: Iterable[str]) -> str:
    """An array of Typst's code, which with one item needs a comma."""
    return f"({''.join(f'{item}, ' for item in items)})".replace(", )", ",)")


class _TypstWriter:
    def __init__(self, document: Document, options: Options) -> None:
        self.resolve = options.resolve
        self.level = 0
        self.notes: dict[Footnote, str] = {}
        """The footnotes that the text has come to, with their labels."""
        self.known = frozenset(_anchors(document.blocks))
        self.open = set(self.known)
        self.language = document.language
        self.foreign = dict(document.foreign)

    # --- blocks, each one line of code or more ---

    def blocks(self, blocks: Sequence[Block], *, inner: bool = False) -> Iterator[str]:
        shown = tuple(filter(_has_content, blocks))
        floating = frozenset(() if inner else floating_in(shown))
        for name, group in groupby(shown, lambda each: together(each, floating, inner)):
            if name == FLOATING:
                yield f"{name}({self.nested(tuple(group))})"
            elif name == IN_FLOW:
                yield from (f"{name}({self.nested((each,))})" for each in group)
            elif name:
                made = [f"    {line}," for each in group for line in self.block(each)]
                yield "\n".join([f"{'inner-' if inner else ''}{name}(", *made, "  )"])
            else:
                for each in group:
                    yield from self.block(each)

    def nested(self, blocks: Sequence[Block]) -> str:
        """Blocks within another, on one line."""
        return f"{{{'; '.join(self.blocks(blocks, inner=True))}}}" if blocks else "[]"

    def block(self, block: Block) -> Iterator[str]:
        match block:
            case Heading(level, children, anchor):
                yield self.heading(level, children, anchor)
            case Paragraph((Strong(),) as children):  # it leads to what follows
                yield f"lead-in({self.cell(children)})"
            case Paragraph(children):
                yield f"par({self.cell(children)})"
            case Table():
                yield self.table(block)
            case FactList():
                yield self.facts(block)
            case Listing(items, first):
                start = [f"start: {first}"] if first not in (None, 1) else []
                if first is None and all(map(begins_with_box, items)):
                    start = ["marker: [], body-indent: 0pt"]
                inner = ", ".join((*start, *map(self.nested, items)))
                yield f"{'list' if first is None else 'enum'}({inner})"
            case TermList(entries=terms):
                yield f"terms({', '.join(self.term(*each) for each in terms)})"
            case Figure():
                yield from self.figure(block)
            case Image():
                credit = self.cell(block.credit) if block.credit else ""
                yield self.anchored(photo(block, self.language, credit), block.anchor)
                yield from self.blocks(block.below, inner=True)
            case Caution():
                yield self.caution(block)
            case Quote(children):
                yield f"quote(block: true, quoted({self.nested(children)}))"
            case Verbatim(text):
                kept = "\n".join(map(_kept, text.rstrip("\n").split("\n")))
                yield f"lines({string(kept)})"
            case ThematicBreak():
                yield "across()"

    def term(self, term: Cell, meanings: tuple[tuple[Block, ...], ...]) -> str:
        said = "; parbreak(); ".join(map(self.flowing, meanings))
        return f"terms.item({self.cell(term)}, {{{said}}})"

    def flowing(self, blocks: tuple[Block, ...]) -> str:
        """Blocks of which a paragraph at the beginning goes on in a line that is begun."""
        match blocks:
            case (Paragraph(children), *rest):
                return f"{{{'; '.join((self.cell(children), *self.blocks(rest, inner=True)))}}}"
        return self.nested(blocks)

    def heading(self, level: int, children: Cell, anchor: str) -> str:
        # A level that is skipped would be an error of the tags.
        self.level = max(1, min(level - 1, self.level + 1, 6))
        title = self.cell(children) if shows(plain_text(children)) else string(UNTITLED)
        return self.anchored(f"heading(level: {self.level}, {title})", anchor)

    def first(self, anchor: str) -> bool:
        """Whether the anchor still waits for its place; a second one of the name gets no label."""
        waits = anchor in self.open
        self.open.discard(anchor)
        return waits

    def anchored(self, code: str, anchor: str) -> str:
        return f"[#{code}#label({string(anchor)})]" if self.first(anchor) else code

    def table(self, table: Table) -> str:
        columns = _array(map(column_of, table.columns, by_column(table)))
        titles = _array(self.text(column.title) for column in table.columns)
        rows = [f"    {_array(map(self.cell, row))}," for row in table.rows]
        long = [str(at) for at, row in enumerate(table.rows) if any(map(_is_long, row))]
        more = f", long: {_array(long)}" if long else ""
        if shows(plain_text(table.note)):
            more += f", note: {self.cell(table.note)}"
        if self.first(table.anchor):
            more += f", anchor: {string(table.anchor)}"
        caption = string(folded(table.title)) if shows(table.title) else "none"
        return "\n".join([f"sheet-table({caption}, {columns}, {titles}, (", *rows, f"  ){more})"])

    def facts(self, facts: FactList) -> str:
        entries = _array(
            f"({self.text(name)}, {self.cell(value)})" for name, value in facts.entries
        )
        return f"facts({string(folded(facts.title))}, {entries})"

    def caution(self, caution: Caution) -> str:
        title = folded(caution_title(caution, self.language))
        return f"caution({string(title)}, {self.nested(caution.children)})"

    def figure(self, figure: Figure) -> Iterator[str]:
        named = figure.title if shows(figure.title) else worded(PICTURE, self.language)
        title = string(folded(named).strip())
        description = [folded(line) for line in figure.text.split("\n") if shows(line)]
        alt = string("\n".join(description)) if description else title
        picture = figure.picture
        if picture is None:  # nothing that could be drawn
            yield f"par(strong({title}))"
            yield from (f"par({self.text(line)})" for line in description)
            return
        caption = title if figure.captioned else "none"
        size = f"({picture.width:.1f}pt, {picture.height:.1f}pt)"
        drawing = written(for_print(picture)).strip()
        code = f"picture({caption}, {alt}, {size}, {string(drawing)})"
        yield self.anchored(code, figure.anchor)

    # --- inlines ---

    def cell(self, inlines: Cell) -> str:
        """Inlines as one expression."""
        if not inlines:
            return "[]"
        made = [self.inline(each) for each in inlines]
        return made[0] if len(made) == 1 else f"{{{'; '.join(made)}}}"

    def inline(self, inline: Inline) -> str:
        match inline:
            case Text(text):
                return self.tongue(text, self.text(text))
            case Value(number, unit):
                return self.value(inline, folded(number), string(folded(unit)))
            case Literal(text):
                code = folded(text)
                whole = 0 < len(code) <= LONG_DATA
                return f"literal({f'whole({string(code)})' if whole else _code(code)})"
            case Strong(children):
                return f"strong({self.cell(children)})"
            case Emphasis(children):
                return f"emph({self.cell(children)})"
            case Hyperlink(children, target):
                return self.link(children, target)
            case Break():
                return "linebreak()"
            case Tick(done):
                return f"tick({string(TICKS[done])})"
            case Footnote():
                return self.footnote(inline)
            case _:  # what has no words yet is read in English
                return self.text(plain_text((inline,)))

    def footnote(self, note: Footnote) -> str:
        """What stands at the foot of the page; a second time, its number alone."""
        if note in self.notes:
            return f"footnote(label({string(self.notes[note])}))"
        name = self.notes[note] = f"note:{len(self.notes) + 1}"
        return f"[#footnote({self.flowing(note.children)})#label({string(name)})]"

    def tongue(self, text: str, code: str) -> str:
        """The code of a text with its language, where it is not the document's."""
        found = _LANGUAGE.fullmatch(self.foreign.get(text, ""))
        return f"text(lang: {string(found[1])}, {code})" if found else code

    def value(self, value: Value, number: str, unit: str) -> str:
        """A number and its unit in one piece; of words before a unit, the last word."""
        if is_one_line(value):
            room = f", room: {string(folded(value.room))}" if value.room else ""
            return f"fact({string(number)}, {unit}{room})"
        head, blank, last = number.rpartition(" ")
        if unit == '""' or len(last) > LONG_DATA:
            return f"said({_code(number)}, {unit})"
        return f"{{{_code(head + blank)}; fact({string(last)}, {unit})}}"

    def text(self, text: Words) -> str:
        return _code(folded(text))

    def link(self, children: Cell, target: str) -> str:
        leads = address(target, self.resolve)
        inner = self.cell(children)
        if leads is None or not shows(plain_text(children)):
            return inner
        if leads.startswith("#"):
            known = leads[1:] in self.known
            return f"link(label({string(leads[1:])}), {inner})" if known else inner
        if not leads_away(leads):
            return f"link({string(leads)}, {inner})"
        head, word = _without_last(children)
        return f"away({string(leads)}, {self.cell(head)}, {self.cell(word)})"


def _without_last(children: Cell) -> tuple[Cell, Cell]:
    """The words of a link less the last, and the last: what a sign is set to without a seam."""
    last = children[-1]
    if not isinstance(last, Text):
        return children, ()
    head, word = last_word(last.text)
    return (*children[:-1], *((Text(head),) if head else ())), ((Text(word),) if word else ())


def _code(text: str) -> str:
    """A folded text as one expression."""
    made = [_piece(piece, sort) for piece, sort in pieces(text)]
    return made[0] if len(made) == 1 else f"{{{'; '.join(made)}}}" if made else '""'


def _piece(piece: str, sort: Piece) -> str:
    match sort:
        case "whole":
            return f"whole({string(piece)})"
        case "seamed":
            return f"seamed({', '.join(map(string, seams(piece)))})"
        case "loose":
            return string(piece)


def _has_content(block: Block) -> bool:
    return not isinstance(block, FactList) or bool(block.entries)


def _is_long(cell: Cell) -> bool:
    return len(plain_text(cell)) > LONG_ROW


def _kept(line: str) -> str:
    """A line of a sample with the blanks it begins with."""
    bare = line.lstrip(" ")
    return " " * (len(line) - len(bare)) + folded(bare)


def _anchors(blocks: Iterable[Block]) -> Iterator[str]:
    """Anchors that links of the document can lead to."""
    for block in blocks:
        match block:
            case (
                Heading(anchor=anchor)
                | Table(anchor=anchor)
                | Figure(anchor=anchor)
                | Image(anchor=anchor)
            ):
                if _ANCHOR.fullmatch(anchor):
                    yield anchor
        for inner in within(block):
            yield from _anchors(inner)
