"""The text of a condition: what may stand in it, its syntax tree, and where its pieces lie.

Python's parser is used for the grammar alone; nothing of the text is ever evaluated by Python.
The text is looked over first, so that the parser meets neither what it would be slow or deep
with, nor letters that it would take for others.
"""

import ast
import re
import warnings
from typing import Final

from specgen.diagnostics import Code, Finding, Label, Span, codes
from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import Origin
from specgen.source import YamlScalar, node_at

MOST_TEXT: Final = 1000  # characters of a condition
MOST_BRACKETS: Final = 24  # open at once
MOST_NODES: Final = 250
DEEPEST: Final = 30

_STRING: Final = re.compile(r"'[^']*'|\"[^\"]*\"")
_ALLOWED: Final = re.compile(r"[A-Za-z0-9_ .,()\[\]<>=!+*/'\"-]")


@frozen
class SourceText:
    """A condition as written: `plain` text of one line, and the scalar of the file around it."""

    plain: str
    scalar: Span
    offset: int | None
    """Columns from the scalar's start to the first character; None where that is not known."""
    doubled: str = ""
    """The character that takes two columns in the file: a quote or a backslash before it."""
    places: tuple[tuple[int, int], ...] = ()
    """Line and column of every character, where the scalar stands on several lines."""

    @classmethod
    def of(cls, written: str, scalar: Span) -> "SourceText":
        """The text of a value of the definitions; a plain `str` has no exact places."""
        whole = re.sub(r"\s", " ", str(written))
        plain = whole.rstrip()
        offset, doubled = None, ""
        if isinstance(written, YamlScalar) and scalar.line == scalar.end_line:
            length, width = len(whole), scalar.end_column - scalar.column
            quotes, marks = whole.count("'"), whole.count('"') + whole.count("\\")
            if written.plain and width == length:
                offset = 0
            elif not written.plain and width == length + 2:
                offset = 1
            elif not written.plain and width == length + 2 + quotes and quotes != marks:
                offset, doubled = 1, "'"
            elif not written.plain and width == length + 2 + marks and quotes != marks:
                offset, doubled = 1, '"\\'
        places: tuple[tuple[int, int], ...] = ()
        if isinstance(written, YamlScalar) and written.lines:
            from specgen.expressions.source_map import placed  # few stand on several lines

            places = placed(plain, written.lines, scalar)
        return cls(plain, scalar, offset, doubled, places)

    def place(self, start: int, end: int) -> Span:
        """The place in the file of the characters from `start` to `end`, else of all of it."""
        if self.places:
            head, tail = self.places[start], self.places[max(end, start + 1) - 1]
            return Span(self.scalar.file, *head, tail[0], tail[1] + 1)
        if self.offset is None:
            return self.scalar
        first, last = (self._column(at) for at in (start, max(end, start + 1)))
        return Span(self.scalar.file, self.scalar.line, first, self.scalar.line, last)

    def _column(self, at: int) -> int:
        before = self.plain[:at]
        extra = sum(before.count(mark) for mark in self.doubled)
        return self.scalar.column + (self.offset or 0) + at + extra

    def cut(self, start: int, end: int) -> str:
        """The characters themselves."""
        return self.plain[start:end]


def text_at(origin: Origin, path: tuple[str | int, ...], plain: str) -> SourceText:
    """The text at `path` of a definition, of which `plain` was read."""
    node = node_at(origin.tree, path)
    return SourceText.of(node if isinstance(node, str) else plain, origin.at(*path))


class BadExpression(Exception):
    """A mistake of the author's in a condition, at `start` to `end` of its text."""

    def __init__(
        self,
        code: Code,
        message: Message,
        start: int,
        end: int,
        help_: Message | Nothing = NOTHING,
        label: Message | Nothing = NOTHING,
    ) -> None:
        super().__init__(message)
        self.code, self.message = code, message
        self.start, self.end = start, end
        self.help, self.label = help_, label

    def finding(self, text: SourceText) -> Finding:
        at = Label(text.place(self.start, self.end), self.label)
        return Finding(self.code, self.message, at, help=self.help)


class Followed(BadExpression):
    """What follows from a mistake that has been told where it was made."""


NAMES_OF_OTHERS: Final = (
    codes.UNKNOWN_PART,
    codes.UNKNOWN_PLATFORM,
    codes.UNKNOWN_POSITION,
    codes.UNKNOWN_FAMILY,
    codes.UNKNOWN_KIND,
    codes.UNKNOWN_ATTRIBUTE,
)
"""Codes of names that may be defined in a file that could not be read."""


