"""Reads the Markdown of a filled template into the document tree.

What `document.prose.parser` knows; no HTML, no indented code (templates indent what stands inside
their loops) and no underlined headings (a rule may follow a placeholder). A placeholder alone in
its paragraph becomes its block, any other its inlines. Whatever the tree has no room for falls
back to its text.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final
from urllib.parse import quote

from markdown_it.token import Token

from specgen.document.link_targets import safe_target
from specgen.document.prose.parser import ADMONITION, OWN_ID, SUBJECT, signal_of, template_parser
from specgen.document.template import Filled
from specgen.document.tree import (
    BLOCKS,
    Align,
    Block,
    Break,
    Caution,
    Cell,
    Column,
    Emphasis,
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
    Verbatim,
    plain_text,
    words,
)
from specgen.document.written_words import TemplateWords, as_message, as_text, joined, words_of
from specgen.messages import Words

_parser = cache(template_parser)
_DEEPEST: Final = 20
"""Strong words, other voices and links within each other; deeper ones leave their words."""

_Mixed = list[Inline | Block]
Elsewise = tuple[str, frozenset[tuple[int, int]]]
"""A language, and the paragraphs, headings and cells that are in it: by the line on which each
begins and its number among those of the line, from 0."""
IN_NONE: Final[Elsewise] = ("", frozenset())


def blocks_of(
    filled: Filled,
    messages: bool = False,
    language: str = "",
    other: Elsewise = IN_NONE,
) -> tuple[Block, ...]:
    """The blocks that the filled template says; a level-1 heading is a Heading of level 1.

    Where what is written in it are `messages`, each paragraph, heading and cell is one, in which
    its values are open places numbered from one: what a template says can be translated. What a
    writer says of one product cannot, and is text, in a `language` where it is not the project's;
    some of it is in an `other` one.
    """
    reader = _BlockReader(filled, _tokens(filled.source), messages, language, other)
    return tuple(reader.blocks(""))


@lru_cache(maxsize=64)
def _tokens(source: str) -> tuple[Token, ...]:
    """The tokens of a filled template, which are only read.

    Values are placeholders in the source, so documents of the same build-up share one.
    """
    return tuple(_parser().parse(source))


@dataclass(slots=True)
class _BlockReader:
    filled: Filled
    tokens: Sequence[Token]
    messages: bool
    language: str
    other: Elsewise = IN_NONE
    at: int = 0
    place: tuple[int, int] = (-1, 0)
    within_note: bool = False

    def blocks(self, end: str) -> Iterator[Block]:
        """The blocks up to the token of type `end`, or up to the last; passes over the end."""
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            self.at += 1
            if token.type == end:
                return
            yield from self.block(token)

    def block(self, token: Token) -> Iterator[Block]:
        match token.type:
            case "heading_open":
                yield self.heading(int(token.tag[1:]))
            case "paragraph_open":
                yield from _paragraphs(self.mixed_until("paragraph_close"), self.settled)
            case "bullet_list_open":
                yield self.listing("bullet_list_close")
            case "ordered_list_open":
                start = token.attrGet("start")
                yield self.listing("ordered_list_close", 1 if start is None else int(start))
            case "blockquote_open":
                yield Quote(tuple(self.blocks("blockquote_close")))
            case "table_open":
                yield self.table()
            case "dl_open":
                yield TermList(tuple(self.terms()))
            case "container_admonition_open":
                yield self.admonition(token)
            case "footnote_block_open":  # read where they are referred to
                self.pass_over("footnote_block_close")
            case "hr":
                yield ThematicBreak()
            case "fence" | "code_block":
                language = _as_text(self.filled, token.info).split()
                text = _as_text(self.filled, token.content).rstrip("\n")
                yield Verbatim(text, language[0] if language else "")
            case _ if token.content:
                yield Paragraph((Text(_as_text(self.filled, token.content)),))
            case _:
                pass

    def heading(self, level: int) -> Heading:
        """A heading, with the anchor that it gives itself."""
        match _only_inlines(self.mixed_until("heading_close")):
            case (*before, Text(text) as last) if own := OWN_ID.search(text):
                words = (*before, replace(last, text=text[: own.start()]))
                return Heading(level, self.settled(words), own[1])
            case words:
                return Heading(level, self.settled(words))

    def listing(self, end: str, first: int | None = None) -> Listing:
        items: list[tuple[Block, ...]] = []
        while self.next().type != end:
            items.append(tuple(self.blocks("list_item_close")))
        return Listing(tuple(items), first)

    def table(self) -> Table:
        columns: list[Column] = []
        rows: list[list[Cell]] = []
        while (token := self.next()).type != "table_close":
            if token.type == "th_open":
                align: Align = "end" if "right" in str(token.attrGet("style")) else "start"
                columns.append(Column(words_of(self.inline_until("th_close")), align))
            elif token.type == "tr_open" and columns:
                rows.append([])
            elif token.type == "td_open":
                rows[-1].append(self.inline_until("td_close"))
        return Table("", tuple(columns), tuple(map(tuple, rows)))

    def terms(self) -> Iterator[tuple[Cell, tuple[tuple[Block, ...], ...]]]:
        term: Cell = ()
        meanings: list[tuple[Block, ...]] = []
        while (token := self.next()).type != "dl_close":
            if token.type == "dd_open":
                meanings.append(tuple(self.blocks("dd_close")))
            elif token.type == "dt_open":
                if meanings:
                    yield term, tuple(meanings)
                term, meanings = self.inline_until("dt_close"), []
        yield term, tuple(meanings)

    def admonition(self, opened: Token) -> Caution:
        """A warning or a note."""
        subject: Words = ""
        if self.tokens[self.at].type == f"{SUBJECT}_open":
            subject = words_of(self.inline_until(f"{SUBJECT}_close"))
        return Caution(subject, tuple(self.blocks(f"{ADMONITION}_close")), signal_of(opened))

    def note(self, number: int) -> tuple[Block, ...]:
        """What a footnote says; within another one nothing, which is told."""
        at = next(
            (
                at
                for at, token in enumerate(self.tokens, start=1)
                if token.type == "footnote_open" and token.meta["id"] == number
            ),
            None,
        )
        if at is None or self.within_note:
            return ()
        inner = replace(self, at=at, within_note=True)
        return tuple(inner.blocks("footnote_close"))

    def pass_over(self, end: str) -> None:
        while self.next().type != end:
            pass

    def next(self) -> Token:
        token = self.tokens[self.at]
        self.at += 1
        return token

    def mixed_until(self, end: str) -> _Mixed:
        mixed: _Mixed = []
        while (token := self.next()).type != end:
            if token.type == "inline":
                line, number = token.map[0] if token.map else -1, 0
                if line == self.place[0]:
                    number = self.place[1] + 1
                self.place = line, number
                mixed += _InlineReader(self.filled, token.children or [], self.note).until("")
        return mixed

    def inline_until(self, end: str) -> Cell:
        return self.settled(_only_inlines(self.mixed_until(end)))

    def settled(self, cell: Cell) -> Cell:
        """What is written, as a message or as text."""
        if self.messages:
            return as_message(cell)
        language, places = self.other
        return as_text(cell, language if self.place in places else self.language)


@dataclass(slots=True)
class _InlineReader:
    filled: Filled
    tokens: Sequence[Token]
    note: Callable[[int], tuple[Block, ...]]
    at: int = 0
    depth: int = 0

    def until(self, end: str) -> _Mixed:
        """What stands up to the token of type `end`; passes over the end."""
        mixed: _Mixed = []
        self.depth += 1
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            self.at += 1
            if token.type == end:
                break
            mixed += self.inline(token)
        self.depth -= 1
        return joined(mixed)

    def inline(self, token: Token) -> Iterable[Inline | Block]:
        match token.type:
            case "text":
                return _restored(self.filled, token.content)
            case "softbreak":
                return (TemplateWords(" "),)
            case "hardbreak":
                return (Break(),)
            case "code_inline":
                return (Literal(_as_text(self.filled, token.content)),)
            case _ if token.nesting and self.depth > _DEEPEST:
                return ()
            case "strong_open":
                return (Strong(_only_inlines(self.until("strong_close"))),)
            case "em_open":
                return (Emphasis(_only_inlines(self.until("em_close"))),)
            case "link_open":
                children = _only_inlines(self.until("link_close"))
                target = _target(self.filled, str(token.attrGet("href") or ""))
                return (Hyperlink(children, target),) if safe_target(target) else children
            case "footnote_ref":
                return (Footnote(self.note(token.meta["id"])),)
            case "tick":
                return (Tick(bool(token.info)),)
            case "image":  # nothing is fetched from elsewhere: a picture leaves its words
                inner = _InlineReader(self.filled, token.children or [], self.note, 0, self.depth)
                return inner.until("")
            case _:
                return _restored(self.filled, token.content)


def _restored(filled: Filled, text: str) -> Iterator[Inline | Block]:
    for piece in filled.split(text):
        if isinstance(piece, str):
            yield TemplateWords(piece)
        else:
            yield from piece


def _paragraphs(mixed: _Mixed, settled: Callable[[Cell], Cell]) -> Iterator[Block]:
    """A paragraph, taken apart where a block stands in it."""
    inlines: list[Inline] = []
    for each in mixed:
        if isinstance(each, BLOCKS):
            yield from _paragraph(inlines, settled)
            yield each
            inlines = []
        else:
            inlines.append(each)
    yield from _paragraph(inlines, settled)


def _paragraph(inlines: list[Inline], settled: Callable[[Cell], Cell]) -> Iterator[Block]:
    if plain_text(inlines).strip():
        yield Paragraph(settled(_trimmed(inlines)))


def _trimmed(inlines: list[Inline]) -> Cell:
    """Without blanks where a block stood before or after."""
    kept = list(inlines)
    if isinstance(kept[0], Text):
        kept[0] = replace(kept[0], text=kept[0].text.lstrip(" \n"))
    if isinstance(kept[-1], Text):
        kept[-1] = replace(kept[-1], text=kept[-1].text.rstrip(" \n"))
    return tuple(each for each in kept if not (isinstance(each, Text) and not each.text))


def _only_inlines(mixed: Iterable[Inline | Block]) -> Cell:
    """For a heading, a cell, a link: a block there leaves its title."""
    return tuple(
        inline
        for each in mixed
        for inline in (words(getattr(each, "title", "")) if isinstance(each, BLOCKS) else (each,))
    )


def _as_text(filled: Filled, text: str) -> str:
    return plain_text(_only_inlines(_restored(filled, text)))


_BLANK = re.compile(r"\s")


def _target(filled: Filled, target: str) -> str:
    """The target with its values put in; one after the start is a piece of a path, and quoted."""
    whole = ""
    for piece in filled.split(target):
        if isinstance(piece, str):
            whole += piece
        else:
            text = plain_text(_only_inlines(piece))
            whole += quote(text, safe="") if whole else text
    return _BLANK.sub("%20", whole)
