"""Whether two words are one with a slip of the hand, told apart from names that are close.

Stricter than what is offered as help: `tern-b` is no slip of `tern-a`, nor `udimm` of `rdimm`,
`e3.l` of `e3.s`, `qsfp28` of `sfp28`. Counted as slips are: what the eye passes over, neighbours
swapped, a letter or digit doubled, and one letter too few, too many or other within a longer word.
"""

import re
from collections.abc import Collection, Iterator
from functools import lru_cache
from typing import Final

from specgen.diagnostics.suggest import bare_of

_LETTERS: Final = re.compile(r"[^\W\d_]+")
_LONG: Final = 4
"""So many letters in a row are a word, in which one may be missing; fewer are a mark."""
_MARK: Final = 5
"""A word of so few letters and digits is a mark, whose order tells it from others: x8, 8x."""
_COUNTED: Final = "xsliv"
"""Letters that are doubled on purpose: sizes and Roman numbers."""
_PHRASE: Final = 10
"""Within so many letters a short word may lack one too."""
_LONGER: Final = 5
"""And so many one in which one may be another."""


def slips_of(word: str, known: Collection[str]) -> tuple[str, ...]:
    """The words that a word is a slip of; none where it is known itself."""
    if word in known:
        return ()
    return tuple(sorted(other for other in known if is_slip(word, other)))


def is_slip(word: str, other: str) -> bool:
    """Whether a word differs from another by one slip."""
    if word == other:
        return False
    if _looks(word) == _looks(other):
        return True
    one, two = word.lower(), other.lower()
    if len(one) == len(two):
        return _swapped(one, two) or _exchanged(one, two)
    longer, shorter = (one, two) if len(one) > len(two) else (two, one)
    return len(longer) - len(shorter) == 1 and _one_more(longer, shorter)


@lru_cache(maxsize=4096)  # each word of a vocabulary is held against all others
def _looks(word: str) -> str:
    """A word as the eye takes it: r and n side by side are an m."""
    return bare_of(word).replace("rn", "m")


def _differing(one: str, two: str) -> list[int]:
    return [at for at, (a, b) in enumerate(zip(one, two, strict=True)) if a != b]


def _swapped(one: str, two: str) -> bool:
    at = _differing(one, two)
    if len(at) != 2 or at[1] != at[0] + 1:
        return False
    first, second = at
    both = one[first : second + 1]
    alike = both.isalpha() or both.isdigit() or len(one) > _MARK
    return two[first : second + 1] == both[::-1] and alike and both.isalnum()


def _exchanged(one: str, two: str) -> bool:
    """One letter that is another, within a longer word."""
    at = _differing(one, two)
    if len(at) != 1:
        return False
    start, end = _run(one, at[0])
    return two[at[0]].isalpha() and end - start >= _LONGER and start < at[0] < end - 1


def _one_more(longer: str, shorter: str) -> bool:
    """A letter or a digit doubled, or a letter more within or behind a longer word."""
    for at in _taken_out(longer, shorter):
        letter = longer[at]
        doubled = letter in (longer[at - 1 : at], longer[at + 1 : at + 2])
        if letter.isdigit():
            if doubled:
                return True
            continue
        start, end = _run(longer, at)
        if doubled and letter not in _COUNTED:
            return True
        long = end - start > _LONG or (end - start == _LONG and len(longer) >= _PHRASE)
        if letter.isalpha() and long and (at > start or len(longer) >= _PHRASE):
            return True
        within = start < at < end - 1 and end - start == _LONG - 1
        if letter.isalpha() and within and len(longer) >= _PHRASE:
            return True
    return False


def _taken_out(longer: str, shorter: str) -> Iterator[int]:
    for at in range(len(longer)):
        if longer[:at] + longer[at + 1 :] == shorter:
            yield at


def _run(word: str, at: int) -> tuple[int, int]:
    """Where the letters in a row begin and end that the one at `at` belongs to."""
    for found in _LETTERS.finditer(word):
        if found.start() <= at < found.end():
            return found.span()
    return at, at
