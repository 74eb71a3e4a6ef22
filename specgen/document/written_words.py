"""Words that stand in a template itself, amid values: one message for translators, or text."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from specgen.document.tree import (
    INLINES,
    Block,
    Cell,
    Emphasis,
    Hyperlink,
    Inline,
    Literal,
    Strong,
    Text,
    plain_text,
)
from specgen.document.tree_walks import leaves
from specgen.messages import Message, Sayable, Words
from specgen.messages.pattern import escaped

_WORD: Final = re.compile(r"[^\W\d_]{2}")


class TemplateWords(Text):
    """Words that stand in the template itself, before it is known whether they are a message."""


def as_text(cell: Cell, language: str = "") -> Cell:
    """A cell whose written words are text of a language."""
    whole = joined(_plain(each, language) for each in cell)
    return tuple(each for each in whole if isinstance(each, INLINES))


def _plain(inline: Inline, language: str = "") -> Inline:
    match inline:
        case TemplateWords(text):
            return Text(text, language)
        case Strong(children) | Emphasis(children) | Hyperlink(children):
            return replace(inline, children=as_text(children, language))
        case _:
            return inline


def spoken_in(cell: Cell, language: str) -> Cell:
    """A cell whose texts are in a language."""
    return tuple(
        replace(each, children=spoken_in(each.children, language))
        if isinstance(each, Strong | Emphasis | Hyperlink)
        else replace(each, language=language)
        if isinstance(each, Text)
        else each
        for each in cell
    )


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


def words_of(cell: Cell) -> Words:
    """A cell as words, where nothing else has room: its values are said with the whole."""
    match cell:
        case (Sayable() as only,):
            return only
        case _ if all(isinstance(each, Text | Literal) for each in cell):
            return plain_text(cell)
    inlines = {str(number): each for number, each in enumerate(leaves(cell), start=1)}
    return Message("".join(f"{{{name}}}" for name in inlines), tuple(inlines.items()))


def joined(mixed: Iterable[Inline | Block]) -> list[Inline | Block]:
    """Neighbouring texts as one."""
    merged: list[Inline | Block] = []
    for each in mixed:
        last = merged[-1] if merged else None
        if isinstance(each, Text) and type(each) is type(last):
            assert isinstance(last, Text)
            language = last.language or each.language
            merged[-1] = replace(last, text=last.text + each.text, language=language)
        else:
            merged.append(each)
    return merged
