"""Where a template opens what it never closes: readers of templates blame the line after."""

import re
from typing import Final

from specgen.frozen import frozen

_SIGNS: Final = re.compile(r"\{\{|\{%|\{#|\}\}|%\}|#\}")
_CLOSED_BY: Final = {"{{": "}}", "{%": "%}", "{#": "#}"}
_TAG: Final = re.compile(r"\{%[-+]?\s*(\w+)((?:[^%]|%(?!\}))*?)[-+]?%\}")
_BLOCKS: Final = ("for", "if", "block", "macro", "call", "filter", "with", "autoescape", "raw")


@frozen
class Unclosed:
    """The sign or the tag that is open, its line, and what closes it."""

    sign: str
    line: int
    closed_by: str


def unclosed(source: str) -> Unclosed | None:
    """The first thing that is opened and never closed; None where that is not what is wrong."""
    if "raw" in source and re.search(r"\{%[-+]?\s*raw\b", source):
        return None  # within, signs mean nothing
    return _open_sign(source) or _open_block(source)


def _open_sign(source: str) -> Unclosed | None:
    opened: re.Match[str] | None = None
    for found in _SIGNS.finditer(source):
        sign = found[0]
        if opened is not None and sign == _CLOSED_BY[opened[0]]:
            opened = None
        elif opened is None and sign in _CLOSED_BY:
            opened = found
        elif opened is not None and opened[0] != "{#" and sign in ("{{", "{%"):
            break
    return None if opened is None else _at(source, opened.start(), opened[0], _CLOSED_BY[opened[0]])


def _open_block(source: str) -> Unclosed | None:
    stack: list[tuple[str, int]] = []
    for found in _TAG.finditer(source):
        name, rest = found[1], found[2]
        if name in _BLOCKS or (name == "set" and "=" not in rest):
            stack.append((name, found.start()))
        elif name.startswith("end") and stack and stack[-1][0] == name.removeprefix("end"):
            stack.pop()
    if not stack:
        return None
    name, start = stack[0]
    return _at(source, start, f"{{% {name} … %}}", f"{{% end{name} %}}")


def _at(source: str, start: int, sign: str, closed_by: str) -> Unclosed:
    return Unclosed(sign, source.count("\n", 0, start) + 1, closed_by)
