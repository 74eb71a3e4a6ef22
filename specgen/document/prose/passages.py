"""Markdown to passages: stretches of running text with their references, links and places.

Read from the tokens of markdown-it-py, so code, fences and HTML are never taken for prose. The
parser tells the lines of a block and nothing of what is in it; the rules that make something other
than words are wrapped here, and note from where to where they have read.
"""

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field
from functools import cache, lru_cache
from typing import Final

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token

from specgen.diagnostics import Span
from specgen.document.prose.parser import NOTE, NOTE_MARK, REFERENCE, TICK, crowded, parser_of
from specgen.document.prose.texts import Prose
from specgen.frozen import frozen, state

GAP: Final = "\ufffc"
"""Stands for each character that is not running text."""

CELLS: Final = ("th", "td")

InlineRule = Callable[[StateInline, bool], bool]
_WRAPPED: Final = (
    "escape", "backticks", "link", "image", "autolink", "html_inline", "entity", REFERENCE,
    NOTE_MARK,
)  # fmt: skip
_ID_IN_HTML: Final = re.compile(r"""\bid\s*=\s*["']([^"']+)["']""")


@frozen
class Mention:
    """A reference as it stands in a passage, from and to counted in its content."""

    inner: str
    start: int
    end: int
    linked: bool = False
    """It stands in the words of a link."""


@frozen
class Target:
    """Where a link leads."""

    href: str
    start: int
    end: int


@frozen
class ShownPicture:
    """A picture: the file that it shows, and the words that stand in its place."""

    source: str
    alternative: str
    start: int
    end: int
    title: str = ""
    """What stands below it."""


@frozen
class NoteMark:
    """Where a passage refers to a footnote."""

    label: str
    start: int
    end: int


@frozen
class CharacterPlaces:
    """The place of each character of a passage: offset in the text, line, column.

    By lines of the passage: where each begins in it, and for each the offset and the number of its
    line in the text, with the columns of its characters and of its end, from 0.
    """

    begins: tuple[int, ...]
    lines: tuple[tuple[int, int, Sequence[int]], ...]

    def __len__(self) -> int:
        return self.begins[-1] + len(self.lines[-1][2])

    def __getitem__(self, index: int) -> tuple[int, int, int]:
        at = bisect_right(self.begins, index) - 1
        start, line, columns = self.lines[at]
        column = columns[index - self.begins[at]]
        return start + column, line, column + 1


@frozen
class Passage:
    """A paragraph, a heading or a cell; `flat` is its content with a gap where no words stand."""

    file: str
    kind: str
    content: str
    flat: str
    places: CharacterPlaces
    """For each character, and the end: offset in the text, line, column."""
    mentions: tuple[Mention, ...] = ()
    targets: tuple[Target, ...] = ()
    pictures: tuple[ShownPicture, ...] = ()
    markup: tuple[tuple[str, int], ...] = ()
    """HTML within the text, and where it begins in the content."""
    notes: tuple[NoteMark, ...] = ()
    in_note: bool = False
    """It stands in a footnote."""
    level: int = 0
    """Of a heading."""
    cell: tuple[int, int, int] | None = None
    """Of a cell: the number of its table, its row, whose first is the head, and its column."""

    def span(self, start: int, end: int) -> Span:
        """The place of a stretch of the content."""
        _, line, column = self.places[start]
        _, end_line, end_column = self.places[max(start, end - 1)]
        return Span(self.file, line, column, end_line, end_column + 1)

    def offsets(self, start: int, end: int) -> tuple[int, int]:
        """Where a stretch of the content stands in the text."""
        return self.places[start][0], self.places[max(start, end - 1)][0] + 1


@state
class _Noted:
    """What the wrapped rules have read in one passage: (rule, from, to)."""

    spans: list[tuple[str, int, int]] = field(default_factory=list)
    mentions: list[Mention] = field(default_factory=list)
    targets: list[Target] = field(default_factory=list)
    pictures: list[ShownPicture] = field(default_factory=list)
    markup: list[tuple[str, int]] = field(default_factory=list)
    notes: list[NoteMark] = field(default_factory=list)


@cache
def _parser(page: bool) -> MarkdownIt:
    """The parser of texts, stopped before running text, with rules that note what they read."""
    md = parser_of(page)
    md.core.ruler.disable(["inline", "text_join", "footnote_tail", TICK])
    ruler = md.inline.ruler
    for name, rule in zip(ruler.get_active_rules(), ruler.getRules(""), strict=True):
        if name in _WRAPPED:
            ruler.at(name, _wrapped(name, rule))
    return md


def _wrapped(name: str, rule: InlineRule) -> InlineRule:
    def run(state: StateInline, silent: bool) -> bool:
        start = state.pos
        closed = -1
        if name == "link" and not silent and state.src[start] == "[":
            closed = state.md.helpers.parseLinkLabel(state, start)
            state.pos = start
        before = len(state.tokens)
        done = rule(state, silent)
        if done and not silent:
            noted: _Noted = state.env["noted"]
            if name == REFERENCE:
                inner = state.tokens[-1].content
                noted.mentions.append(Mention(inner, start, state.pos))
                return done
            noted.spans.append((name, start if closed < 0 else closed, state.pos))
            if closed >= 0:
                _link_seen(noted, state, before, start, closed)
            if name == "autolink":
                _target_seen(noted, state, before, start)
            if name == NOTE_MARK:
                label = state.tokens[-1].meta["label"]
                noted.notes.append(NoteMark(label, start, state.pos))
            if name == "html_inline":
                noted.markup.append((state.tokens[-1].content, start))
            if name == "image":
                token = state.tokens[-1]
                words = token.content.strip()
                source, title = (str(token.attrGet(each) or "") for each in ("src", "title"))
                noted.pictures.append(ShownPicture(source, words, start, state.pos, title))
        return done

    return run


