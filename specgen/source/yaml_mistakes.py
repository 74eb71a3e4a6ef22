"""What keeps a text from being YAML, said at the line where it was written.

The parser notices a mistake where it can go no further: below an open quote or bracket that is
lines away, and in words about its own work. Here the cause is looked for first.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Final

import yaml

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say

_BLOCK: Final = re.compile(r"[|>][-+0-9]*\s*(#.*)?$")
_BEFORE_QUOTE: Final = re.compile(r"(^|[:,\[{(-]|[-?:,]\s+|^\s+)\s*$")
_AFTER_QUOTE: Final = re.compile(r"\s*($|#|[,\]}:])")
_NO_SPACE: Final = re.compile(r"(?P<lead>\s*(?:- )?)(?P<key>[^\s:#'\"{\[]+):(?P<value>[^\s/:].*)")
_BARE: Final = re.compile(r"\s*(?:- )?(?P<key>\S+)\s+(?P<value>\S.*)")
_CLOSERS: Final = {"{": "}", "[": "]"}
LONGEST: Final = 300_000
"""Letters of a text in which a cause is looked for; nobody writes more by hand."""
BROADEST: Final = 5_000
"""Letters of a line, likewise."""
_SIGNS: Final = "@`%*&!|>"

Place = tuple[int, int]
"""Line and column, from 1."""


@frozen
class _Mistake:
    message: Message
    at: Place
    help: Message | Nothing = NOTHING
    label: Message | Nothing = NOTHING


def explained(error: yaml.MarkedYAMLError, lines: Sequence[str], file: str) -> Finding:
    """The finding for what stopped the parser."""
    mark = error.problem_mark or error.context_mark
    at = _place(mark, lines)
    looks = _LOOKS if sum(map(len, lines)) <= LONGEST and max(map(len, lines)) <= BROADEST else ()
    found = next((m for m in (look(error, lines, at) for look in looks) if m is not None), None)
    if found is None:
        found = _Mistake(
            say("not YAML: {problem}", problem=error.problem) if error.problem else say("not YAML"),
            at,
            say("look for a missing colon, quote or bracket, a tab, or a line indented too far"),
        )
    line, column = found.at
    span = Span(file, line, column, line, column + 1)
    labels: tuple[Label, ...] = ()
    if at[0] != line and at[0] <= len(lines) and lines[at[0] - 1].strip():
        noticed = Span(file, *at, at[0], at[1] + 1)
        labels = (Label(noticed, say("not understood from here on")),)
    return Finding(codes.SYNTAX, found.message, Label(span, found.label), labels, help=found.help)


def _place(mark: Any, lines: Sequence[str]) -> Place:
    """Where a mark stands; at the end of the text, the last line with something on it."""
    if mark is None:
        return 1, 1
    line, column = mark.line + 1, mark.column + 1
    if line > len(lines):
        return len(lines), len(lines[-1]) + 1
    return line, min(column, len(lines[line - 1]) + 1)


def _open_quote(_: yaml.MarkedYAMLError, lines: Sequence[str], at: Place) -> _Mistake | None:
    """A quote that is closed nowhere, or by the next one, which opens another text."""
    opened: Place | None = None
    quote = ""
    for number, line, column, letter in _letters(lines):
        if not quote:
            before = line[: column - 1]
            if letter in "'\"" and _BEFORE_QUOTE.search(before):
                quote, opened = letter, (number, column)
        elif letter == quote and opened is not None:
            closed_far = number > opened[0] and not _AFTER_QUOTE.match(line[column:])
            if closed_far and opened[0] <= at[0] <= number + 1:
                break
            quote = ""
    else:
        if not quote:
            return None
    assert opened is not None
    if opened[0] > at[0]:
        return None
    return _Mistake(
        say("a quote that is not closed"),
        opened,
        say("write `{quote}` at the end of the text as well", quote=quote),
        say("opened here"),
    )


def _open_bracket(error: yaml.MarkedYAMLError, lines: Sequence[str], at: Place) -> _Mistake | None:
    context = error.context or ""
    if "flow" not in context or error.context_mark is None:
        return None
    quoted = _after_quote(lines[at[0] - 1], at)
    if quoted is not None:
        return quoted
    start = _place(error.context_mark, lines)
    bracket = lines[start[0] - 1][start[1] - 1 : start[1]]
    if bracket not in _CLOSERS:
        start = _last_bracket(lines, at) or start
        bracket = lines[start[0] - 1][start[1] - 1 : start[1]]
    if bracket not in _CLOSERS:
        return None
    if _closed(lines, start):
        before = lines[at[0] - 1][: at[1] - 1]
        last = len(lines[at[0] - 2].rstrip()) if at[0] > 1 else 0
        first = not re.search(r"[,{}\[\]]", before) and start[0] < at[0]
        place = (at[0] - 1, last + 1) if first else at
        return _Mistake(
            say("no comma between two entries"),
            place,
            say("entries in braces and brackets have a comma between them"),
        )
    return _Mistake(
        say("a `{bracket}` that is not closed", bracket=bracket),
        start,
        say("write `{closer}` where its entries end", closer=_CLOSERS[bracket]),
        say("opened here"),
    )


def _last_bracket(lines: Sequence[str], at: Place) -> Place | None:
    """The bracket that is open at a place, the innermost."""
    stack: list[Place] = []
    for number, _, column, letter in _plain_letters(lines):
        if (number, column) >= at:
            break
        if letter in "{[":
            stack.append((number, column))
        elif letter in "}]" and stack:
            stack.pop()
    return stack[-1] if stack else None


def _closed(lines: Sequence[str], start: Place) -> bool:
    """Whether a bracket has its own counterpart further on."""
    stack: list[str] = []
    for number, _, column, letter in _plain_letters(lines):
        if (number, column) < start:
            continue
        if letter in _CLOSERS:
            stack.append(_CLOSERS[letter])
        elif letter in _CLOSERS.values():
            if letter != stack.pop():
                return False
            if not stack:
                return True
    return False


def _no_colon(error: yaml.MarkedYAMLError, lines: Sequence[str], _: Place) -> _Mistake | None:
    if "expected ':'" not in (error.problem or "") or error.context_mark is None:
        return None
    at = _place(error.context_mark, lines)
    line = lines[at[0] - 1]
    tight, bare = _NO_SPACE.fullmatch(line), _BARE.fullmatch(line)
    help_ = say("write `key: value`")
    match = tight or bare
    if match is not None:
        help_ = say("write `{key}: {value}`", key=match["key"].rstrip(":"), value=match["value"])
    message = say("no space after the colon") if tight else say("a line without a colon")
    return _Mistake(message, at, help_)


def _second_colon(error: yaml.MarkedYAMLError, lines: Sequence[str], at: Place) -> _Mistake | None:
    if "mapping values are not allowed" not in (error.problem or ""):
        return None
    line = lines[at[0] - 1]
    key, colon, value = line.partition(": ")
    if colon and len(key) + 1 < at[1] and not key.lstrip().startswith(("{", "[")):
        return _Mistake(
            say("a second colon in one line"),
            at,
            say("put the text in quotes: `{line}`", line=f'{key.strip()}: "{value.strip()}"'),
        )
    indent = len(line) - len(line.lstrip())
    tight = _NO_SPACE.fullmatch(lines[at[0] - 2]) if at[0] > 1 else None
    if tight is not None:
        where = at[0] - 1, lines[at[0] - 2].index(":") + 1
        value = f"{tight['key']}: {tight['value']}"
        return _Mistake(say("no space after the colon"), where, say("write `{value}`", value=value))
    return _Mistake(
        say("a line that is indented below one which has a value already"),
        (at[0], indent + 1),
        say("indent it as the lines it belongs to"),
    )


def _strange_key(error: yaml.MarkedYAMLError, lines: Sequence[str], at: Place) -> _Mistake | None:
    problem = error.problem or ""
    if "'-' indicator" in problem or (
        "<block end>" in problem and "sequence" in str(error.context)
    ):
        return _Mistake(
            say("a line without `- ` in a list"),
            at,
            say("begin each entry of a list with `- `, or none where these are fields"),
        )
    if "expected key" not in problem and "<block end>" not in problem:
        return None
    line = lines[at[0] - 1]
    quoted = _after_quote(line, at)
    if quoted is not None:
        return quoted
    return _Mistake(
        say("a line whose indent is that of no line above"),
        (at[0], len(line) - len(line.lstrip()) + 1),
        say("fields of one definition begin in one column"),
    )


def _after_quote(line: str, at: Place) -> _Mistake | None:
    """Text that goes on where the quotes round it have ended."""
    before = line[: at[1] - 1].rstrip()
    if not before.endswith(("'", '"')) or not line[at[1] - 1 : at[1]].isalnum():
        return None
    doubled = say("within single quotes an apostrophe is written twice: `''`")
    other = say("put the whole text in single quotes, or in none")
    return _Mistake(
        say("text after the closing quote"), at, doubled if before.endswith("'") else other
    )


def _strange_sign(error: yaml.MarkedYAMLError, lines: Sequence[str], at: Place) -> _Mistake | None:
    problem, line = error.problem or "", lines[at[0] - 1]
    letter = line[at[1] - 1 : at[1]]
    lead = line[: len(line) - len(line.lstrip())]
    if "\t" in lead or letter == "\t" or "tab" in problem:
        place = at[0], (line.index("\t") if "\t" in line else at[1] - 1) + 1
        return _Mistake(say("a tab in the indent"), place, say("indent with spaces"))
    context = str(error.context)
    if "escape" in problem:
        help_ = say("within double quotes write `\\\\`, or use single quotes")
        return _Mistake(say("a backslash that means nothing"), at, help_)
    if "block scalar" in context:
        start = _place(error.context_mark, lines)
        sign = lines[start[0] - 1][start[1] - 1 : start[1]]
        message = say("a text cannot begin with `{sign}`", sign=sign)
        return _Mistake(message, start, say("put the text in quotes"))
    if "cannot start" in problem or "alias" in context or "anchor" in context or "tag" in context:
        start = at if letter in _SIGNS else _place(error.context_mark, lines)
        sign = lines[start[0] - 1][start[1] - 1 : start[1]]
        return _Mistake(
            say("a text cannot begin with `{sign}`", sign=sign),
            start,
            say("put the text in quotes"),
        )
    return None


def _letters(lines: Sequence[str]) -> Iterator[tuple[int, str, int, str]]:
    """All letters but those of comments and of texts in block form: line, its text, column."""
    below: int | None = None
    for number, line in enumerate(lines, start=1):
        indent = len(line) - len(line.lstrip())
        if below is not None and (indent > below or not line.strip()):
            continue
        below = indent if _BLOCK.search(line) and not line.lstrip().startswith("#") else None
        for column, letter in enumerate(line, start=1):
            if letter == "#" and (column == 1 or line[column - 2] in " \t"):
                break
            yield number, line, column, letter


def _plain_letters(lines: Sequence[str]) -> Iterator[tuple[int, str, int, str]]:
    """The same without what stands in quotes."""
    quote, here = "", 0
    for number, line, column, letter in _letters(lines):
        if number != here:
            quote, here = "", number
        if quote:
            quote = "" if letter == quote else quote
        elif letter in "'\"" and _BEFORE_QUOTE.search(line[: column - 1]):
            quote = letter
        else:
            yield number, line, column, letter


Look = Callable[[yaml.MarkedYAMLError, Sequence[str], Place], _Mistake | None]
_LOOKS: Final[tuple[Look, ...]] = (
    _open_quote,
    _strange_sign,
    _open_bracket,
    _no_colon,
    _second_colon,
    _strange_key,
)