def syntax(text: SourceText) -> ast.expr:
    """The syntax tree of a condition; raises `BadExpression`."""
    plain = text.plain
    if len(plain) > MOST_TEXT:
        message = say(
            "a condition of {count} characters, and {most} are the most",
            count=len(plain),
            most=MOST_TEXT,
        )
        raise _too_large(message, len(plain))
    _look_over(plain)
    lead = len(plain) - len(plain.lstrip())
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            tree = ast.parse(plain[lead:], mode="eval").body
    except SyntaxError as error:
        # the parser counts from 1, and from 0 where it misses something at the end
        at = min(lead + error.offset, len(plain)) - 1 if error.offset else len(plain) - 1
        at = max(at, 0)
        raise BadExpression(
            codes.RULE_TEXT,
            say("a condition that cannot be read"),
            at,
            at + 1,
            _mend(plain, at) or say("write an expression such as `drives.count <= 8`"),
            say("not understood from here on"),
        ) from None
    except (ValueError, RecursionError, MemoryError):
        raise _too_large(say("a condition that is nested too deep"), len(plain)) from None
    _measure(tree, len(plain))
    return tree


_SPELLINGS: Final = {"&": "and", "|": "or", "≤": "<=", "≥": ">=", "≠": "!=", "×": "*"}
_UNQUOTED: Final = re.compile(r"(?<![\w\"'.])([0-9]+(?:\.[0-9]+)?) ?([A-Za-zµ°Ω%][\w/°]*)")
_SINGLE: Final = re.compile(r"(?<![<>=!])=(?!=)")


def _mend(plain: str, at: int) -> Message | Nothing:
    """What a condition that Python cannot read was likely meant to say."""
    bare = _STRING.sub(lambda text: " " * len(text[0]), plain)
    single = _SINGLE.search(bare)
    if single is not None and single.start() <= at + 1:
        return say("to compare, write `==`")
    if re.search(r"!(?!=)", bare[: at + 2]):
        return _write("not")
    for word, right in (("AND", "and"), ("OR", "or"), ("NOT", "not"), ("=>", ">="), ("=<", "<=")):
        found = re.search(rf"(?<!\w){re.escape(word)}(?!\w)", bare)
        if found is not None and found.start() <= at + 1:
            return _write(right)
    for amount in _UNQUOTED.finditer(bare):
        if amount[2] not in ("and", "or", "in", "not", "if", "else", "for", "is") and (
            amount.start() <= at <= amount.end()
        ):
            return say(
                "an amount with its unit stands in quotes: `{example}`",
                example=f'"{amount[1]} {amount[2]}"',
            )
    return NOTHING


def _write(text: str) -> Message:
    return say("write `{text}`", text=text)


def _too_large(message: Message, end: int) -> BadExpression:
    help_ = say("split it into several rules, one thought each")
    return BadExpression(codes.RULE_TOO_LARGE, message, 0, end, help_)


def _look_over(plain: str) -> None:
    """Refuses characters that mean nothing in a condition, and brackets beyond measure."""
    at = depth = signs = 0
    while at < len(plain):
        letter = plain[at]
        if letter in "'\"":
            string = _STRING.match(plain, at)
            if string is None:
                raise BadExpression(codes.RULE_TEXT, say("a quote that is not closed"), at, at + 1)
            if "\\" in string[0]:
                slash = at + string[0].index("\\")
                message = say("a backslash in a condition")
                raise BadExpression(codes.RULE_TEXT, message, slash, slash + 1)
            at = string.end()
            signs = 0
            continue
        if not _ALLOWED.match(letter):
            meant = _SPELLINGS.get(letter)
            raise BadExpression(
                codes.RULE_TEXT,
                say("`{letter}` means nothing in a condition", letter=letter),
                at,
                at + 1,
                _write(meant)
                if meant
                else say("names are ASCII letters; text, units among it, stands in quotes"),
            )
        depth += (letter in "([") - (letter in ")]")
        signs = signs + 1 if letter in "+-" else signs if letter == " " else 0
        if depth > MOST_BRACKETS or signs > MOST_BRACKETS:
            raise _too_large(say("a condition that is nested too deep"), len(plain))
        at += 1


def _measure(tree: ast.expr, length: int) -> None:
    """Refuses trees that are too large or too deep, without recursion."""
    count = 0
    level: list[ast.AST] = [tree]
    depth = 0
    while level:
        count += len(level)
        depth += 1
        if count > MOST_NODES * 3 or depth > DEEPEST:
            raise _too_large(say("a condition of too many pieces"), length)
        level = [each for node in level for each in ast.iter_child_nodes(node)]


def bounds(node: ast.expr, text: SourceText) -> tuple[int, int]:
    """First and last offset of a node; the parser counts bytes of a line."""
    lead = len(text.plain) - len(text.plain.lstrip())
    raw = text.plain[lead:].encode()
    start = len(raw[: node.col_offset].decode(errors="ignore"))
    end = len(raw[: node.end_col_offset or 0].decode(errors="ignore"))
    return start + lead, end + lead
