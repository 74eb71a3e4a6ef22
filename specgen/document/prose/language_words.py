"""What the checker of typed numbers knows of a language: word lists beside its catalogue.

A language without a list has none of its sentences judged.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any, Final

from specgen.frozen import frozen
from specgen.messages import ENGLISH, SOURCE, Language, Words, base_of
from specgen.quantity.units import UNITS, Unit
from specgen.shipped import languages_folder

_WORD: Final = re.compile(r"[^\W_]+")
_ASIDE: Final = re.compile(r"[(（][A-Z]+[)）]")
"""An abbreviation behind what it stands for, as in a label it may."""
_BLANK: Final = "[ \u00a0\u202f]"
_LATIN: Final = "0-9A-Za-z\u00c0-\u024f"
"""A sign of Chinese or Japanese beside a number is no part of it."""
_BEFORE: Final = rf"(?<![{_LATIN}_.,/×–−+-])"
_GOES_ON: Final = re.compile(rf"[{_LATIN}_/²³·-]")
"""Behind the sign of a unit: it is part of something else."""
_LISTED: Final = re.compile(rf"[^:\d]{{3,60}}[:：]{_BLANK}?(\d{{1,4}})[.。]?\s*")
COMPOUND: Final = 12  # letters of a word that can mean one thing only
_SHORTEST: Final = 4  # letters of a word that may have lost its ending


@frozen
class Typed:
    """A number in a text, from and to; no units where it counts something."""

    number: Decimal
    units: tuple[Unit, ...]
    start: int
    end: int


@frozen(eq=False)  # one a language: known by itself in `_words`
class LanguageWords:
    """Reads sentences of a language. Words are compared without their endings and capitals; of a
    language without blanks, pairs of signs are.
    """

    language: Language
    blanks: bool
    endings: tuple[str, ...]
    idle: frozenset[str]
    weighing: tuple[str, ...]
    plain_words: tuple[str, ...]
    clause: re.Pattern[str]
    count_then_label: re.Pattern[str]
    label_ends: re.Pattern[str]
    label_then_count: re.Pattern[str] | None
    numbers: Mapping[str, int]
    group: str
    units: Mapping[str, tuple[Unit, ...]]
    longest_unit: int
    decimal: re.Pattern[str]
    count: re.Pattern[str]

    @property
    def plain(self) -> re.Pattern[str]:
        """The words that may stand beside a label and its number."""
        return _any_of(self.plain_words, r"\b" if self.blanks else "")

    def label(self, words: Words) -> str:
        """A label as it may stand in a sentence, "" where nobody has said it in the language."""
        return _label(self, words)

    def telling(self, label: str) -> bool:
        """Whether a label is more than an ordinary word: several words, or a compound."""
        return len(self.words(label)) > 1 or len(label) >= COMPOUND

    def words(self, text: str) -> frozenset[str]:
        """What is compared of a text."""
        return _words(self, text)

    def parted(self, text: str) -> frozenset[str]:
        found = [word.casefold() for word in _WORD.findall(text)]
        if not self.blanks:
            return frozenset(
                word[at : at + 2] for word in found for at in range(max(1, len(word) - 1))
            )
        return frozenset(map(self._stem, found)) - self.idle

    def _stem(self, word: str) -> str:
        if len(word) >= _SHORTEST:
            for ending in self.endings:
                if word.endswith(ending) and len(word) - len(ending) >= _SHORTEST - 1:
                    return word.removesuffix(ending)
        return word

    def is_plain(self, text: str, label: str) -> bool:
        """Whether a text has no words but those of a label and plain ones."""
        if self.blanks:
            meant = {self._stem(word.casefold()) for word in _WORD.findall(label)} - self.idle
            left = _WORD.sub(
                lambda word: "|" if self._stem(word[0].casefold()) in meant else word[0], text
            )
        else:
            left = text.replace(label, "|")
        return _WORD.search(self.plain.sub("", left)) is None

    def weighs(self, text: str, label: str) -> bool:
        """Whether a text, but for the words of a label, compares, or makes a condition."""
        if not self.blanks:
            return any(word in text.replace(label, "") for word in self.weighing)
        left = {word.casefold() for word in _WORD.findall(text)}
        return any(self._stem(word) not in self.words(label) for word in left & {*self.weighing})

    def counts(self, before: str, after: str, label: str) -> bool:
        """Whether a count between two texts is that of a label: `16 memory slots`."""
        after = after.replace("\n", " ")
        counted = self.count_then_label.match(after)  # a pattern of each label would take long
        if counted is not None:
            end = counted.end() + len(label)
            written = after[counted.end() : end].casefold()
            if written == label.casefold() and self.label_ends.match(after, end):
                return True
        if self.label_then_count is None:
            return False
        counted = self.label_then_count.search(before)
        return counted is not None and before[: counted.start()].endswith(label)

    def listed(self, text: str, start: int) -> list[Typed]:
        """A number that a text has behind a colon and nothing else: `Drive bays: 20.`"""
        found = _LISTED.fullmatch(text)
        if found is None:
            return []
        first, last = found.span(1)
        return [Typed(Decimal(found[1]), (), start + first, start + last)]

    def typed(self, text: str) -> list[Typed]:
        """The numbers of a text in order, those of small counts in words too."""
        found = {each.start: each for each in self._quantities(text)}
        for match in self.count.finditer(text):
            word = match["word"]
            number = self.numbers[word.casefold()] if word else int(match["number"])
            found.setdefault(match.start(), Typed(Decimal(number), (), match.start(), match.end()))
        return [found[start] for start in sorted(found)]

    def _quantities(self, text: str) -> Iterator[Typed]:
        for match in self.decimal.finditer(text):
            sign = self._unit_at(text, match.end())
            if sign is None:
                continue
            plain = re.sub(rf"{_BLANK}|{re.escape(self.group)}", "", match["whole"])
            number = Decimal(f"{plain}.{match['part']}" if match["part"] else plain)
            yield Typed(number, self.units[sign], match.start(), match.end() + len(sign))

    def _unit_at(self, text: str, at: int) -> str | None:
        """The longest sign of a unit that a text has at a place, nothing of a word behind it."""
        for length in range(self.longest_unit, 0, -1):
            sign = text[at : at + length]
            if sign in self.units and not _GOES_ON.match(text, at + len(sign)):
                return sign
        return None


@lru_cache(4096)
def _label(of: LanguageWords, words: Words) -> str:
    if not of.language.is_source and any(of.language.missing(words)):
        return ""
    return _ASIDE.sub("", of.language.text(words)).strip()


@lru_cache(4096)
def _words(of: LanguageWords, text: str) -> frozenset[str]:
    return of.parted(text)


@lru_cache(8)
def word_lists(tag: str) -> Mapping[str, Any]:
    """The word lists of a language as they are written; none where nobody has written them."""
    path = languages_folder() / f"{base_of(tag)}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}


@lru_cache(8)
def vocabulary(tag: str) -> LanguageWords | None:
    """What is known of the language of a tag; None where it has no word lists."""
    data = word_lists(tag)
    if not data:
        return None
    language = _language(tag)
    units = _units(language, frozenset(data["no_units"]))
    # Babel tells the signs of a country, at 90 million instructions
    point = data["point"] if tag == base_of(tag) else language.signs.point
    group, decimal = re.escape(data["group"]), re.escape(point)
    words = "|".join(data["numbers"]) or "(?!)"
    counted = rf"(?={_BLANK}?[^\W\d_])" if data["blanks"] else ""
    ends = rf"(?:{'|'.join(data['endings'])})?(?!\w)" if data["blanks"] else ""
    label_then_count = data["label_then_count"]
    return LanguageWords(
        language,
        data["blanks"],
        tuple(data["endings"]),
        frozenset(data["idle"]),
        tuple(data["weighing"]),
        tuple(data["plain"]),
        re.compile(data["clause"]),
        re.compile(data["count_then_label"]),
        re.compile(ends, re.IGNORECASE),
        re.compile(f"{label_then_count}$") if label_then_count else None,
        data["numbers"],
        data["group"],
        units,
        max(map(len, units)),
        re.compile(
            rf"{_BEFORE}(?P<whole>\d{{1,3}}(?:(?:{_BLANK}|{group})\d{{3}})+(?!\d)|\d+)"
            rf"(?:{decimal}(?P<part>\d+))?{_BLANK}?"
        ),
        re.compile(
            rf"{_BEFORE}(?P<number>\d{{1,4}}){counted}(?![{_LATIN}_.,/])"
            rf"|\b(?P<word>(?i:{words}))\b(?= )"
        ),
    )


@lru_cache(8)
def _any_of(words: tuple[str, ...], edge: str) -> re.Pattern[str]:
    """One of the words, the longest first, blanks in them of any sort."""
    made = sorted((r"\s+".join(map(re.escape, each.split())) for each in words), key=len)
    return re.compile(rf"{edge}(?:{'|'.join(made[::-1])}){edge}", re.IGNORECASE)


def _language(tag: str) -> Language:
    if base_of(tag) == SOURCE:
        return ENGLISH
    # Babel comes with the catalogues: what is written in English does without.
    from specgen.messages.catalogue import language_of

    return language_of(tag)


def _units(language: Language, not_units: frozenset[str]) -> Mapping[str, tuple[Unit, ...]]:
    """Units by how they are written, in the definitions and in the language."""
    found: dict[str, tuple[Unit, ...]] = {}
    for unit in UNITS:
        spellings = (unit.symbol, unit.sign, *unit.also, language.unit(unit.sign))
        for spelling in dict.fromkeys(spellings):
            if spelling not in not_units:
                found[spelling] = (*found.get(spelling, ()), unit)
    return found
