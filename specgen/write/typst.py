"""The tree as source of Typst: calls of what `site/print/document.typ` defines, in code.

Every text is a string of the code, never markup, so that no letter of a definition is read as a
mark. The source is pure text: the same tree gives the same source, whoever sets it.
"""

import datetime
import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, islice
from typing import Final

from specgen.document.tree import (
    Block,
    Break,
    Caution,
    Cell,
    Document,
    Emphasis,
    FactList,
    Figure,
    Heading,
    Inline,
    Link,
    Listing,
    Literal,
    Paragraph,
    Picture,
    Quote,
    Rule,
    Strong,
    Table,
    Text,
    Verbatim,
    plain_text,
)
from specgen.drawings.widths import width
from specgen.messages import Words
from specgen.write.options import FOLIO, PICTURE, Options, address, caution_title, worded
from specgen.write.typst_drawing import for_print, size_of
from specgen.write.typst_layout import (
    GAP,
    HEAD_SIZE,
    LABEL_GAP,
    MEASURE,
    TABLE_SIZE,
    Row,
    columns_for,
    fact_columns,
    gutters,
    side_by_side,
)
from specgen.write.typst_text import LONGEST, breakable, folded, hyphenable, shows, string

BODY_SIZE: Final = 8.4
HIGHEST: Final = 655.0  # of a picture, points
LARGEST: Final = 0.82  # so that words in a drawing are no larger than those in tables
UNTITLED: Final = "\N{EN DASH}"
CAUTIONS_A_ROW: Final = 3
MOST_TOGETHER: Final = 9  # rows of a table that is never broken over pages
LONG_ROW: Final = 2500  # letters of a cell in a row that may be broken over pages
_LANGUAGE: Final = re.compile(r"([a-z]{2,3})(?:-[A-Z][a-z]{3})?(?:-([A-Z]{2}))?(?:-.*)?")
_HELD: Final = re.compile(
    r"(?<![^ (])((?:\d[\d.]* )?[A-Za-zµ]{1,5}/[a-z]{1,3}"
    r"|\d[\d.]* (?:[kMGT]i?B|k?W|[mk]?m|kg|[VAU])|[A-Z][A-Z0-9.]+ [A-Z]?\d+)(?![^\W_]|/)"
)
"""A number with its unit, a unit with a stroke, a position with its number: never broken."""
_ANCHOR: Final = re.compile(r"[\w.-]+")


def source(document: Document, options: Options | None = None) -> str:
    """The document as source of Typst; `document.typ` has to lie beside it."""
    options = options or Options()
    writer = _Writer(document, options)
    lines = ['#import "document.typ": *', "", "#show: sheet.with("]
    lines += [f"  {name}: {value}," for name, value in _properties(document, options)]
    lines += [")", "", "#{", *(f"  {line}" for line in writer.blocks(document.blocks)), "}", ""]
    return "\n".join(lines)


def texts(document: Document) -> Iterator[str]:
    """Every text of the document that is printed, as it stands in the tree."""
    yield from map(str, (document.title, document.subtitle))
    for label, said in document.meta:
        yield from map(str, (label, said))
    yield from _block_texts(document.blocks)


