"""What says by itself that it is not finished: `to do`, `TODO`, `TBD`, `FIXME`, and placeholders.

"What to do first" is ordinary English; a mark stands alone, or at the beginning with a colon.
"""

import re
from collections.abc import Sequence
from typing import Final

_WHOLE: Final = re.compile(r"(?:to[ ._-]?do|tbd|tba|fixme)[.:!]?(?:-\d+)?", re.IGNORECASE)
"""What `specgen new` writes as a placeholder, and what people write for one."""
_WORD: Final = re.compile(r"(?<![\w-])(?:TODO|TBD|FIXME)(?![a-z])")
_BEGINS: Final = re.compile(
    r"(?:^|[(\[<.!?]\s*)(?:to[ -]do)\s*:|[(\[<]\s*(?:to[ -]do)\s*(?=[)\]>])", re.IGNORECASE
)
_COMMENT: Final = re.compile(r"(?:^|\s)#+\s*(?:(?i:to[ -]do)\s*(?::|$)|(?:TODO|TBD|FIXME)\b)")
_EMPTY: Final = re.compile(r"\s*(?:#.*)?")

_ANY: Final = ("todo", *(f"to{between}do" for between in " ._-"), "tbd", "tba", "fixme")


def may_be_unfinished(text: str) -> bool:
    """Whether a text has such a mark at all, asked before it is looked at closely."""
    small = text.lower()
    return any(mark in small for mark in _ANY)


def unfinished(text: str) -> tuple[int, int] | None:
    """From where to where a text says that it is not finished; None where it does not."""
    if _WHOLE.fullmatch(text.strip()):
        return 0, max(len(text), 1)
    for pattern in (_WORD, _BEGINS):
        found = pattern.search(text)
        if found is not None:
            lead = len(found[0]) - len(found[0].lstrip(" ([<.!?"))
            return found.start() + lead, found.end()
    return None


def marked_lines(lines: Sequence[str]) -> frozenset[int]:
    """The lines, from 1, that a comment calls unfinished: beside them, or on lines above."""
    marked: set[int] = set()
    waiting = False
    for number, line in enumerate(lines, start=1):
        told = _COMMENT.search(line) is not None
        if _EMPTY.fullmatch(line):
            waiting = waiting or told
        else:
            if told or waiting:
                marked.add(number)
            waiting = False
    return frozenset(marked)
