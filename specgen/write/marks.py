"""Text and inlines as one line of Markdown that reads back as the same text.

Only what Markdown would take for a mark is escaped, so that a review reads words and not
backslashes. Source: CommonMark 0.31.2, sections 2.4 (backslash escapes), 6.1 (code spans),
6.2 (emphasis), 6.3 (links); pipes in tables as in GitHub Flavored Markdown 0.29, section 4.10.
"""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from typing import Final
from urllib.parse import quote

from specgen.document.tree import (
    Break,
    Emphasis,
    Footnote,
    Hyperlink,
    Inline,
    Literal,
    Strong,
    Text,
    Tick,
    Value,
    plain_text,
)
from specgen.frozen import frozen

_FOLD = re.compile("[\t-\r\x1c-\x1f\x85\u2028\u2029 ]+")
_UNFIT = re.compile("[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\ud800-\udfff]")
_MARKS = re.compile(
    r"[\\`*\[\]<~$]"
    r"|(?<![^\W_])_|_(?![^\W_])"  # between letters it is no mark
    r"|&(?=#?[A-Za-z0-9]*(?:;|$))"  # only where a character reference might begin
)
_LINE_START = re.compile(
    r"#{1,6}(?=\s|$)|>|[-+](?=\s|$)|[-=:][-=:\s]*$|(?P<number>[0-9]{1,9})[.)](?=\s|$)"
)
_LONG: Final = 100  # letters of a line of prose that is left as it is
_SEAMS: Final = tuple(re.compile(f"(?<=[{ends}]) ") for ends in (".!?", ";", ","))
_ASCII_MARKS: Final = frozenset("!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~")
_REFERENCE = re.compile(r"&(?=#?[A-Za-z0-9]+;)")
_NOT_IN_ADDRESS = re.compile(r"[^\x21-\x7e]|[()|`^{}]")


def folded(text: str) -> str:
    """The text on one line and without control characters and lone surrogates."""
    return _UNFIT.sub("", _FOLD.sub(" ", text))


def escaped(text: str, *, in_cell: bool) -> str:
    """The folded text with a backslash before all that Markdown would take for a mark."""
    safe = _MARKS.sub(r"\\\g<0>", text)
    return safe.replace("|", "\\|") if in_cell else safe


Leads = Callable[[str], str | None]
"""The address for the target of a link, None where its words stand alone."""


Number = Callable[[Footnote], int]
"""The number of a footnote."""


def line_of(
    inlines: Iterable[Inline], leads: Leads, number: Number, *, in_cell: bool = False
) -> str:
    """The inlines as one line of Markdown, for a heading or a cell; a break is a blank."""
    return " ".join(filter(None, _InlineWriter(leads, number, in_cell).lines(inlines)))


def lines_of(inlines: Iterable[Inline], leads: Leads, number: Number) -> list[str]:
    """The inlines as a paragraph; one more line for every break, and for the sentences of a long
    one."""
    # A line without a word would end the paragraph.
    writer = _InlineWriter(leads, number, in_cell=False)
    lines = [_wrapped(line) for line in writer.lines(inlines) if line]
    for line in lines[:-1]:
        line[-1] += "\\"
    return [each for line in lines for each in line]


def _wrapped(line: str) -> list[str]:
    """A long line broken where its sentences end, a long sentence where its clauses do: always at
    the same words, so that a changed one changes its own line and no other."""
    made = [line]
    for seam in _SEAMS:
        made = [
            piece
            for each in made
            for piece in (seam.split(each) if len(each) > _LONG else [each])
            if piece
        ]
    return [guarded(each) for each in made]


def guarded(line: str) -> str:
    """The line with a backslash where its start would be read as a mark of a block."""
    found = _LINE_START.match(line)
    if not found:
        return line
    at = len(found["number"] or "")
    return f"{line[:at]}\\{line[at:]}"


