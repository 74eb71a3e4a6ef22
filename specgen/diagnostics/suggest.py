"""Names that an author may have meant.

A distance counts in twentieths of a typing slip: a letter more, less, other or swapped with its
neighbour is one slip. What the eye passes over (case, `-`, `_` and space, letter O and digit 0,
letters l and I and digit 1) is a twentieth. Digits are dear, because a part whose number differs is
another part: a 2000 W supply is no spelling of a 3000 W one. A digit that stands alone (`b8`, `b9`)
is one of a series that may be misremembered, and in a name long enough it may be another.
"""

import re
from collections.abc import Collection, Iterable, Sequence

from specgen.messages import Listed, Message, Nothing, listed, say, say_many
from specgen.messages.message import Joint

_SLIP = 20  # one letter more, less or other; two neighbours swapped
_CHEAP = 1
_DIGIT_MOVED = 30  # two neighbouring digits swapped
_DIGIT_COUNT = 50  # a digit more or less
_DIGIT_OTHER = 65
_DIGIT_ALONE = 50  # a number of one digit that is another one
_MOST = 60  # three slips, however long the word

_SEPARATORS = "-_ "
_ALIKE = str.maketrans("oOlLiI_ ", "001111--")
_BARE = str.maketrans("oOlLiI", "001111", _SEPARATORS)
_SEPARATED = re.compile(r"[-_ ]+")
_DIGITS = re.compile(r"[0-9]+")


def did_you_mean(word: str, candidates: Iterable[str], most: int = 2) -> tuple[str, ...]:
    """The candidates that `word` is likely a slip of, nearest first, at most `most` of them.

    The caller gives candidates of the same kind only. Never the word itself, and nothing at all
    rather than a wild guess: about a third of the letters may differ, and a candidate much
    further off than the nearest is left out. What the trade calls by another word (`psu`) comes
    before slips, and so does a name that lacks only what it is within (`J0`, `FRONT.J0`), or has
    that too much. The order of the candidates changes nothing.
    """
    from specgen.diagnostics.other_words import otherwise_called  # where a word is wrong

    names = set(candidates)
    other = otherwise_called(word, names)[: max(most, 0)] or _otherwise_within(word, names, most)
    return (*other, *_slips(word, names - {*other}, most - len(other)))


def _otherwise_within(word: str, names: Collection[str], most: int) -> tuple[str, ...]:
    """Names that differ from a word by what they are within alone; none where they are many."""
    own = f".{word}"
    found = sorted(name for name in names if name.endswith(own) or word.endswith(f".{name}"))
    return tuple(found) if word and len(found) <= most else ()


