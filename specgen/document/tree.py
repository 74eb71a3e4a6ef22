"""The document tree: what a document says, in frozen values, with no word of any markup.

A tree is made of messages and values (`specgen.messages`, `Datum`); `document.wording` chooses
words and digits for a language, and writers see a tree in which every one of them is a text.

Every text in it is plain text, whatever characters it holds, those of a drawing with it; writers
escape it on the way out.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Final
from typing import Literal as OneOf

from specgen.document.tree_image import Image
from specgen.frozen import frozen
from specgen.messages import (
    ENGLISH,
    Around,
    Sayable,
    Words,
)

if TYPE_CHECKING:
    from specgen.document.record import Record
    from specgen.drawings import Picture

Align = OneOf["start", "end"]


@frozen
class Text:
    """Words that are data; `language` where they are in another one than the project's texts."""

    text: str
    language: str = ""


@frozen
class Literal:
    """Text to be read letter by letter: an order number, a field of a file."""

    text: str


@frozen
class Value:
    """A `Datum` in a language: the number and the unit as printed, and the fact's key.

    `room` are the decimals that others of its column have beyond it: writers leave so much room
    after the number, so that all stand with their points above one another. Nobody reads it.
    """

    number: str
    unit: str = ""
    key: str = ""
    room: str = ""

    @property
    def unbroken(self) -> bool:
        """Whether it stands on one line: a number with its unit, or a term such as `x8 Gen 4`."""
        return " " not in self.number or len(self.number) <= 10  # a column on a phone holds 12


@frozen
class Datum:
    """A fact to be printed: its value and its key ("" for none).

    `value` is whatever `Language.number` takes: a quantity, a number, words, several of them.
    """

    value: object
    key: str = ""


@frozen
class Break:
    """A new line within a paragraph."""


@frozen
class Strong:
    """Words that weigh more."""

    children: "tuple[Inline, ...]"


@frozen
class Emphasis:
    """Words in another voice."""

    children: "tuple[Inline, ...]"


@frozen
class Hyperlink:
    """A way to somewhere else.

    `target` is an address (http, https, mailto), an anchor of the same document (`#power`), a
    reference (`part:tall-riser`) or a relative path; see `safe_target`. The words of a `numbered`
    one give way to the number of what it leads to, where that has one in its document.
    """

    children: "tuple[Inline, ...]"
    target: str
    numbered: bool = False


@frozen
class Tick:
    """A box at the beginning of what is to be done, ticked where it is done."""

    done: bool


@frozen
class Footnote:
    """A number in the text, and what it says at the foot of the page or the end of the document.

    Equal ones are one, which the text refers to more than once. It is no part of the words that it
    stands among: `plain_text` passes over it, and so does an anchor.
    """

    children: "tuple[Block, ...]"


Inline = (
    Text
    | Literal
    | Value
    | Datum
    | Break
    | Strong
    | Emphasis
    | Hyperlink
    | Tick
    | Footnote
    | Sayable
)
INLINES: Final = (
    Text, Literal, Value, Datum, Break, Strong, Emphasis, Hyperlink, Tick, Footnote, Sayable,
)  # fmt: skip
Cell = tuple[Inline, ...]


@frozen
class Heading:
    """A heading of level 2 to 6; level 1 is the document's title."""

    level: int
    children: Cell
    anchor: str = ""


@frozen
class Paragraph:
    """A paragraph."""

    children: Cell


@frozen
class Listing:
    """A list; every item is one or more blocks.

    `first` is the number of the first item where they are numbered: steps go on after a picture.
    """

    items: "tuple[tuple[Block, ...], ...]"
    first: int | None = None


@frozen
class Column:
    """A column of a table: `align` is "end" for numbers; `header`: its cells name their rows.

    Cells of a `short` column are a word or two and are not broken over lines. The `own` column of
    a comparison is that of the system which the document is about.
    """

    title: Words
    align: Align = "start"
    header: bool = False
    short: bool = False
    own: bool = False


@frozen
class Table:
    """A table with at least one column; every row has a cell for every column (`ValueError`).

    Where a document leads to rows, `anchors` has one for each, "" for none. `beside`: of systems.
    """

    title: Words
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    anchor: str = ""
    note: Cell = ()
    anchors: tuple[str, ...] = ()
    beside: bool = False

    def __post_init__(self) -> None:
        if not self.columns:
            raise ValueError(f"table {self.title!r} has no columns")
        if self.anchors and len(self.anchors) != len(self.rows):
            message = f"{len(self.anchors)} anchors for {len(self.rows)} rows"
            raise ValueError(f"table {self.title!r}: {message}")
        wanted = len(self.columns)
        for number, row in enumerate(self.rows, start=1):
            if len(row) != wanted:
                raise ValueError(
                    f"table {self.title!r}, row {number}: {len(row)} cells for {wanted} columns"
                )


