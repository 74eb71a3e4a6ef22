"""Reads the Markdown of a filled template into the document tree.

CommonMark with pipe tables; no HTML, no indented code (templates indent what stands inside their
loops) and no underlined headings (a rule may follow a placeholder). A placeholder alone in its
paragraph becomes its block, any other its inlines. Whatever the tree has no room for falls back
to its text.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final
from urllib.parse import quote

from markdown_it import MarkdownIt
from markdown_it.token import Token

from specgen.document.link_targets import safe_target
from specgen.document.prose.parser import read_running_text
from specgen.document.template import Filled
from specgen.document.tree import (
    BLOCKS,
    INLINES,
    Align,
    Block,
    Break,
    Cell,
    Column,
    Emphasis,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Literal,
    Paragraph,
    Quote,
    Strong,
    Table,
    Text,
    ThematicBreak,
    Verbatim,
    plain_text,
    words,
)
from specgen.messages import Message, Words
from specgen.messages.pattern import escaped


class _Parser(MarkdownIt):
    """markdown-it-py, with targets of links left as written: they are judged here."""

    def validateLink(self, url: str) -> bool:  # noqa: N802, ARG002
        return True

    def normalizeLink(self, url: str) -> str:  # noqa: N802
        return url


_PARSER: Final = (
    _Parser("commonmark", {"html": False, "linkify": False, "typographer": False})
    .enable("table")
    .disable(["code", "lheading", "html_block", "html_inline"])
)
_PARSER.core.ruler.at("inline", read_running_text)

_DEEPEST: Final = 20
"""Strong words, other voices and links within each other; deeper ones leave their words."""

_Mixed = list[Inline | Block]


def blocks_of(filled: Filled, messages: bool = False, language: str = "") -> tuple[Block, ...]:
    """The blocks that the filled template says; a level-1 heading is a Heading of level 1.

    Where what is written in it are `messages`, each paragraph, heading and cell is one, in which
    its values are open places numbered from one: what a template says can be translated. What a
    writer says of one product cannot, and is text, in a `language` where it is not the project's.
    """
    reader = _BlockReader(filled, _tokens(filled.source), messages, language)
    return tuple(reader.blocks(""))


@lru_cache(maxsize=64)
def _tokens(source: str) -> tuple[Token, ...]:
    """The tokens of a filled template, which are only read.

    Values are placeholders in the source, so documents of the same build-up share one.
    """
    return tuple(_PARSER.parse(source))


@dataclass(slots=True)
class _BlockReader:
    filled: Filled
    tokens: Sequence[Token]
    messages: bool
    language: str
    at: int = 0

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
                yield Heading(int(token.tag[1:]), self.inline_until("heading_close"))
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
                columns.append(Column(_title(self.inline_until("th_close")), align))
            elif token.type == "tr_open" and columns:
                rows.append([])
            elif token.type == "td_open":
                rows[-1].append(self.inline_until("td_close"))
        return Table("", tuple(columns), tuple(map(tuple, rows)))

    def next(self) -> Token:
        token = self.tokens[self.at]
        self.at += 1
        return token

    def mixed_until(self, end: str) -> _Mixed:
        mixed: _Mixed = []
        while (token := self.next()).type != end:
            if token.type == "inline":
                mixed += _InlineReader(self.filled, token.children or []).until("")
        return mixed

    def inline_until(self, end: str) -> Cell:
        return self.settled(_only_inlines(self.mixed_until(end)))

    def settled(self, cell: Cell) -> Cell:
        """What is written, as a message or as text."""
        return as_message(cell) if self.messages else as_text(cell, self.language)


@dataclass(slots=True)
class _InlineReader:
    filled: Filled
    tokens: Sequence[Token]
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
        return _merged(mixed)

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
            case "image":  # nothing is fetched from elsewhere: a picture leaves its words
                return _InlineReader(self.filled, token.children or [], 0, self.depth).until("")
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


class TemplateWords(Text):
    """Words that stand in the template itself, before it is known whether they are a message."""


def as_text(cell: Cell, language: str = "") -> Cell:
    """A cell whose written words are text of a language."""
    merged = _merged(_plain(each, language) for each in cell)
    return tuple(each for each in merged if isinstance(each, INLINES))


def _plain(inline: Inline, language: str = "") -> Inline:
    match inline:
        case TemplateWords(text):
            return Text(text, language)
        case Strong(children) | Emphasis(children) | Hyperlink(children):
            return replace(inline, children=as_text(children, language))
        case _:
            return inline


def as_message(cell: Cell) -> Cell:
    """A cell as one message whose values are its arguments; without words in it, as it is."""
    if not _speaks(cell):
        return as_text(cell)
    arguments: dict[str, object] = {}
    pattern = "".join(_patterns(cell, arguments))
    return (Message(pattern, tuple(arguments.items())),)


def _speaks(cell: Cell) -> bool:
    return any(
        (isinstance(each, TemplateWords) and _WORD.search(each.text))
        or (isinstance(each, Strong | Emphasis | Hyperlink) and _speaks(each.children))
        for each in cell
    )


def _patterns(cell: Cell, arguments: dict[str, object]) -> Iterator[str]:
    for each in cell:
        if isinstance(each, TemplateWords):
            yield escaped(each.text)
            continue
        name = str(len(arguments) + 1)
        arguments[name] = each
        if isinstance(each, Strong | Emphasis | Hyperlink):
            if _speaks(each.children):
                yield f"{{{name}:{''.join(_patterns(each.children, arguments))}}}"
                continue
            arguments[name] = _plain(each)
        yield f"{{{name}}}"


def _title(cell: Cell) -> Words:
    """The title of a column: nothing but words has room there."""
    only = cell[0] if len(cell) == 1 else None
    return only if isinstance(only, Message) and not only.arguments else plain_text(cell)


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


def _merged(mixed: Iterable[Inline | Block]) -> _Mixed:
    """Neighbouring texts as one."""
    merged: _Mixed = []
    for each in mixed:
        last = merged[-1] if merged else None
        if isinstance(each, Text) and type(each) is type(last):
            assert isinstance(last, Text)
            merged[-1] = replace(last, text=last.text + each.text)
        else:
            merged.append(each)
    return merged


def _as_text(filled: Filled, text: str) -> str:
    return plain_text(_only_inlines(_restored(filled, text)))


_BLANK = re.compile(r"\s")
_WORD = re.compile(r"[^\W\d_]{2}")


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
