"""Names of positions, ports and resources, and the ranges that stand for many of them."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from specgen.messages import Message, Naming, Words, listed, say

DIGITS = frozenset("0123456789")
MOST_NAMES = 1024  # of one range
_RANGE = re.compile(
    r"^(?P<stem>.*?)(?P<first>[0-9]{1,9})\.\.(?P<again>(?:[^.]*[^.0-9])?)(?P<last>[0-9]{1,9})$"
)
_LETTERED = re.compile(r"^(?P<base>|.*[0-9 ])(?P<letter>[A-Z])$")
"""What stands before the number of a name whose last two places count: `DIMM 1A` of `DIMM 1A2`."""
_COUNTED = re.compile(r"^(?P<stem>(?:.*[^0-9])?)(?P<number>0|[1-9][0-9]{0,8})$")
_BELOW_ZERO = re.compile(r" -[0-9]")
_NAME = re.compile(r"^\.?[A-Za-z][A-Za-z0-9 +/_-]*(?:\.[A-Za-z][A-Za-z0-9 +/_-]*)*$")


_SHORT = re.compile(r"[0-9]*[A-Z]?[0-9]+")
"""The last word of a name whose other words a piece of a list may leave out: 7, A1, 1A2."""
CharRange = tuple[int, int]
"""From the first letter of a text up to, not including, the last."""


class BadRange(ValueError):
    """A range that cannot be read; `message` says why, `at` where in the text, if not all of it."""

    def __init__(self, message: Message, at: CharRange | None = None) -> None:
        super().__init__(message)
        self.message, self.at = message, at


class Piece(NamedTuple):
    """What stands between two commas of a list of names, and where."""

    at: CharRange
    names: tuple[str, ...]


_MEANT = re.compile(
    r"(?P<first>.{0,100}?[A-Za-z ][0-9]{1,4})\s{0,9}(?:-|–|:|\.{1,3}|to|bis)\s{0,9}"
    r"(?P<last>[A-Za-z0-9 ]{0,100}?[0-9]{1,4})"
)


def range_meant(text: str) -> str:
    """The range that another way of writing one stands for (`BAY 0-2`, `BAY 0...2`), else ""."""
    if "," in text:
        meant = [range_meant(each) or each.strip() for each in text.split(",")]
        made = ", ".join(meant)
        return made if any(map(range_meant, text.split(","))) and _reads(made) else ""
    match = _MEANT.fullmatch(text.strip())
    if match is None:
        return ""
    made = f"{match['first']}..{match['last']}"
    return made if made != text and _reads(made) else ""


def _reads(text: str) -> bool:
    """Whether a text stands for several names."""
    try:
        return len(expand(text)) > 1
    except BadRange:
        return False


@lru_cache(maxsize=65536)
def expand(text: str) -> tuple[str, ...]:
    """The names a text stands for: `BAY 0..2` is BAY 0, BAY 1, BAY 2; other text is itself.

    The letters before the last number may be repeated: `DIMM A1..A8`. A single capital before it
    counts as well: `DIMM 1A1..1B2` is DIMM 1A1, 1A2, 1B1 and 1B2. Names and ranges may be joined
    by commas (`pieces`). Raises `BadRange`.
    """
    if "," not in text:
        return _expanded(text)
    return tuple(name for piece in pieces(text) for name in piece.names)


@lru_cache(maxsize=16384)
def pieces(text: str) -> tuple[Piece, ...]:
    """What the commas of a list join: `DIMM A1, A3..5` is DIMM A1, and DIMM A3 to 5.

    A number takes what stands before the number of the name before it, a last word like that of
    the name before it, as `B1` after `DIMM A1`, the words before that. Raises `BadRange`.
    """
    if "," not in text:
        return (Piece((0, len(text)), _expanded(text)),)
    found: list[Piece] = []
    seen: set[str] = set()
    start, before = 0, ""
    for part in text.split(","):
        written = part.strip()
        first = start + len(part) - len(part.lstrip())
        at, start = (first, first + len(written)), start + len(part) + 1
        if not written:
            raise BadRange(say("`{text}` names nothing before or after a comma", text=text))
        try:
            names = _expanded(_completed(written, before))
        except BadRange as problem:
            raise BadRange(problem.message, at) from None
        again = next((name for name in names if name in seen), None)
        if again is not None:
            raise BadRange(say("`{text}` names {name} twice", text=text, name=again), at)
        seen.update(names)
        if len(seen) > MOST_NAMES:
            raise _too_many(text)
        found.append(Piece(at, names))
        before = names[-1]
    return tuple(found)


def piece_of(text: str, name: str) -> CharRange | None:
    """Where a name of a list stands in it; None where it is no list of several pieces."""
    if "," not in text:
        return None
    return next((piece.at for piece in pieces(text) if name in piece.names), None)


def _completed(piece: str, before: str) -> str:
    """A piece of a list with what it leaves out of the name before it."""
    if not before:
        return piece
    first, tail = piece.partition("..")[0], re.split(r"[ .]", before)[-1]
    if not set(first) <= DIGITS and _SHORT.fullmatch(first) and _SHORT.fullmatch(tail):
        return before.removesuffix(tail) + piece
    stem = before.rstrip("0123456789")
    return stem + piece if stem != before and piece[0] in DIGITS else piece


def joined_names(names: Iterable[str], most: int) -> Iterator[str]:
    """Names as the fewest texts that `expand` reads, each of up to `most` letters if it can be:
    `DIMM A1, 3..5`, `SLOT 2`."""
    line, before = "", ""
    for text in ranged(names):
        further = _shortest(text, before) if line else None
        if further is None or len(line) + len(further) + 2 > most:
            if line:
                yield line
            line = text
        else:
            line += f", {further}"
        before = _expanded(text)[-1]
    if line:
        yield line


def _shortest(text: str, before: str) -> str | None:
    """A range as a piece behind a name, without what need not be said again; None where it would
    be read as another, as a position J1 behind DIMM A1."""
    starts = [0, *(match.end() for match in re.finditer(r"[ .](?!\.)|[A-Z](?=[0-9])", text))]
    first = text.find("..") if ".." in text else len(text)
    for start in reversed([each for each in starts if each < first]):
        if _completed(text[start:], before) == text:
            return text[start:]
    return None


def _too_many(text: str) -> BadRange:
    return BadRange(say("`{text}` stands for more than {count} names", text=text, count=MOST_NAMES))


def _expanded(text: str) -> tuple[str, ...]:
    """The names of one name or one range."""
    if _BELOW_ZERO.search(text):
        raise BadRange(say("`{text}` counts from below zero", text=text))
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
            say("`{text}` is not a range such as `BAY 0..7` or `DIMM 1A1..1H2`", text=text)
        )
    stem, first, last = match["stem"], int(match["first"]), int(match["last"])
    stems = _stems(text, stem, match["again"])
    if not stems or last < first:
        raise BadRange(say("`{text}` runs backwards", text=text))
    if len(stems) * (last - first + 1) > MOST_NAMES:
        raise _too_many(text)
    if not _NAME.fullmatch(f"{stem}{first}"):
        raise BadRange(say("`{text}` is not a name", text=f"{stem}{first}"))
    return tuple(f"{each}{number}" for each in stems for number in range(first, last + 1))


def _stems(text: str, stem: str, again: str) -> tuple[str, ...]:
    """What stands before the numbers of a range, in order; none where its letters run backwards."""
    if stem.endswith(again):
        return (stem,)
    first, last = _LETTERED.fullmatch(stem), _LETTERED.fullmatch(again)
    if first is None or last is None or not first["base"].endswith(last["base"]):
        raise BadRange(
            say(
                "`{text}` changes what stands before its number from `{first}` to `{again}`; "
                "only one capital may count along, as in `DIMM 1A1..1H2`",
                text=text,
                first=stem,
                again=again,
            )
        )
    letters = range(ord(first["letter"]), ord(last["letter"]) + 1)
    return tuple(f"{first['base']}{chr(letter)}" for letter in letters)


def nth(text: str | None, index: int, count: int) -> str | None:
    """The name that belongs to the nth of a range: `CPU1..CPU2` runs along `HS 1..2`."""
    if text is None or (".." not in text and "," not in text):
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
    """Names in short form for people: BAY 0 to 7, SLOT 2, DIMM 1A1 to 1H2."""
    found = [
        first if first == last else say("{first} to {last}", first=first, last=_short(first, last))
        for first, last in _ends(names)
    ]
    if len(names) == 1:
        return found[0]
    return Naming(found[0] if len(found) == 1 else listed(found), names)


def ranged(names: Iterable[str]) -> Iterator[str]:
    """Names as the ranges that stand for them: `BAY 0..7`, `SLOT 2`, `DIMM 1A1..1H2`."""
    for first, last in _ends(tuple(names)):
        yield first if first == last else f"{first}..{_short(first, last)}"


def _short(first: str, last: str) -> str:
    """The end of a range, less what need not be said again: 7 of BAY 7, 1H2 of DIMM 1H2."""
    counted = _COUNTED.fullmatch(last)
    assert counted is not None
    tail = re.split(r"[ .]", last)[-1]
    plain = first.startswith(counted["stem"]) and not tail[0].isdigit()
    return counted["number"] if plain or tail.isdigit() else tail


def _ends(names: tuple[str, ...]) -> list[tuple[str, str]]:
    """First and last of the ranges that names make up together, in order."""
    alone: list[tuple[str, str]] = []
    numbers: dict[str, set[int]] = {}
    for name in names:
        match = _COUNTED.fullmatch(name)
        if match is None:
            alone.append((name, name))
        else:
            numbers.setdefault(match["stem"], set()).add(int(match["number"]))
    grids: dict[str, dict[str, set[int]]] = {}
    for stem, own in numbers.items():
        match = _LETTERED.fullmatch(stem)
        if match is None:
            alone += [(f"{stem}{a}", f"{stem}{b}") for a, b in _runs(own)]
        else:
            grids.setdefault(match["base"], {})[match["letter"]] = own
    for base, grid in grids.items():
        rows, columns = _by_letter(base, grid), _by_number(base, grid)
        alone += columns if len(columns) < len(rows) else rows
    return sorted(alone, key=lambda ends: natural(ends[0]))


Block = tuple[tuple[int, int], tuple[int, int]]


def _by_letter(base: str, grid: dict[str, set[int]]) -> list[tuple[str, str]]:
    """Ranges of a grid: the numbers of each letter, neighbours alike put together."""
    rows: dict[tuple[int, int], set[int]] = {}
    for letter, own in grid.items():
        for run in _runs(own):
            rows.setdefault(run, set()).add(ord(letter))
    return list(_named(base, ((letters, run) for run in rows for letters in _runs(rows[run]))))


def _by_number(base: str, grid: dict[str, set[int]]) -> list[tuple[str, str]]:
    """Ranges of a grid: the letters of each number, neighbours alike put together."""
    rows: dict[tuple[int, int], set[int]] = {}
    for number in set[int]().union(*grid.values()):
        for run in _runs({ord(letter) for letter, own in grid.items() if number in own}):
            rows.setdefault(run, set()).add(number)
    return list(_named(base, ((run, numbers) for run in rows for numbers in _runs(rows[run]))))


def _named(base: str, blocks: Iterable[Block]) -> Iterator[tuple[str, str]]:
    """The ends of ranges over letters and numbers. Two letters after a blank are two rows of
    their own: `DIMM A` and `DIMM B` of two processors; after a digit they are neighbours."""
    for (first, last), (low, high) in blocks:
        if last - first > 1 or base[-1:].isdigit():
            yield f"{base}{chr(first)}{low}", f"{base}{chr(last)}{high}"
        else:
            for letter in range(first, last + 1):
                yield f"{base}{chr(letter)}{low}", f"{base}{chr(letter)}{high}"


def _runs(numbers: set[int]) -> list[tuple[int, int]]:
    """Numbers as runs without a gap: 1, 2, 3, 7 are 1 to 3 and 7 to 7."""
    given = sorted(numbers)
    breaks = [at for at, (one, two) in enumerate(pairwise(given), 1) if two - one > 1]
    return [(given[a], given[b - 1]) for a, b in pairwise([0, *breaks, len(given)])]
