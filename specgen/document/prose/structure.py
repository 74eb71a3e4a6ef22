"""How the blocks of a text are written: warnings, footnotes, tables and fences that are whole."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from markdown_it.rules_block.table import escapedSplit
from markdown_it.token import Token

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.document.prose.parser import ADMONITION, NOTE, SIGNALS, SUBJECT, kind_of
from specgen.document.prose.passages import NoteMark, Passage, passages, tokens_of
from specgen.document.prose.texts import Prose
from specgen.frozen import frozen
from specgen.messages import Message, say

_LEAD: Final = re.compile(r"[\s>]*")
_COLONS: Final = re.compile(r"[ \t]*:{3,}[ \t]*")
_BLOCKS: Final = re.compile(r":::|\||```|~~~")
"""What warnings, tables and lines of code are made of: most texts have none."""
_NO_NOTE: Final = re.compile(r"\[\^([^\s\]]+)\]")
_NOTED_IN_HEAD: Final = ("heading", "th", SUBJECT)
_EXAMPLE: Final = "::: warning …"


@frozen
class _Lines:
    """The lines of a text, and where things stand in them."""

    file: str
    lines: Sequence[str]

    def at(self, line: int) -> Span:
        """A line, numbered from 0, without what stands before its first letter."""
        text = self.lines[line] if line < len(self.lines) else ""
        lead = _LEAD.match(text)
        column = (lead.end() if lead else 0) + 1
        end = max(len(text.rstrip()) + 1, column + 1)
        return Span(self.file, line + 1, column, line + 1, end)

    def closes(self, line: int, sign: str) -> bool:
        """Whether a line holds the sign that closes what one like it has opened."""
        if line >= len(self.lines):
            return False
        end = _LEAD.sub("", self.lines[line], count=1).rstrip()
        return len(end) >= len(sign) and not end.strip(sign[0])


def structure(text: Prose) -> Iterator[Finding]:
    """SG515, SG517, SG518, SG519: what of a text could not be printed as it is meant."""
    tokens, _ = tokens_of(text)
    lines = _Lines(text.file, text.body.split("\n"))
    yield from _notes(text, tokens, lines)
    if not _BLOCKS.search(text.body):
        return
    columns, head = 0, False
    for token, after in pairwise((*tokens, Token("end", "", 0))):
        match token.type:
            case "container_admonition_open":
                yield from _admonition(token, tokens, lines)
            case "fence":
                yield from _fence(token, lines)
            case "thead_open":
                columns, head = 0, True
            case "th_open":
                columns += 1
            case "tbody_open":
                head = False
            case "tr_open" if not head:
                yield from _row(_first(token), columns, lines)
            case "paragraph_open" if after.type == "inline":
                yield from _paragraph(after, lines)


def _first(token: Token) -> int:
    return token.map[0] if token.map else 0


def _admonition(opened: Token, tokens: Sequence[Token], lines: _Lines) -> Iterator[Finding]:
    at = Label(lines.at(_first(opened)))
    kind = kind_of(opened)
    if kind not in SIGNALS:
        there = ", ".join(f"`{each}`" for each in SIGNALS)
        yield Finding(
            codes.ADMONITION,
            say("no warning or note is of the kind `{kind}`", kind=kind),
            at,
            help=question(did_you_mean(kind, SIGNALS)) or say("there are {there}", there=there),
        )
    inner = tokens[tokens.index(opened) + 1 :]
    if inner[0].type == f"{SUBJECT}_open":
        inner = inner[3:]
    last = opened.map[1] if opened.map else 0
    if not lines.closes(last, opened.markup):
        yield Finding(
            codes.ADMONITION,
            say("a warning or a note that is not closed"),
            at,
            help=say("write a line `{sign}` behind it", sign=opened.markup),
        )
    elif inner[0].type == f"{ADMONITION}_close":
        yield Finding(
            codes.ADMONITION,
            say("a warning or a note that says nothing"),
            at,
            help=say("write what to know below its first line"),
        )


def _fence(token: Token, lines: _Lines) -> Iterator[Finding]:
    last = token.map[1] - 1 if token.map else 0
    if last <= _first(token) or not lines.closes(last, token.markup):
        yield Finding(
            codes.NOT_MARKDOWN,
            say("lines of code that are not closed"),
            Label(lines.at(_first(token))),
            help=say("write a line of the same signs behind them"),
        )


def _row(line: int, columns: int, lines: _Lines) -> Iterator[Finding]:
    """A row of more cells than the head has columns; the parser leaves out what is too much."""
    found = len(_cells(lines.lines[line]))
    if found > columns:
        yield Finding(
            codes.TABLE_ROWS,
            say("{found} cells in a table of {wanted} columns", found=found, wanted=columns),
            Label(lines.at(line)),
            help=say("a `|` within a cell is written `\\|`"),
        )


def _cells(line: str) -> list[str]:
    """The cells of a row as the parser finds them."""
    cells = escapedSplit(_LEAD.sub("", line, count=1).strip())
    cells = cells[1:] if cells and not cells[0] else cells
    return cells[:-1] if cells and not cells[-1] else cells


def _paragraph(inline: Token, lines: _Lines) -> Iterator[Finding]:
    """Signs of a block that has become words."""
    first = _first(inline)
    content = inline.content.split("\n")
    for number, line in enumerate(content):
        at = Label(lines.at(first + number))
        if _COLONS.fullmatch(line):
            yield Finding(
                codes.ADMONITION,
                say("a line that closes a warning or a note, and none is open"),
                at,
                help=say("open it with a line `{sign}`", sign=_EXAMPLE),
            )
        elif number and "|" in content[number - 1] and _is_below_head(line):
            yield Finding(
                codes.TABLE_ROWS,
                say(
                    "a table of {above} columns with {below} below its head",
                    above=len(_cells(content[number - 1])),
                    below=len(_cells(line)),
                ),
                at,
                help=say("write as many `---` as there are columns"),
            )


def _is_below_head(line: str) -> bool:
    return not line.strip("|-: \t") and "|" in line and "-" in line


def _notes(text: Prose, tokens: Sequence[Token], lines: _Lines) -> Iterator[Finding]:
    if "[^" not in text.body:
        return
    known: dict[str, Token] = {}
    for token in tokens:
        if token.type == f"{NOTE}_open":
            label = str(token.meta["label"])
            if label in known:
                yield Finding(
                    codes.NOTE_LOST,
                    say("a second footnote `{label}`", label=label),
                    Label(lines.at(_first(token))),
                    labels=(Label(lines.at(_first(known[label])), say("the first one")),),
                    help=say("give it another name"),
                )
            known.setdefault(label, token)
    for passage in passages(text):
        yield from _marks(passage, known)


def _marks(passage: Passage, known: dict[str, Token]) -> Iterator[Finding]:
    for found in _NO_NOTE.finditer(passage.flat):
        help_ = say("write it on a line of its own: `{text}`", text=f"[^{found[1]}]: …")
        yield Finding(
            codes.NOTE_LOST,
            say("no footnote is named `{name}`", name=found[1]),
            Label(passage.span(found.start(), found.end())),
            help=question(did_you_mean(found[1], known)) or help_,
        )
    for mark in passage.notes:
        place = _no_place(passage)
        if place is not None:
            yield _misplaced(passage, mark, place)


def _no_place(passage: Passage) -> Message | None:
    if passage.in_note:
        return say("a footnote within a footnote")
    if passage.kind in _NOTED_IN_HEAD:
        return say("a footnote in a heading, or in the head of a table or a warning")
    return None


def _misplaced(passage: Passage, mark: NoteMark, message: Message) -> Finding:
    help_ = say("refer to it from the text")
    return Finding(codes.NOTE_LOST, message, Label(passage.span(mark.start, mark.end)), help=help_)


def unused_notes(text: Prose) -> Iterator[Finding]:
    """SG516: footnotes that nothing refers to."""
    if "[^" not in text.body:
        return
    lines = _Lines(text.file, text.body.split("\n"))
    used = {mark.label for passage in passages(text) for mark in passage.notes}
    for token in tokens_of(text)[0]:
        if token.type == f"{NOTE}_open" and token.meta["label"] not in used:
            label = str(token.meta["label"])
            yield Finding(
                codes.NOTE_UNUSED,
                say("nothing refers to the footnote `{label}`", label=label),
                Label(lines.at(_first(token))),
                help=say("write `{text}` where it belongs", text=f"[^{label}]"),
            )