def _block_texts(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Heading(_, children) | Paragraph(children):
                yield plain_text(children)
            case Listing(items):
                for item in items:
                    yield from _block_texts(item)
            case Table(title, columns, rows, _, note):
                yield str(title)
                yield from (str(column.title) for column in columns)
                yield from (plain_text(cell) for row in rows for cell in row)
                yield plain_text(note)
            case FactList(title, entries):
                yield str(title)
                for label, said in entries:
                    yield from (str(label), plain_text(said))
            case Picture(title, svg, text):
                yield from (str(title), svg, text)
            case Caution(subject, children):
                yield str(subject)
                yield from _block_texts(children)
            case Quote(children):
                yield from _block_texts(children)
            case Verbatim(text):
                yield text
            case Rule():
                pass


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
    meta = [(folded(label), folded(said)) for label, said in document.meta]
    yield "title", string(title)
    yield "subtitle", string(subtitle)
    yield "meta", _array(f"({string(label)}, {string(said)})" for label, said in meta)
    yield "beside", string(subtitle)
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


def _short(label: str, said: str) -> str:
    """An entry of the head for the foot of a page: what speaks for itself stands alone."""
    return said if len(said) > 4 else f"{label} {said}"


def _array(items: Iterable[str]) -> str:
    """An array of Typst's code, which with one item needs a comma."""
    return f"({''.join(f'{item}, ' for item in items)})".replace(", )", ",)")


def _pt(number: float) -> str:
    return f"{number:.1f}pt"


class _Writer:
    def __init__(self, document: Document, options: Options) -> None:
        self.resolve = options.resolve
        self.measure = MEASURE[options.paper]
        self.room = self.measure
        self.size = BODY_SIZE
        self.level = 0
        self.known = frozenset(_anchors(document.blocks))
        self.open = set(self.known)
        self.language = document.language
        self.foreign = dict(document.foreign)

    # --- blocks, each one line of code or more ---

    def blocks(self, blocks: Sequence[Block], *, top: bool = True) -> Iterator[str]:
        arranged = side_by_side(blocks, self.room) if top else blocks
        for warns, group in groupby(arranged, lambda each: isinstance(each, Caution)):
            several = list(group)
            if warns and top and len(several) > 1:
                yield from self.cautions([each for each in several if isinstance(each, Caution)])
                continue
            for each in several:
                yield from self.row(each) if isinstance(each, Row) else self.block(each)

    def nested(self, blocks: Sequence[Block]) -> str:
        """Blocks within another, on one line."""
        return f"{{{'; '.join(self.blocks(blocks, top=False))}}}" if blocks else "[]"

    def block(self, block: Block) -> Iterator[str]:
        match block:
            case Heading(level, children, anchor):
                yield self.heading(level, children, anchor)
            case Paragraph(children):
                yield f"par({self.cell(children)})"
            case Table():
                yield from self.table(block)
            case FactList():
                yield from self.facts(block)
            case Listing(items, ordered):
                yield f"{'enum' if ordered else 'list'}({', '.join(map(self.nested, items))})"
            case Picture():
                yield from self.picture(block)
            case Caution():
                yield self.caution(block)
            case Quote(children):
                yield f"quote(block: true, quoted({self.nested(children)}))"
            case Verbatim(text):
                kept = "\n".join(map(_kept, text.rstrip("\n").split("\n")))
                yield f"lines({string(kept)})"
            case Rule():
                yield "across()"

    def heading(self, level: int, children: Cell, anchor: str) -> str:
        # A level that is skipped would be an error of the tags.
        self.level = max(1, min(level - 1, self.level + 1, 6))
        said = self.cell(children) if shows(plain_text(children)) else string(UNTITLED)
        return self.anchored(f"heading(level: {self.level}, {said})", anchor)

    def anchored(self, code: str, anchor: str) -> str:
        """The code with its label, which exists once; a second one of the name is left out."""
        if anchor not in self.open:
            return code
        self.open.discard(anchor)
        return f"[#{code}#label({string(anchor)})]"

    def table(self, table: Table) -> Iterator[str]:
        made = columns_for(table, self.room)
        self.size = made.size
        gaps = gutters(table.columns)
        rooms = [each - gap for each, gap in zip(made.widths, gaps, strict=True)]
        self.size = made.size * HEAD_SIZE / TABLE_SIZE
        titles = _array(
            self.text(column.title, room) for column, room in zip(table.columns, rooms, strict=True)
        )
        self.size = made.size
        rows = [f"    {_array(map(self.cell, row, rooms))}," for row in table.rows]
        long = [str(at) for at, row in enumerate(table.rows) if any(map(_is_long, row))]
        caption = string(folded(table.title)) if shows(table.title) else "none"
        more = f", size: {made.size:.2f}pt" if made.size != TABLE_SIZE else ""
        more += f", long: {_array(long)}" if long else ""
        more += ", noted: true" if shows(plain_text(table.note)) else ""
        more += ", whole: true" if len(rows) <= MOST_TOGETHER and not long else ""
        self.size = BODY_SIZE
        columns = _array(
            f"({_pt(width)}, {_pt(gap)}, {'right' if each.align == 'end' else 'left'})"
            for each, width, gap in zip(table.columns, made.widths, gaps, strict=True)
        )
        head = f"sheet-table({caption}, {columns}, {titles}, ("
        yield self.anchored("\n".join([head, *rows, f"  ){more})"]), table.anchor)
        if shows(plain_text(table.note)):
            yield f"table-note({self.cell(table.note)})"

    def facts(self, facts: FactList) -> Iterator[str]:
        if not facts.entries:
            return
        made = fact_columns(facts, self.room)
        self.size = TABLE_SIZE
        columns = []
        entries = iter(facts.entries)
        room = made.column - made.label - LABEL_GAP
        for count in filter(None, made.counts):
            lines = [
                f"({self.text(name, made.label)}, {self.cell(said, room)})"
                for name, said in islice(entries, count)
            ]
            columns.append(f"    ({_pt(made.label)}, {_array(lines)}),")
        self.size = BODY_SIZE
        yield "\n".join([f"facts({string(folded(facts.title))}, (", *columns, "  ))"])

    def row(self, row: Row) -> Iterator[str]:
        """Lists and tables side by side."""
        made = []
        for block, self.room in zip(row.blocks, row.widths, strict=True):
            made.append(f"{{{'; '.join(self.block(block))}}}")
        self.room = self.measure
        widths = ", ".join(map(_pt, row.widths))
        yield f"beside(({widths},), {', '.join(made)})"

    def caution(self, caution: Caution) -> str:
        subject = folded(caution.subject).strip()
        title = folded(caution_title(subject, self.language))
        return f"caution({string(title)}, {self.nested(caution.children)})"

    def cautions(self, several: Sequence[Caution]) -> Iterator[str]:
        number = CAUTIONS_A_ROW if len(several) not in (2, 4) else 2
        self.room = (self.measure - GAP * (number - 1)) / number
        made = [f"    {self.caution(each)}," for each in several]
        self.room = self.measure
        yield "\n".join([f"cautions({number},", *made, "  )"])

    def picture(self, picture: Picture) -> Iterator[str]:
        named = picture.title if shows(picture.title) else worded(PICTURE, self.language)
        title = string(folded(named).strip())
        spoken = [folded(line) for line in picture.text.split("\n") if shows(line)]
        alt = string("\n".join(spoken)) if spoken else title
        drawing = for_print(picture.svg.strip())
        wide, high = size_of(drawing)
        if not wide:  # nothing that could be drawn
            yield f"par(strong({title}))"
            yield from (f"par({self.text(line)})" for line in spoken)
            return
        scale = min(LARGEST, self.room / wide, HIGHEST / high)
        code = f"picture({title}, {alt}, {_pt(wide * scale)}, {string(drawing)})"
        yield self.anchored(code, picture.anchor)

    # --- inlines ---

    def cell(self, inlines: Cell, room: float | None = None) -> str:
        """Inlines as one expression; `room` is the breadth they are set in."""
        if not inlines:
            return "[]"
        made = [self.inline(each, room) for each in inlines]
        return made[0] if len(made) == 1 else f"{{{'; '.join(made)}}}"

    def inline(self, inline: Inline, room: float | None) -> str:
        match inline:
            case Text(text):
                return self.tongue(text, self.text(text, room))
            case Figure(number, unit):
                kind = "said" if " " in number or len(number) > LONGEST else "fact"
                return f"{kind}({self.text(number, room)}, {string(folded(unit))})"
            case Literal(text):
                return f"literal({self.text(text, (room or self.room) * 0.78)})"
            case Strong(children):
                return f"strong({self.cell(children, room)})"
            case Emphasis(children):
                return f"emph({self.cell(children, room)})"
            case Link(children, target):
                return self.link(children, target, room)
            case Break():
                return "linebreak()"
            case _:  # what has no words yet is read in English
                return self.text(plain_text((inline,)), room)

    def tongue(self, text: str, code: str) -> str:
        """The code of a text with its language, where it is not the document's."""
        found = _LANGUAGE.fullmatch(self.foreign.get(text, ""))
        return f"text(lang: {string(found[1])}, {code})" if found else code

    def text(self, text: Words, room: float | None = None) -> str:
        room = room or self.room
        said = folded(text)
        if width(said, self.size) < room * 0.9:  # most texts: nothing is broken
            return string(said)
        made = [
            f"box({string(part)})" if at % 2 else string(breakable(part, room, self.size))
            for at, part in enumerate(_HELD.split(said))
            if part
        ]
        code = made[0] if len(made) == 1 else f"{{{'; '.join(made)}}}"
        return f"hyphened({code})" if hyphenable(said, room, self.size) else code

    def link(self, children: Cell, target: str, room: float | None) -> str:
        leads = address(target, self.resolve)
        inner = self.cell(children, room)
        if leads is None or not shows(plain_text(children)):
            return inner
        if leads.startswith("#"):
            known = leads[1:] in self.known
            return f"link(label({string(leads[1:])}), {inner})" if known else inner
        return f"link({string(leads)}, {inner})"


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
            case Heading(anchor=anchor) | Table(anchor=anchor) | Picture(anchor=anchor):
                if _ANCHOR.fullmatch(anchor):
                    yield anchor
            case Listing(items):
                for item in items:
                    yield from _anchors(item)
            case Caution(children=children) | Quote(children=children):
                yield from _anchors(children)
