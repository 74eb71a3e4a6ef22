"""Sentences that say one value and nothing besides: "Depth: 695 mm.", "Four fans are fitted."

A language gives its frames and the names of facts beside their labels; every sentence they make is
held against the whole of what is written, so that a word which nobody foresaw leaves it alone.
"""

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any, Final

from specgen.document.prose.language_words import LanguageWords, word_lists
from specgen.frozen import frozen

VALUE: Final = "{}"
NAME: Final = "<name>"
SUBJECT: Final = "<it>"
REST: Final = "..."
_GOES_ON: Final = re.compile(rf"(?=,? (?:\w+ )?{SUBJECT})")
_BLANKS: Final = re.compile(r"\s+")
_ENDS: Final = " .!"

Keys = tuple[str, ...]
"""Of the facts that may be meant: the first that a system has."""


@frozen
class WholeSentences:
    """What a language says so; `opened` are sentences of which the rest is free.

    Words to be ignored stand in none of them.
    """

    closed: Mapping[str, Keys]
    opened: Mapping[str, Keys]
    subject: re.Pattern[str]
    ignored: re.Pattern[str]
    weighing: re.Pattern[str]

    def meant(self, before: str, behind: str) -> Keys:
        """The facts that the value between two halves of a sentence says; none of any other."""
        said = self.subject.sub(SUBJECT, f"{before}{VALUE}{behind}")
        said = _BLANKS.sub(" ", self.ignored.sub("", said)).casefold().strip(_ENDS)
        found = self.closed.get(said, ())
        if found:
            return found
        for at in reversed([each.start() for each in _GOES_ON.finditer(said)]):
            found = self.opened.get(said[:at], ())
            if found:
                return () if self.weighing.search(said, at) else found
        return ()


@lru_cache(8)
def whole_sentences_of(known: LanguageWords, named: str) -> WholeSentences | None:
    """None of a language for which nobody has written any. `named` stands where a name stood."""
    data: Mapping[str, Any] = word_lists(known.language.tag).get("sentences", {})
    if not data:
        return None
    said = _made(data)
    opened = {each.removesuffix(REST).rstrip(): said[each] for each in said if REST in each}
    return WholeSentences(
        said,
        opened,
        re.compile(rf"{named}+|{_any_of(data['subject'])}", re.IGNORECASE),
        re.compile(_any_of(data["ignored"]), re.IGNORECASE),
        re.compile(rf"{_any_of(data['weighing'])}|\d"),
    )


def _any_of(words: Iterable[str]) -> str:
    """A pattern of words, the longest first."""
    found = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
    return rf"\b(?:{found})\b"


def _made(data: Mapping[str, Any]) -> dict[str, Keys]:
    """The facts that each sentence says: frames filled in, and those written out."""
    made: dict[str, Keys] = {}
    for sort, frames in data["frames"].items():
        folded = [frame.casefold() for frame in frames]
        for keys, names in data[sort].items():
            meant = tuple(keys.split())
            for name in map(str.casefold, names):
                made |= {frame.replace(NAME, name): meant for frame in folded}
    for keys, sentences in data["said"].items():
        made |= dict.fromkeys(map(str.casefold, sentences), tuple(keys.split()))
    return made
