"""Names of positions, ports and resources, and the ranges that stand for many of them."""

import re
from functools import lru_cache

from specgen.messages import Message, Words, listed, say

DIGITS = frozenset("0123456789")
MOST_NAMES = 1024  # of one range
_RANGE = re.compile(
    r"^(?P<stem>.*?)(?P<first>[0-9]{1,9})\.\.(?P<again>[^.0-9]*)(?P<last>[0-9]{1,9})$"
)
_NAME = re.compile(r"^\.?[A-Za-z][A-Za-z0-9 +/_-]*(?:\.[A-Za-z][A-Za-z0-9 +/_-]*)*$")


class BadRange(ValueError):
    """A range that cannot be read; `message` says why."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


_MEANT = re.compile(r"(?P<first>.*?[A-Za-z ](?P<from>[0-9]{1,4}))\s*(?:-|–|:|\.{1,3}|to|bis)\s*"
                    r"(?P<last>(?:[A-Za-z]+ ?)*[0-9]{1,4})")  # fmt: skip


def range_meant(text: str) -> str:
    """The range that another way of writing one stands for (`BAY 0-2`, `BAY 0...2`), else ""."""
    match = _MEANT.fullmatch(text.strip())
    if match is None:
        return ""
    made = f"{match['first']}..{match['last']}"
    try:
        return made if made != text and len(expand(made)) > 1 else ""
    except BadRange:
        return ""


@lru_cache(maxsize=65536)
def expand(text: str) -> tuple[str, ...]:
    """The names a text stands for: `BAY 0..2` is BAY 0, BAY 1, BAY 2; other text is itself.

    The letters before the last number may be repeated: `DIMM A1..A8`. Raises `BadRange`.
    """
    if ".." not in text:
        if not _NAME.fullmatch(text):
            raise BadRange(
                say(
                    "`{text}` is not a name: letters, digits, spaces, `+`, `/`, `-` and `_`, "
                    "starting with a letter",
                    text=text,
                )
            )
        return (text,)
    match = _RANGE.fullmatch(text)
    if match is None:
        raise BadRange(
            say("`{text}` is not a range such as `BAY 0..7` or `DIMM A1..A8`", text=text)
        )
    stem, again = match["stem"], match["again"]
    first, last = int(match["first"]), int(match["last"])
    if again and not stem.endswith(again):
        raise BadRange(
            say(
                "`{text}` changes its letters from `{first}` to `{again}`",
                text=text,
                first=stem,
                again=again,
            )
        )
    if last < first:
        raise BadRange(say("`{text}` runs backwards", text=text))
    if last - first >= MOST_NAMES:
        raise BadRange(
            say("`{text}` stands for more than {count} names", text=text, count=MOST_NAMES)
        )
    if not _NAME.fullmatch(f"{stem}{first}"):
        raise BadRange(say("`{text}` is not a name", text=f"{stem}{first}"))
    return tuple(f"{stem}{number}" for number in range(first, last + 1))


def nth(text: str | None, index: int, count: int) -> str | None:
    """The name that belongs to the nth of a range: `CPU1..CPU2` runs along `HS 1..2`."""
    if text is None or ".." not in text:
        return text
    stem = text.removeprefix(".")
    dot = "." if text.startswith(".") else ""
    try:
        names = expand(stem)
    except BadRange:
        return text  # no place has this name, which is told where the name is used
    return dot + names[index] if len(names) == count else text


def shifted(name: str, offset: int) -> str:
    """The name with its last number raised: `BAY 0` is `BAY 8` in a backplane's second place."""
    if not offset:
        return name
    match = re.search(r"[0-9]{1,9}$", name)
    return name if match is None else f"{name[: match.start()]}{int(match[0]) + offset}"


@lru_cache(maxsize=65536)
def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key under which BAY 2 comes before BAY 10."""
    return tuple(
        (0, int(piece), "") if piece[0] in DIGITS else (1, 0, piece)
        for piece in re.split(r"([0-9]{1,9})", name)
        if piece
    )


@lru_cache(maxsize=16384)
def condensed(names: tuple[str, ...]) -> str:
    """Names in short form, in English: BAY 0 to 7, SLOT 2."""
    return str(places(names))


@lru_cache(maxsize=16384)
def places(names: tuple[str, ...]) -> Words:
    """Names in short form for people: BAY 0 to 7, SLOT 2."""
    runs: list[tuple[str, int | None, int | None]] = []
    for name in sorted(names, key=natural):
        match = re.search(r"[0-9]{1,9}$", name)
        stem = name if match is None else name[: match.start()]
        number = None if match is None else int(match[0])
        if runs and number is not None and runs[-1][0] == stem and runs[-1][2] == number - 1:
            runs[-1] = (stem, runs[-1][1], number)
        else:
            runs.append((stem, number, number))
    found: list[Words] = []
    for stem, first, last in runs:
        if first is None:
            found.append(stem)
        elif first == last:
            found.append(f"{stem}{first}")
        else:
            found.append(say("{first} to {last}", first=f"{stem}{first}", last=str(last)))
    return found[0] if len(found) == 1 else listed(found)
