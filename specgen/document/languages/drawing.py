"""Words on a finished drawing in another language.

A drawing is laid out for its English words, so a word goes onto it where it has about their room;
the text beside it says everything in any case. A short word for drawings has the context `svg`.
"""

import re
from collections.abc import Callable, Mapping
from html import unescape
from types import MappingProxyType
from typing import Final
from xml.sax.saxutils import escape

from specgen.drawings.widths import width

Say = Callable[[str], str | None]
"""A text in the language; None where there is no message for it."""

ROOM: Final = 1.05
"""How much broader a word may be than the English one."""
GRACE: Final = 1.0  # letters more that a short word may take
MOST_LINES: Final = 4  # of a name on a drawing
MOST_WORDS: Final = 6  # of a name in the line that it begins in

_WORDS: Final = re.compile(r"<(title|desc|text|tspan)((?:\s[^<>]*)?)>([^<]+)</\1>")
_SPOKEN: Final = ("title", "desc")
_MANY: Final = re.compile(r"^\d+ × ")


def redrawn(
    svg: str, say: Say, names: frozenset[str], short: Mapping[str, str] = MappingProxyType({})
) -> str:
    """The drawing with its words in the language, where they have room; all else as it was.

    A name of the project that is broken over several lines is left as it is too. `short` are
    words meant for drawings, whose room was thought of by whoever wrote them.
    """
    leaves = [unescape(text) for element, _, text in _WORDS.findall(svg) if element not in _SPOKEN]
    kept = iter(_of_names(leaves, names))

    def put(found: re.Match[str]) -> str:
        element, attributes, written = found.groups()
        text = unescape(written)
        if element in _SPOKEN:
            said = "\n".join(say(line) or line for line in text.split("\n"))
        else:
            said = text if next(kept) else short.get(text) or _on_it(text, say)
        return f"<{element}{attributes}>{escape(said)}</{element}>"

    return _WORDS.sub(put, svg)


def _on_it(text: str, say: Say) -> str:
    said = say(text)
    return text if said is None or width(said, 1.0) > ROOM * width(text, 1.0) + GRACE else said


def _of_names(leaves: list[str], names: frozenset[str]) -> list[bool]:
    """Which lines are pieces of a name that several lines hold."""
    kept = [False] * len(leaves)
    for at in range(len(leaves)):
        for end in range(at + 2, min(at + MOST_LINES, len(leaves)) + 1):
            whole = _MANY.sub("", " ".join(leaves[at:end]))
            if whole in names or whole.rstrip(",") in names:
                kept[at:end] = [True] * (end - at)
        if at and _ends_a_name(leaves[at - 1], leaves[at], names):
            kept[at] = True
    return kept


def _ends_a_name(before: str, line: str, names: frozenset[str]) -> bool:
    """Whether a line is the end of a name that begins within the line before."""
    words = before.split(" ")
    starts = range(max(0, len(words) - MOST_WORDS), len(words))
    return any(f"{' '.join(words[at:])} {line}" in names for at in starts)
