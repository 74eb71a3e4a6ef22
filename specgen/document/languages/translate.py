"""The pass over a finished tree: what the program and templates say, in another language."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Final

from specgen.document.languages.catalogue import SOURCE, Catalogue, base_of
from specgen.document.languages.clauses import ruled
from specgen.document.languages.drawing import redrawn
from specgen.document.languages.given import NOTHING_GIVEN, Given
from specgen.document.languages.messages import (
    NAMES,
    NUMBERS,
    RANGE,
    WHOLE,
    BadMessage,
    Message,
    speaks,
)
from specgen.document.languages.numbers import date_in, is_date, numbers_in
from specgen.document.tree import (
    Block,
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
    Paragraph,
    Picture,
    Quote,
    Strong,
    Table,
    Text,
    plain_text,
)
from specgen.messages import Words

Asked = tuple[str, str]
"""The sort of place and the message that was looked up there."""

_LETTER: Final = re.compile(r"[^\W\d_]")
LISTS: Final = {
    "cell": (r"\. (?![a-z])", r"; ", r": |, "),
    "drawing": (r"\. |\.$", r"; ", r": |, "),
    "svg": (r"\. |\.$|\u2002", r"; ", r": |, "),
}
"""Sorts of places where a text may list things, and what stands between them, the widest first."""
LONGEST_ENTRY: Final = 4
"""Words of an entry; where one of a list is unknown and one is longer, it is a sentence."""
_LABELLED: Final = re.compile(r"([^{}]+) \{1\}")
WHOLE_WORDS: Final = ("column", "label", "caution", "meta", "heading")
"""Sorts of places whose words are the program's own: no name stands among them."""
_BRACKETS: Final = re.compile(r"\([^()]*\)")
_WORDS: Final = re.compile(r"\w+\W+\w+\W+\w+")
_SENTENCE: Final = re.compile(r"\w+\W+\w+\W+\w+\W+\w+")


