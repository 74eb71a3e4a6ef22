"""Chooses the words of a document: every message becomes text, every datum a printed value.

The last step before writers. Texts of definitions stay as they are; what stands in another
language than the document's is gathered, so that writers can mark it.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, Final

from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    Datum,
    Document,
    Emphasis,
    FactList,
    Figure,
    Footnote,
    Heading,
    Hyperlink,
    Inline,
    Paragraph,
    Strong,
    Table,
    TermList,
    Text,
    Value,
    plain_text,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import changed_within
from specgen.messages import SOURCE, Around, Language, Sayable, Words, base_of, following, listed
from specgen.quantity import Quantity
from specgen.quantity.printing import common_unit
from specgen.quantity.reading import MINUS
from specgen.quantity.units import Unit


@dataclass(slots=True)
class Wording:
    """Says a tree in a language; `untranslated` gathers the messages that it has no words for.

    `own` is the language of the project's texts. `foreign` gathers texts that stay in another
    language than the document's, with theirs.
    """

    language: Language
    own: str = SOURCE
    foreign: dict[str, str] = field(default_factory=dict)
    untranslated: dict[tuple[str, str], None] = field(default_factory=dict)
    unit: Unit | None = None
    """That of the column whose cells are being said."""

    def document(self, document: Document) -> Document:
        """The document in the language; anchors, keys and order stay."""
        meta = tuple((self.words(label), self._meta(value)) for label, value in document.meta)
        return replace(
            document,
            title=self.words(document.title),
            subtitle=self.words(document.subtitle),
            kind=self.words(document.kind),
            mark=self.words(document.mark),
            meta=meta,
            blocks=self.blocks(document.blocks),
            language=self.language.tag,
            foreign=tuple(sorted({**dict(document.foreign), **self.foreign}.items())),
            untranslated=(*document.untranslated, *self.untranslated),
        )

    def _meta(self, value: Words | date) -> str:
        if isinstance(value, date):
            return self.language.date(value, long=True)
        return self.words(value)

    def blocks(self, blocks: Iterable[Block]) -> tuple[Block, ...]:
        return tuple(map(self.block, blocks))

    def block(self, block: Block) -> Block:
        match block:
            case Heading():
                return replace(block, children=self.cell(block.children))
            case Paragraph(children):
                return Paragraph(self.cell(children))
            case Table():
                return self.table(block)
            case FactList(title, entries):
                lines = ((self.words(label), self.cell(cell)) for label, cell in entries)
                return FactList(self.words(title), tuple(lines))
            case Figure():
                return replace(block, title=self.words(block.title))
            case Image():
                block = replace(
                    block,
                    title=self.words(block.title),
                    text=self.words(block.text),
                    credit=self.cell(block.credit),
                )
            case Caution():
                block = replace(block, subject=self.words(block.subject))
            case TermList(entries):
                block = TermList(tuple((self.cell(term), means) for term, means in entries))
        return changed_within(block, self.blocks)

    def table(self, table: Table) -> Table:
        columns = (replace(each, title=self.words(each.title)) for each in table.columns)
        return replace(
            table,
            title=self.words(table.title),
            columns=tuple(columns),
            rows=self.rows(table),
            note=self.cell(table.note),
        )

    def rows(self, table: Table) -> tuple[tuple[Cell, ...], ...]:
        """The cells in words; in columns of numbers, values by one prefix and point above point."""
        if not table.rows:
            return ()
        columns = []
        for column, cells in zip(table.columns, zip(*table.rows, strict=True), strict=True):
            if column.align == "end":
                self.unit = common_unit(_quantities(cells))
            made = tuple(map(self.cell, cells))
            self.unit = None
            columns.append(self._on_the_point(made) if column.align == "end" else made)
        return tuple(zip(*columns, strict=True))

    def _on_the_point(self, cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
        point = self.language.signs.point
        shown = [found for cell in cells if (found := _only_value(cell)) is not None]
        if len({value.unit for value in shown}) > 1 or not all(_is_number(v.number) for v in shown):
            return cells
        most = max((len(_decimals(value.number, point)) for value in shown), default=0)
        return tuple(_with_room(cell, point, most) for cell in cells)

    def words(self, words: Words) -> str:
        """Words at a place that holds nothing but a text."""
        if isinstance(words, str):
            if own := self.language.own(words):
                return own
            self._data(words)
            return words
        text = plain_text(self._joined(self._pieces(words))).strip()
        if self._note(words):
            self.foreign[text] = SOURCE
        return text

    def cell(self, cell: Cell) -> Cell:
        """Inlines in the language, neighbouring texts as one unless they are in two languages."""
        return self._joined(each for inline in cell for each in self.inline(inline))

    def _joined(self, inlines: Iterable[Inline]) -> tuple[Inline, ...]:
        made: list[Inline] = []
        for each in inlines:
            last = made[-1] if made else None
            if isinstance(each, Text) and last is not None and not self._foreign(each):
                each = Text(following(plain_text((last,)), each.text))
                if not each.text:
                    continue
                if isinstance(last, Text) and not self._foreign(last):
                    made[-1] = Text(last.text + each.text)
                    continue
            made.append(each)
        return tuple(made)

    def _foreign(self, inline: Inline | None) -> bool:
        return isinstance(inline, Text) and inline.text in self.foreign

    def _data(self, text: str, language: str = "") -> None:
        """A text of the project that is more than a name: it may be in another language."""
        spoken = language or self.own
        if base_of(spoken) != base_of(self.language.tag) and _SENTENCE.search(text):
            self.foreign[text] = spoken

    def inline(self, inline: Inline) -> Iterator[Inline]:
        match inline:
            case Datum(value, key):
                self._note(listed(value) if isinstance(value, tuple) else value)
                yield Value(*self.language.number(value, self.unit), key)
            case Strong(children) | Emphasis(children) | Hyperlink(children):
                yield replace(inline, children=self.cell(children))
            case _ if isinstance(inline, Sayable):
                yield from self._pieces(inline)
            case Text(text, language):
                own = "" if language else self.language.own(text)
                if not own:
                    self._data(text, language)
                yield Text(own or text)
            case Footnote(children):
                yield Footnote(self.blocks(children))
            case _:
                yield inline

    def _pieces(self, words: Words) -> Iterator[Inline]:
        unknown = self._note(words)
        for piece in self.language.pieces(words):
            for inline in self._piece(piece):
                if unknown and isinstance(inline, Text) and _WORD.search(inline.text):
                    self.foreign[inline.text] = SOURCE
                yield inline

    def _piece(self, piece: object) -> Iterator[Inline]:
        match piece:
            case str():
                if piece:
                    yield Text(piece)
            case Around(argument, within):
                inner = tuple(each for one in within for each in self._piece(one))
                yield replace(_container(argument), children=inner)
            case tuple():
                yield from self.cell(piece)
            case _:
                yield from self.inline(piece)  # type: ignore[arg-type]

    def _note(self, words: object) -> bool:
        """Whether nobody has translated it, or a message in it, which is then remembered."""
        missing = tuple(self.language.missing(words))
        self.untranslated.update(dict.fromkeys((each.context, each.text) for each in missing))
        return bool(missing)


def _quantities(cells: Iterable[Cell]) -> Iterator[Quantity]:
    """The amounts that stand alone in their cells."""
    for cell in cells:
        match cell:
            case (Datum(value),) | (Strong((Datum(value),)),) if isinstance(value, Quantity):
                yield value


def _only_value(cell: Cell) -> Value | None:
    match cell:
        case (Value() as value,) | (Strong((Value() as value,)),):
            return value
    return None


def _is_number(text: str) -> bool:
    return text.lstrip(MINUS)[:1].isdigit() and not any(map(str.isalpha, text))


def _decimals(number: str, point: str) -> str:
    return "".join(number.partition(point)[1:])


def _with_room(cell: Cell, point: str, most: int) -> Cell:
    value = _only_value(cell)
    if value is None:
        return cell
    own = _decimals(value.number, point)
    room = (own or point).ljust(most, "0")[len(own) :] if len(own) < most else ""
    wider = replace(value, room=room)
    return (wider,) if cell == (value,) else (Strong((wider,)),)


_SENTENCE: Final = re.compile(r"\w+\W+\w+\W+\w+\W+\w+")
"""Words enough to be in a language: a name is in none."""

_WORD: Final = re.compile(r"[^\W\d_]{2,}")
"""What makes a message of our own one in a language."""


def _container(argument: object) -> Any:
    assert isinstance(argument, Strong | Emphasis | Hyperlink), "only these have words within"
    return argument