@frozen
class _InlineWriter:
    leads: Leads
    number: Number
    in_cell: bool

    def lines(self, inlines: Iterable[Inline]) -> Iterator[str]:
        line: list[Inline] = []
        for each in _merged(self.flat(inlines, frozenset())):
            if isinstance(each, Break):
                yield self.written(line).strip()
                line = []
            else:
                line.append(each)
        yield self.written(line).strip()

    def flat(self, inlines: Iterable[Inline], within: frozenset[type]) -> Iterator[Inline]:
        """Without empty ones, without strong in strong, link in link; breaks at the top only."""
        for each in inlines:
            match each:
                case Text(text):
                    yield from _words(Text, folded(text))
                case Value(number, unit):
                    yield from _words(Text, folded(f"{number} {unit}" if unit else number))
                case Literal(text):
                    yield from _words(Literal, folded(text))
                case Break() if within:
                    yield Text(" ")
                case Hyperlink(children, target):
                    leads = None if Hyperlink in within else self.leads(target)
                    inner = tuple(self.flat(children, within | {Hyperlink} if leads else within))
                    if leads and plain_text(inner).strip():
                        yield Hyperlink(inner, leads)
                    else:
                        yield from inner
                case Strong(children) | Emphasis(children) if type(each) in within:
                    yield from self.flat(children, within)
                case Strong(children) | Emphasis(children):
                    inner = tuple(self.flat(children, within | {type(each)}))
                    if plain_text(inner).strip():
                        yield Strong(inner) if isinstance(each, Strong) else Emphasis(inner)
                    else:
                        yield from inner
                case _:
                    yield each

    def written(self, inlines: Iterable[Inline]) -> str:
        line = ""
        closed = False  # the line ends with a closing mark that must not touch a letter
        for each in _merged(inlines):
            match each:
                case Strong(children) | Emphasis(children):
                    mark = "**" if isinstance(each, Strong) else "_"
                    line, closed = _marked(line, mark, self.written(children), closed)
                    continue
                case _:
                    piece = self.simple(each)
            if isinstance(each, Hyperlink) and line.endswith(
                "!"
            ):  # together they would be a picture
                line = line[:-1] + "\\!"
            if closed and piece:
                piece = _apart(piece[0]) + piece[1:]
            line, closed = line + piece, closed and not piece
        return line

    def simple(self, inline: Inline) -> str:
        match inline:
            case Text(text):
                return escaped(text, in_cell=self.in_cell)
            case Literal(text):
                return _code(text, self.in_cell)
            case Hyperlink(children, target):
                return f"[{self.written(children).strip()}]({_destination(target)})"
            case Tick(done):
                return f"[{'x' if done else ' '}] "
            case Footnote():
                return f"[^{self.number(inline)}]"
            case _:
                return ""


def _words(sort: type[Text] | type[Literal], text: str) -> Iterator[Inline]:
    if text:
        yield sort(text)


def _merged(inlines: Iterable[Inline]) -> Iterator[Inline]:
    """Neighbours of one sort as one: marks that touch would be read as others."""
    last: Inline | None = None
    for each in inlines:
        match last, each:
            case Text(before), Text(after):
                last = Text(before + after)
            case Strong(before), Strong(after):
                last = Strong((*before, *after))
            case Literal(before), Literal(after):
                last = Literal(before + after)
            case Emphasis(before), Emphasis(after):
                last = Emphasis((*before, *after))
            case _:
                if last is not None:
                    yield last
                last = each
    if last is not None:
        yield last


def _marked(line: str, mark: str, inner: str, closed: bool) -> tuple[str, bool]:
    """The line with `inner` between marks, and whether a letter after it would undo them.

    A mark opens only before a letter, or after a blank or a punctuation mark; it closes by the
    same rule the other way round (CommonMark 6.2). A letter in the way is written by its number,
    which begins and ends with punctuation.
    """
    words = inner.strip()
    lead = inner[: len(inner) - len(inner.lstrip())]
    trail = inner[len(inner.rstrip()) :]
    if not words:
        return line + inner, closed and not inner
    line += lead
    if line and (mark == "_" or not words[0].isalnum()):
        line = line[:-1] + _apart(line[-1])
    touchy = not trail and (mark == "_" or not words[-1].isalnum())
    return f"{line}{mark}{words}{mark}{trail}", touchy


def _apart(letter: str) -> str:
    """The letter, by its number where it is neither a blank nor a punctuation mark."""
    if letter.isspace() or letter in _ASCII_MARKS or unicodedata.category(letter)[0] == "P":
        return letter
    return f"&#{ord(letter)};"


def _code(text: str, in_cell: bool) -> str:
    if not text.strip():
        return text
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * (longest + 1)
    pad = " " if text[0] in "` " or text[-1] in "` " else ""
    written = f"{fence}{pad}{text}{pad}{fence}"
    return written.replace("|", "\\|") if in_cell else written


def _destination(target: str) -> str:
    """The address without what would end it or be read as another letter."""
    bare = _NOT_IN_ADDRESS.sub(lambda found: quote(found[0], safe=""), target)
    return _REFERENCE.sub("&amp;", bare)