def _slips(word: str, candidates: Collection[str], most: int) -> tuple[str, ...]:
    limit = min(_SLIP * len(word) // 3, _MOST)
    if most < 1 or limit < _CHEAP:
        return ()
    bare = bare_of(word)
    counts = [(letter, bare.count(letter), _loss(letter)) for letter in sorted(set(bare))]
    found: list[tuple[int, str]] = []
    for candidate in sorted(candidates):
        if candidate == word or _at_least(bare, counts, bare_of(candidate)) > limit:
            continue
        apart = _distance(word, candidate, limit)
        if apart <= limit:
            found = sorted([*found, (apart, candidate)])[:most]
            limit = min(limit, 2 * found[0][0] + 1)
            if len(found) == most:
                limit = min(limit, found[-1][0])
    return tuple(name for apart, name in found if apart <= limit)


def nearest_numbers(word: str, candidates: Iterable[str], most: int = 2) -> tuple[str, ...]:
    """Candidates that differ from `word` in their numbers alone, nearest first.

    No spellings of it, but what there is of the sort: BAY 5 for BAY 99, a 1300 W supply for one of
    1350 W.
    """
    pattern, numbers = _numbered(word)
    if not numbers:
        return ()
    found: list[tuple[tuple[int, ...], str]] = []
    for candidate in set(candidates):
        its_pattern, its_numbers = _numbered(candidate)
        if candidate != word and its_pattern == pattern:
            apart = tuple(abs(a - b) for a, b in zip(numbers, its_numbers, strict=True))
            found.append(((sum(each > 0 for each in apart), *apart), candidate))
    return tuple(name for _, name in sorted(found)[:most])


def meant(word: str, candidates: Iterable[str]) -> Message | Nothing:
    """Help for an author: names that may have been meant, else the nearest by their numbers."""
    names = tuple(candidates)
    close = did_you_mean(word, names)
    if close:
        return question(close)
    near = nearest_numbers(word, names)
    if not near:
        return ""
    return say_many(
        len(near), "the nearest is {names}", "the nearest are {names}", names=quoted(near, "and")
    )


def _numbered(word: str) -> tuple[str, tuple[int, ...]]:
    """A word with a mark for each number, and its numbers."""
    bare = _SEPARATED.sub("-", word.lower())
    return _DIGITS.sub("#", bare), tuple(int(each[:9]) for each in _DIGITS.findall(bare))


def question(names: Sequence[str]) -> Message | Nothing:
    """The names as help for an author (did you mean `a` or `b`?); empty where there are none."""
    return say("did you mean {names}?", names=quoted(names, "or")) if names else ""


def suggested(word: str, known: Collection[str]) -> Message:
    """Names that may have been meant, else all that there are."""
    return question(did_you_mean(word, known)) or say("there are {names}", names=quoted(known))


def quoted(names: Iterable[object], joint: Joint = "comma") -> Listed:
    """Names as an author writes them: `a`, `b`."""
    return listed((f"`{name}`" for name in names), joint)


def bare_of(word: str) -> str:
    """The word without what the eye passes over."""
    return word.lower().translate(_BARE)


def _loss(letter: str) -> int:
    """The least it costs to be rid of a letter of a bare word (0 and 1 may have been letters)."""
    return _DIGIT_COUNT if letter.isdigit() and letter not in "01" else _SLIP


def _at_least(bare: str, counts: Sequence[tuple[str, int, int]], other: str) -> int:
    """A distance that two words have at least; quick, so that most are never compared closely."""
    if (longer := len(other) - len(bare)) * _SLIP > _MOST:
        return longer * _SLIP
    matched = cost = 0
    for letter, count, loss in counts:
        there = other.count(letter)
        if there < count:
            matched += there
            cost += (count - there) * loss
            if cost > _MOST:
                return cost
        else:
            matched += count
    return max(cost, (len(other) - matched) * _SLIP)


def _distance(word: str, other: str, limit: int) -> int:
    """How far apart two words are, in twentieths of a slip; anything above `limit` when further."""
    alike, alike_other = word.lower().translate(_ALIKE), other.lower().translate(_ALIKE)
    if len(alike) != len(word) or len(alike_other) != len(other):  # a letter that grows in lower()
        alike, alike_other = word, other
    before: list[int] = []
    last = [0]
    for letter in other:
        last.append(last[-1] + _gap(letter))
    for i, letter in enumerate(word, 1):
        row = [last[0] + _gap(letter)]
        for j, against in enumerate(other, 1):
            best = last[j - 1]
            if letter != against:
                same = alike[i - 1] == alike_other[j - 1]
                best += _CHEAP if same else _change(word, i - 1, other, j - 1)
            best = min(best, last[j] + _gap(letter), row[j - 1] + _gap(against))
            if i > 1 and j > 1 and letter == other[j - 2] and against == word[i - 2] != letter:
                swap = _DIGIT_MOVED if letter.isdigit() and against.isdigit() else _SLIP
                best = min(best, before[j - 2] + swap)
            row.append(best)
        if min(row) > limit and min(last) > limit:
            return limit + 1
        before, last = last, row
    return last[-1]


def _gap(letter: str) -> int:
    """What it costs that one of the words has this letter and the other has none there."""
    if letter in _SEPARATORS:
        return _CHEAP
    return _DIGIT_COUNT if letter.isdigit() else _SLIP


def _change(word: str, at: int, other: str, against: int) -> int:
    """What it costs that one word has a letter where the other has another one."""
    digits = word[at].isdigit(), other[against].isdigit()
    if not any(digits):
        return _SLIP
    alone = all(digits) and _alone(word, at) and _alone(other, against)
    return _DIGIT_ALONE if alone else _DIGIT_OTHER


def _alone(word: str, at: int) -> bool:
    """Whether the digit there is a number by itself."""
    return not (word[at - 1 : at].isdigit() or word[at + 1 : at + 2].isdigit())
