"""Texts that other readers of YAML take for something else, with a quote too many, or with a list.

`no` and `on` are words to us and answers to others; a quote that opens nowhere, and marks of print
round a whole text, would be printed. A quote behind a digit is the sign for inches.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import Message, say
from specgen.model import Definitions
from specgen.rules.definitions.records import things
from specgen.source import YamlScalar

ANSWERS: Final = frozenset({"yes", "no", "on", "off", "y", "n"})
NAMED: Final = frozenset(
    {"name", "form", "far_form", "socket", "key", "maker", "inlet", "plug", "technology"}
)
"""Fields of words, of which none is an answer."""
_ROUND: Final = re.compile(r"[“„«»‘‚].*[”“»«’‘]", re.DOTALL)
_PRINTED: Final = re.compile("[“”„«»‘’‚]")
_STRAY: Final = re.compile(r'(?<!\d)"')
LONGEST: Final = 300
"""Letters of a text that is read here; longer ones are prose."""


def doubtful_texts(definitions: Definitions) -> Iterator[Finding]:
    """SG130 for an answer where a name stands, and for a quote that opens or closes nothing."""
    told: set[tuple[str, int, int]] = set()  # what parts have in common is written once
    for thing in things(definitions):
        for field, text in _texts(thing.origin.tree):
            found, where = _doubt(field, text), text.span
            if found is None and (item := _item(text)) is not None:
                found, where = _swallowed(field), item
            at = (text.span.file, text.span.line, text.span.column)
            if found is not None and at not in told:
                told.add(at)
                message, help_ = found
                yield Finding(codes.DOUBTFUL_VALUE, message, Label(where), help=help_)


def _texts(tree: object) -> Iterator[tuple[str, YamlScalar]]:
    """The texts of a definition of which something may be said, with their fields."""
    waiting: list[tuple[str, object]] = [("", tree)]
    while waiting:
        field, node = waiting.pop()
        if isinstance(node, dict):
            inner: Iterable[tuple[str, object]] = node.items()
        else:
            inner = ((field, each) for each in node) if isinstance(node, list | tuple) else ()
        for name, each in inner:
            if type(each) is not YamlScalar:
                waiting.append((name, each))
            elif name in NAMED or '"' in each or each.lines or not each.isascii():
                yield name, each


def _item(text: YamlScalar) -> Span | None:
    """Where a list begins that became part of the text above it, since its own key is missing."""
    for number, line in enumerate(text.lines):
        item = line.strip()
        if number and item.startswith("- ") and f" {item}" in text:
            column = line.index("-") + 1
            at = text.span.line + number
            return Span(text.span.file, at, column, at, column + len(item))
    return None


def _swallowed(field: str) -> tuple[Message, Message]:
    return (
        say("a list is read as the end of `{field}`", field=field),
        say("write the key of the list in a line of its own above it"),
    )


def _doubt(field: str, text: YamlScalar) -> tuple[Message, Message] | None:
    if text.plain and field in NAMED and text.lower() in ANSWERS:
        return (
            say("`{field}` is `{text}`, which is an answer and no name", field=field, text=text),
            say("write the name, in quotes if it is one"),
        )
    if len(text) > LONGEST or "\n" in text or not ('"' in text or _PRINTED.search(text)):
        return None
    if _ROUND.fullmatch(text) and len(_PRINTED.findall(text)) == 2:
        return (
            say("`{field}` stands in quotes of print", field=field),
            say('take them away, or write straight ones: "…"'),
        )
    if field not in CODE and len(_STRAY.findall(text)) % 2:
        return (
            say("`{field}` has a quote that opens or closes nothing", field=field),
            say("take it away, or write the other one"),
        )
    return None


CODE: Final = frozenset({"when", "require", "forbid", "expression"})
"""Texts in a language of their own, whose quotes are told of there."""