@dataclass(slots=True)
class Translator:
    """Says texts in the language of a catalogue; `missing` gathers what it has no message for.

    `own` are texts of a writer, in whatever language they are; they stay, as those of definitions
    do. `values` are texts that a template printed of a project. `foreign` gathers texts that stay
    in another language than the document's, with theirs.
    """

    catalogue: Catalogue
    given: Given = NOTHING_GIVEN
    own: frozenset[str] = frozenset()
    values: frozenset[str] = frozenset()
    missing: dict[Asked, None] = field(default_factory=dict)
    foreign: dict[str, str] = field(default_factory=dict)

    @property
    def language(self) -> str:
        return self.catalogue.language

    def document(self, document: Document) -> Document:
        meta = tuple(
            (self.fixed(label, "meta"), self.date(str(said)) or self.text(str(said), "meta"))
            for label, said in document.meta
        )
        return replace(
            document,
            title=self.text(str(document.title), "title"),
            subtitle=self.text(str(document.subtitle), "title"),
            meta=meta,
            blocks=self.blocks(document.blocks),
            language=self.language,
        )

    def date(self, text: str) -> str:
        return date_in(self.language, text, long=True) if is_date(text) else ""

    # --- blocks ---

    def block(self, block: Block) -> Block:
        match block:
            case Heading(level, children, anchor):
                return Heading(level, self.cell(children, "heading"), anchor)
            case Paragraph(children):
                return Paragraph(self.cell(children, "text"))
            case Listing(items, ordered):
                return Listing(tuple(map(self.blocks, items)), ordered)
            case Table():
                return self.table(block)
            case FactList(title, entries):
                said = tuple((self.fixed(name, "label"), self.cell(cell)) for name, cell in entries)
                return FactList(self.fixed(title, "table"), said)
            case Picture():
                return self.picture(block)
            case Caution(subject, children):
                return Caution(self.fixed(subject, "caution"), self.blocks(children))
            case Quote(children):
                return Quote(self.blocks(children))
            case _:
                return block

    def blocks(self, blocks: Iterable[Block]) -> tuple[Block, ...]:
        return tuple(map(self.block, blocks))

    def table(self, table: Table) -> Table:
        columns = tuple(
            replace(column, title=self.fixed(column.title, "column")) for column in table.columns
        )
        rows = tuple(tuple(map(self.cell, row)) for row in table.rows)
        note = self.cell(table.note, "text")
        title = self.fixed(table.title, "table")
        return replace(table, title=title, columns=columns, rows=rows, note=note)

    def picture(self, picture: Picture) -> Picture:
        lines = {line: self.text(line, "drawing") for line in picture.text.split("\n")}
        title = self.fixed(picture.title, "table")
        heard: dict[str, str | None] = {**lines, str(picture.title): title}

        def quietly(text: str) -> str | None:
            if text not in heard:
                heard[text] = self.quietly(text)
            return heard[text]

        svg = redrawn(picture.svg, quietly, self.given.texts, self.catalogue.short)
        said = "\n".join(lines[line] for line in picture.text.split("\n"))
        return replace(picture, title=title, text=said, svg=svg)

    def quietly(self, text: str) -> str | None:
        """A text on a drawing, None where a word of it has no message: nobody need be told."""
        if text in self.given.texts:
            return None
        aside = replace(self, missing={}, foreign={})
        said = aside.text(text, "svg")
        return None if aside.missing else said

    # --- texts ---

    def fixed(self, words: Words, context: str) -> str:
        """A text at a place where no definition speaks."""
        text = str(words)
        if text in self.own:
            return self.kept(text).text
        found = self.catalogue.get(text, context)
        return found if found is not None else self.text(text, context)

    def text(self, text: str, context: str) -> str:
        """A text without anything else in it."""
        return plain_text(self.cell((Text(text),), context)) if text else text

    def cell(self, cell: Cell, context: str = "cell") -> Cell:
        """Words, figures and links in the language, as far as there is a message for them."""
        match cell:
            case (Link(children) | Strong(children) | Emphasis(children) as around,):
                return (replace(around, children=self.cell(children, context)),)
            case (Text(text),) if self.fixes(text, context):
                return (Text(self.catalogue.get(text, context) or text),)
            case (Text(text),) if self.stays(text):
                return (self.kept(text),)
            case (Strong(children) as head, Text(text), *rest) if plain_text(children).endswith(
                ":"
            ):
                told = replace(head, children=self.cell(children, "cell"))
                return (told, *self.cell((Text(text), *rest), "cell"))
            case _ if any(isinstance(each, Text) and self.written(each.text) for each in cell):
                return tuple(map(self.settled, cell))
        message = ""
        for opens in (WHOLE, NAMES, NUMBERS):
            made = self.message(opens)
            asked = made.of(cell)
            said = self.said(made, asked, context)
            if said is not None:
                return said
            if not message or context not in WHOLE_WORDS:
                message = asked
        listed = self.listed(cell, context)
        if listed is not None:
            return listed
        self.missing.setdefault((context, message.strip()))
        return tuple(map(self.stayed, cell))

    def fixes(self, text: str, context: str) -> bool:
        """Whether a text is a template's own heading, though a definition may say the same."""
        of_template = context in ("heading", "title") and text not in self.values
        return of_template and self.catalogue.get(text, context) is not None

    def stays(self, text: str) -> bool:
        """Whether a whole text is a project's."""
        return text in self.own or text in self.given.texts

    def written(self, text: str) -> bool:
        """Whether a text is a writer's, so that all that stands beside it is too."""
        return text in self.own and _WORDS.search(text) is not None

    def message(self, opens: int) -> Message:
        between = self.catalogue.get(RANGE, "between") or RANGE
        return Message(self.language, self.given, opens, self.settled, self.measured, between)

    def said(self, made: Message, message: str, context: str) -> Cell | None:
        """A message in the language, as it is where it has no words; None where it is missing."""
        bare = message.strip()
        if speaks(bare):
            found = self.known(bare, context)
            if found is None:
                return None
            at = message.index(bare)
            message = f"{message[:at]}{found}{message[at + len(bare) :]}"
        elif made.opens == WHOLE:
            return None
        try:
            return made.filled(message)
        except BadMessage:
            return None

    def known(self, message: str, context: str) -> str | None:
        """A message, or what it is made of: a sentence and its stop, a label before its figure."""
        found = self.catalogue.get(message, context)
        if found is not None:
            return found
        if message.endswith((".", ":")):
            found = self.known(message[:-1], context)
            return None if found is None else f"{found}{self.between(message[-1])}"
        label = _LABELLED.fullmatch(message)
        found = self.catalogue.get(label[1], "label") if label else None
        return ruled(message, self.catalogue) if found is None else f"{found} {{1}}"

    def listed(self, cell: Cell, context: str) -> Cell | None:
        """A cell that lists things, each said by itself; None for what is no list."""
        for between in LISTS.get(context, ()):
            entries, betweens = self.entries(cell, re.compile(between))
            if betweens:
                break
        else:
            return None
        trial = replace(self, missing={})
        said = list(trial.cell(tuple(entries[0]), context))
        for sign, entry in zip(betweens, entries[1:], strict=True):
            said += [Text(self.between(sign)), *trial.cell(tuple(entry), context)]
        if trial.missing and "," in between and any(map(_is_sentence, entries)):
            return None
        self.missing.update(trial.missing)
        return joined(said)

    def entries(self, cell: Cell, between: re.Pattern[str]) -> tuple[list[list[Inline]], list[str]]:
        """The things that a cell lists, and what stands between them."""
        entries: list[list[Inline]] = [[]]
        betweens = []
        for inline in self.merged(cell):
            if not isinstance(inline, Text) or self.written(inline.text):
                entries[-1].append(inline)
                continue
            for at, piece in enumerate(self.pieces(inline.text, between)):
                if at % 2:
                    betweens.append(piece)
                    entries.append([])
                elif piece:
                    entries[-1].append(Text(piece))
        return entries, betweens

    def merged(self, cell: Cell) -> Cell:
        """The cell with neighbouring texts of ours as one, so that signs between words are seen."""
        made: list[Inline] = []
        for each in cell:
            last = made[-1] if made else None
            ours = isinstance(each, Text) and not self.stays(each.text)
            if ours and isinstance(last, Text) and not self.stays(last.text):
                assert isinstance(each, Text)
                made[-1] = Text(last.text + each.text)
            else:
                made.append(each)
        return tuple(made)

    def pieces(self, text: str, between: re.Pattern[str]) -> list[str]:
        """The entries of a list and what stands between them; names are not taken apart."""
        kept = [(start, end) for start, end, _ in self.message(NAMES).holes(text)]
        kept += [found.span() for found in _BRACKETS.finditer(text)]
        pieces, at = [], 0
        for found in between.finditer(text):
            if not any(start < found.end() and found.start() < end for start, end in kept):
                pieces += [text[at : found.start()], found[0]]
                at = found.end()
        return [*pieces, text[at:]]

    def between(self, sign: str) -> str:
        """What stands between the words of a list."""
        if not sign.strip():
            return sign
        found = self.catalogue.messages.get(("between", sign.strip()), sign.strip())
        # signs of full width bring their own room
        return f"{found} " if sign.endswith(" ") and found.isascii() else found

    def settled(self, inline: Inline) -> Inline:
        """An inline with its numbers and dates as the language writes them; words stay."""
        match inline:
            case Text(text):
                return self.kept(text)
            case Figure(number, unit, key):
                sign = self.catalogue.messages.get(("unit", unit), unit)
                return Figure(self.figure(number), sign, key)
            case Link(children) | Strong(children) | Emphasis(children):
                return replace(inline, children=tuple(map(self.settled, children)))
            case _:
                return inline

    def kept(self, text: str) -> Text:
        """A text of the project, or one without words."""
        if text in self.own or text in self.given.texts or speaks(text):
            if self.given.language != self.language and _SENTENCE.search(text):
                self.foreign[text] = self.given.language
            return Text(text)
        if is_date(text):
            return Text(date_in(self.language, text))
        return Text(text if _LETTER.search(text) else numbers_in(self.language, text))

    def measured(self, text: str) -> str:
        """A number and its unit, parted by a blank, as the language writes them."""
        number, blank, unit = text.partition(" ")
        sign = self.catalogue.messages.get(("unit", unit), unit)
        return f"{numbers_in(self.language, number)}{blank}{sign}"

    def figure(self, number: str) -> str:
        """The number of a figure, or the words that stand for one."""
        if number in self.given.texts:
            return number
        if speaks(number):
            return self.text(number, "cell")
        if is_date(number):
            return date_in(self.language, number)
        return numbers_in(self.language, number)

    def stayed(self, inline: Inline) -> Inline:
        """What nobody has translated: it stays as it is, in the language of the source."""
        match inline:
            case Text(text) if text in self.own or text in self.given.texts:
                return self.kept(text)
            case Text(text):
                if base_of(self.language) != SOURCE:
                    self.foreign[text] = SOURCE
                return inline
            case Link(children) | Strong(children) | Emphasis(children):
                return replace(inline, children=tuple(map(self.stayed, children)))
            case _:
                return self.settled(inline)


def joined(inlines: Iterable[Inline]) -> Cell:
    """The same, with neighbouring texts as one."""
    made: list[Inline] = []
    for each in inlines:
        last = made[-1] if made else None
        if isinstance(each, Text) and isinstance(last, Text):
            made[-1] = Text(last.text + each.text)
        else:
            made.append(each)
    return tuple(made)


def _is_sentence(entry: list[Inline]) -> bool:
    return len(plain_text(entry).split()) > LONGEST_ENTRY


def translated(
    document: Document,
    words: Catalogue,
    given: Given = NOTHING_GIVEN,
    own: frozenset[str] = frozenset(),
    values: frozenset[str] = frozenset(),
) -> Document:
    """The document in the language of a catalogue; anchors, keys and order stay.

    A text without a message stays in English, and `foreign` of the document says so, as it says
    of texts of the definitions that are in another language. What the catalogue lacks is in
    `untranslated`.
    """
    translator = Translator(words, given, own, values)
    made = translator.document(document)
    foreign = tuple(sorted(translator.foreign.items()))
    return replace(made, foreign=foreign, untranslated=tuple(translator.missing))
