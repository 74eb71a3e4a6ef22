"""What a language says of a system without the label of a fact: "it is 712 mm deep", "it has 96
cores", "it draws up to 2.4 kW".

The phrases stand in the word lists of the language. A value is judged only where nothing but plain
words and other such phrases stand between the subject of the sentence and it, and where the clause
ends behind the phrase: "it has 4 bays free" says something else.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, Final

from specgen.document.prose.language_words import LanguageWords, Typed, word_lists
from specgen.document.prose.whole_sentences import whole_sentences_of
from specgen.frozen import frozen

_VALUE: Final = "{}"
_LETTER: Final = re.compile(r"[^\W\d_]")
_LETTERS: Final = re.compile(r"[^\W\d_]+")
NAMED: Final = "\ue000"
"""Stands where something is named."""


@frozen
class Phrase:
    """One way to say the value of some facts: what stands before the value, and behind it."""

    keys: tuple[str, ...]
    """The first of them that a system has is meant."""
    before: str
    behind: str
    end: str
    """A pattern of how the clause ends behind it."""

    def found(self, before: str, behind: str) -> re.Match[str] | None:
        """Where it stands at the end of what comes before a value, if its other half stands at the
        beginning of what comes behind."""
        words = rf"(?:^|\W){_words(self.before)}\s*$" if self.before else r"\s*$"
        further = rf"\s*{_words(self.behind)}\s*(?:{self.end})"
        found = re.search(words, before, re.IGNORECASE)
        return found if found and re.match(further, behind, re.IGNORECASE) else None


@frozen
class Phrases:
    """All of a language, and what a sentence begins with that is about the system."""

    all: tuple[Phrase, ...]
    subject: re.Pattern[str]
    between: re.Pattern[str]


@lru_cache(8)
def phrases_of(tag: str) -> Phrases | None:
    """None of a language for which nobody has written any."""
    data: Mapping[str, Any] = word_lists(tag).get("phrases", {})
    if not data:
        return None
    found = [
        Phrase(tuple(keys.split()), before.strip(), behind, data["end"])
        for keys, ways in data["said"].items()
        for before, _, behind in (each.partition(_VALUE) for each in ways)
    ]
    inner = {
        word
        for ways in data["said"].values()
        for each in ways
        for word in _LETTERS.findall(each)
        if word not in word_lists(tag)["weighing"]
    }
    begins = "|".join(map(_words, data["subject"]))
    longest = sorted({*inner, *data["between"]}, key=lambda each: (-len(each), each))
    return Phrases(
        tuple(found),
        re.compile(rf"\s*(?:{NAMED}+|(?:{begins})\b)", re.IGNORECASE),
        re.compile(rf"\b(?:{'|'.join(map(_words, longest))})\b", re.IGNORECASE),
    )


def phrased(known: LanguageWords) -> frozenset[str]:
    """The keys of all facts that are said so: of a value of another of them nobody knows which is
    meant."""
    phrases = phrases_of(known.language.tag)
    return frozenset(key for each in (phrases.all if phrases else ()) for key in each.keys)


@lru_cache(256)
def _folded(text: str) -> frozenset[str]:
    """The words of a text, without their capitals."""
    return frozenset(each.casefold() for each in _LETTERS.findall(text))


def _words(text: str) -> str:
    return r"\s+".join(map(re.escape, text.split()))


def meant(
    typed: Typed, text: str, start: int, named: Sequence[tuple[int, int]], known: LanguageWords
) -> Iterator[tuple[str, ...]]:
    """The keys of the facts that a value of a sentence says, as one of the phrases.

    `text` is the sentence, which starts at `start` of its passage; `named` what is named in it.
    """
    phrases = phrases_of(known.language.tag)
    if phrases is None:
        return
    bare = _without(text, start, named)
    before, behind = bare[: typed.start - start], bare[typed.end - start :]
    whole = whole_sentences_of(known, NAMED)
    if whole is not None and (keys := whole.meant(before, behind)):
        yield keys
        return
    begun = phrases.subject.match(before)
    if begun is None:
        return
    seams = [each.end() for each in known.clause.finditer(before)]
    there = _folded(before), _folded(behind)
    for each in phrases.all:
        if not (_folded(each.before) <= there[0] and _folded(each.behind) <= there[1]):
            continue  # nearly all: a pattern takes long to make
        found = each.found(before, behind)
        if found is None:
            continue
        lead = before[max(begun.end(), *seams, 0) : found.end()] if seams else ""
        # no verb in the clause: all since the subject is about the value
        first = begun.end() if not _LETTER.search(lead) else found.end() - len(lead)
        between = known.plain.sub(" ", phrases.between.sub(" ", before[first : found.start()]))
        if not _LETTER.search(between):
            yield each.keys


def _without(text: str, start: int, named: Sequence[tuple[int, int]]) -> str:
    """The sentence with a mark in place of what is named in it."""
    letters = list(text)
    for first, last in named:
        letters[first - start : last - start] = NAMED * (last - first)
    return "".join(letters)