def _link_seen(noted: _Noted, state: StateInline, before: int, start: int, closed: int) -> None:
    noted.spans.append(("bracket", start, start + 1))
    _target_seen(noted, state, before, start)
    noted.mentions[:] = [
        Mention(each.inner, each.start, each.end, each.linked or start < each.start < closed)
        for each in noted.mentions
    ]


def _target_seen(noted: _Noted, state: StateInline, before: int, start: int) -> None:
    opened = next((each for each in state.tokens[before:] if each.type == "link_open"), None)
    if opened is not None:
        noted.targets.append(Target(str(opened.attrGet("href") or ""), start, state.pos))


@lru_cache(maxsize=64)  # several checks read a text, one after the other
def passages(prose: Prose) -> tuple[Passage, ...]:
    """The passages of a text, in order."""
    return tuple(_passages(prose))


@lru_cache(maxsize=64)
def tokens_of(prose: Prose) -> tuple[tuple[Token, ...], Mapping[str, object]]:
    """The blocks of a text as the parser tells them, and what it knows of the whole."""
    env: dict[str, object] = {}
    return tuple(_parser(prose.is_page).parse(prose.body, env)), env


def _passages(prose: Prose) -> Iterator[Passage]:
    md = _parser(prose.is_page)
    tokens, env = tokens_of(prose)
    finder = _Finder(prose.body.split("\n"))
    kind, tag, in_note = "", "", False
    table, row, column = 0, -1, -1
    for token in tokens:
        in_note = (in_note or token.type == f"{NOTE}_open") and token.type != f"{NOTE}_close"
        if token.type.endswith("_open"):
            kind, tag = token.type.removesuffix("_open"), token.tag
        if token.type == "table_open":
            table, row = table + 1, -1
        elif token.type == "tr_open":
            row, column = row + 1, -1
        elif kind in CELLS and token.type.endswith("_open"):
            column += 1
        if token.type != "inline" or token.map is None:
            continue
        noted = _Noted()
        if not crowded(token.content):
            md.inline.parse(token.content, md, {**env, "noted": noted}, [])
        flat = list(token.content)
        gaps = [(start, end) for _, start, end in noted.spans]
        for start, end in (*gaps, *((each.start, each.end) for each in noted.mentions)):
            flat[start:end] = GAP * (end - start)
        yield Passage(
            prose.file,
            kind,
            token.content,
            "".join(flat),
            finder.places(token.content, token.map[0]),
            tuple(sorted(noted.mentions, key=lambda each: each.start)),
            tuple(sorted(noted.targets, key=lambda each: each.start)),
            tuple(noted.pictures),
            tuple(noted.markup),
            tuple(noted.notes),
            in_note,
            int(tag[1:]) if kind == "heading" else 0,
            (table, row, column) if kind in CELLS else None,
        )


@frozen
class Markup:
    """A piece of HTML in a page, and the place of its first character."""

    text: str
    at: Span


def markup_of(prose: Prose) -> tuple[Markup, ...]:
    """The HTML of a page, in the order in which it stands there."""
    if not prose.is_page or "<" not in prose.body:
        return ()
    found = [
        Markup(text, passage.span(start, start + 1))
        for passage in passages(prose)
        for text, start in passage.markup
    ]
    lines = prose.body.split("\n")
    for token in tokens_of(prose)[0]:
        if token.type == "html_block" and token.map is not None:
            line = token.map[0]
            column = lines[line].find("<") + 1 or 1
            text = token.content[token.content.find("<") :]
            found.append(Markup(text, Span(prose.file, line + 1, column, line + 1, column + 1)))
    return tuple(sorted(found, key=lambda each: each.at[1:3]))


def anchors_in_html(prose: Prose) -> frozenset[str]:
    """The ids that a page gives by HTML of its own."""
    return frozenset(each for piece in markup_of(prose) for each in _ID_IN_HTML.findall(piece.text))


class _Finder:
    """Finds the lines of a block's content in the lines of the text, each stretch once."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.lines = lines
        self.starts = [0]
        for line in lines:
            self.starts.append(self.starts[-1] + len(line) + 1)
        self.read: dict[int, int] = {}

    def places(self, content: str, first: int) -> CharacterPlaces:
        """The place of each character of `content`, whose block begins at line `first` (from 0)."""
        begins: list[int] = []
        lines: list[tuple[int, int, Sequence[int]]] = []
        begin = 0
        for number, piece in enumerate(content.split("\n"), start=first):
            start = self.starts[min(number, len(self.starts) - 1)]
            lines.append((start, number + 1, self._columns(number, piece)))
            begins.append(begin)
            begin += len(piece) + 1
        return CharacterPlaces(tuple(begins), tuple(lines))

    def _columns(self, number: int, piece: str) -> Sequence[int]:
        """The column of each character of a piece and of its end, from 0."""
        line = self.lines[number] if number < len(self.lines) else ""
        written = piece
        found = line.find(written, self.read.get(number, 0))
        if found < 0:  # in a cell a stroke is written with a backslash before it
            written = piece.replace("|", "\\|")
            found = line.find(written, self.read.get(number, 0))
        found = max(found, 0)
        self.read[number] = found + len(written)
        if written == piece:
            return range(found, found + len(piece) + 1)
        columns, at = [], found
        for letter in piece:
            at += letter == "|"
            columns.append(at)
            at += 1
        return [*columns, at]