@frozen
class FactList:
    """Labels, each with what is said of it."""

    title: Words
    entries: tuple[tuple[Words, Cell], ...]


@frozen
class TermList:
    """Terms, each with what it means: one or more meanings, each of one or more blocks."""

    entries: "tuple[tuple[Cell, tuple[tuple[Block, ...], ...]], ...]"


@frozen
class Figure:
    """A drawing and the text that says the same.

    A line of `text` is a paragraph, or one of an outline where some stand behind tabs.
    There is no `picture` where nothing could be drawn. The title is no caption where it is not
    `captioned`: the heading above says it. It has a running number where it is `numbered`.
    """

    title: Words
    picture: "Picture | None"
    text: str
    anchor: str = ""
    captioned: bool = True
    numbered: bool = False


Signal = OneOf["warning", "caution", "notice", "note"]
"""What may come of it: death or serious injury, minor injury, damage, none of these.

Source: ANSI Z535.6, ISO 3864-2 (from memory).
"""


@frozen
class Caution:
    """What to beware of: the subject in a few words ("mains power"), then what to know."""

    subject: Words
    children: "tuple[Block, ...]"
    signal: Signal = "caution"


@frozen
class Quote:
    """Blocks that are somebody else's words."""

    children: "tuple[Block, ...]"


@frozen
class Verbatim:
    """Lines to be kept as they are, such as a few lines of a file; `language` may be ""."""

    text: str
    language: str = ""


@frozen
class ThematicBreak:
    """A line across, where the subject changes."""


Block = (
    Heading
    | Paragraph
    | Listing
    | Table
    | FactList
    | TermList
    | Figure
    | Image
    | Caution
    | Quote
    | Verbatim
    | ThematicBreak
)
BLOCKS: Final = (
    Heading, Paragraph, Listing, Table, FactList, TermList, Figure, Image, Caution, Quote, Verbatim,
    ThematicBreak,
)  # fmt: skip


@frozen
class Document:
    """A whole document. `meta` are the lines under the title: (label, text).

    `foreign` are texts in it that are in another language than its own: (text, language). Of
    those, `untranslated` have no message yet: (sort of place, English message).
    """

    title: Words
    blocks: tuple[Block, ...]
    subtitle: Words = ""
    language: str = "en"
    meta: tuple[tuple[Words, Words | date], ...] = ()
    foreign: tuple[tuple[str, str], ...] = ()
    untranslated: tuple[tuple[str, str], ...] = ()
    kind: Words = ""
    """What sort of document it is: a spec sheet, a guide; "" for a page that is none."""
    audience: str = "customer"
    """Whom it is for: a word of `document.audience`."""
    mark: Words = ""
    """What every page says of it, such as that it is a draft."""
    record: "Record | None" = None  # what a document about a system is audited by


def words(text: Words) -> Cell:
    """A cell of words; an empty text is an empty cell."""
    if isinstance(text, str):
        return (Text(text),) if text else ()
    return (text,)


def literal(text: str) -> Cell:
    """A cell to be read letter by letter."""
    return (Literal(text),) if text else ()


def value(number: str, unit: str = "", key: str = "") -> Cell:
    """A cell with one printed fact."""
    return (Value(number, unit, key),)


def link(text: Words, target: str) -> Cell:
    """A cell with one link."""
    return (Hyperlink(words(text), target),)


def paragraph(text: Words) -> Paragraph:
    """A paragraph of plain words."""
    return Paragraph(words(text))


def plain_text(inlines: Iterable[Inline]) -> str:
    """What is read when all that is left is letters; a figure is its number, a space, its unit.

    Messages and values, in a tree that has no language yet, are read in English.
    """
    return "".join(_pieces(inlines))


def _pieces(inlines: Iterable[Inline]) -> Iterator[str]:
    for each in inlines:
        match each:
            case Text(text) | Literal(text):
                yield text
            case Value(number, unit):
                yield f"{number} {unit}" if unit else number
            case Datum(value):
                yield " ".join(filter(None, ENGLISH.number(value)))
            case Sayable():
                yield from _in_english(ENGLISH.pieces(each))
            case Break():
                yield " "
            case Strong(children) | Emphasis(children) | Hyperlink(children):
                yield from _pieces(children)


def _in_english(pieces: Iterable[object]) -> Iterator[str]:
    for piece in pieces:
        match piece:
            case str():
                yield piece
            case Around(within=within):
                yield from _in_english(within)
            case tuple():
                yield from _pieces(piece)
            case _:
                yield from _pieces((piece,))  # type: ignore[arg-type]
