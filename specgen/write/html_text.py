"""Words of HTML: escaped, with what is not broken over lines in elements of its own."""

import re
from datetime import date
from functools import lru_cache
from typing import Final

from markupsafe import escape

from specgen.document.tree import Cell, Emphasis, Hyperlink, Inline, Strong, Value
from specgen.messages import Words
from specgen.write.unbroken import MEASURED, RANGE, SPEED

_UNIT_SPACE = "\u202f"
NOT_HTML: Final = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"
    + "".join(chr(plane << 16 | end) for plane in range(1, 17) for end in (0xFFFE, 0xFFFF))
    + "]"
)

# Dates, numbers with their units, speeds of links, names of positions as they are printed on
# boards, and their ranges: not broken over lines.
_WHOLE: Final = re.compile(
    rf"(?<![\w-])(?:\d{{4}}-\d{{2}}-\d{{2}}|{MEASURED}(?!\w|/)|{SPEED}|{RANGE}(?!\w)"
    r"|[A-Z]{2,8} (?:[A-Z]?\d{1,3}|[A-Z](?=[,)]|$)))(?![\w-]|\.\d)"
)


@lru_cache(8192)  # tables repeat themselves, and so do documents of one family
def text_of(text: Words | date) -> str:
    """The text for an element or an attribute, without the characters that HTML does not allow.

    Those are controls, lone surrogates and noncharacters.
    """
    return str(escape(NOT_HTML.sub("", str(text))))


def without_links(inlines: Cell) -> Cell:
    """No link stands within another."""
    flat: list[Inline] = []
    for each in inlines:
        match each:
            case Hyperlink(children):
                flat += without_links(children)
            case Strong(children):
                flat.append(Strong(without_links(children)))
            case Emphasis(children):
                flat.append(Emphasis(without_links(children)))
            case _:
                flat.append(each)
    return tuple(flat)


def printed_value(figure: Value) -> str:
    """A number with its unit, in one piece."""
    key = f' data-fact="{text_of(figure.key)}"' if figure.key else ""
    room = f' data-room="{text_of(figure.room)}"' if figure.room else ""
    unit = ""
    if figure.unit:
        unit, room = f'<span class="unit"{room}>{_UNIT_SPACE}{text_of(figure.unit)}</span>', ""
    kind = "value" if figure.unbroken else "value words"
    number = text_of(figure.number)
    if not figure.unbroken:  # words, whose ranges stay on one line as elsewhere
        number = parted(number)
    return f'<span class="{kind}"{key}{room}>{number}{unit}</span>'


def parted(text: str) -> str:
    """An escaped text in which what is not broken over lines stands in elements of its own."""
    return _WHOLE.sub(r'<span class="whole">\g<0></span>', text)
