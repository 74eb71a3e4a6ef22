"""The search index: small scripts that a page loads only when somebody searches.

No server and no library: `search/start.js` says which shards exist; `search/w-<letters>.js` holds
the words that begin with those letters; `search/p-<number>.js` holds a few pages' titles.
Each is a classic script that hands its data to `specgenSearch`, because scripts load from
`file://` and under `Content-Security-Policy: default-src 'self'`, where a fetch would not.

A page has a slot, a number made from its path alone, so that a new page does not renumber the
others. The pages of a word are its slots in rising order, written as gaps, grouped by weight.
A shard that grows too large is divided by the next letter; what is left in its place is the union
of everything below, which answers the short beginnings of words while somebody is typing.
So a query loads `start.js`, one shard for each of its words, and the titles it shows.
`search/near.js` holds what a mistyped word is held against. The reader's side is `js/find.js`.
"""

import json
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import blake2b
from typing import Final

from specgen.frozen import frozen
from specgen.quantity.units import UNITS
from specgen.site.addresses import LISTS
from specgen.site.page import SECTIONS, Page

FOLDER: Final = "search"
SHARD_BYTES: Final = 20_000  # a shard of several words is divided beyond this
POSTINGS: Final = 8_000  # pages kept for one word: the heaviest
PAGES_A_CHUNK: Final = 16
HEAVIEST: Final = 63
SUMMARY: Final = 140  # characters of a summary that a result shows
_DIGITS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
WHOLE: Final = ("builds", "parts", "limits", "rules")
"""Sections whose pages are about one thing, or whose headings are found as values."""
NEAR: Final = 2000  # words of titles that mistyped ones are held against
_WORD: Final = re.compile(r"[^\W_]+")
_SIGNS: Final = "\u3005-\u3007\u3040-\u30ff\u3400-\u9fff\uf900-\ufaff"
_TOGETHER: Final = re.compile(f"[{_SIGNS}]+")
_RUN: Final = re.compile(f"[{_SIGNS}]+|[^{_SIGNS}]+")
_CODE: Final = re.compile(r"[^\W_]+(?:[-./+][^\W_]+)+")
_AMOUNT: Final = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?) ?([^\W\d_]+(?:/[^\W\d_]+)?)")
_UNITS: Final = frozenset(unit.symbol.lower() for unit in UNITS)

Postings = dict[int, int]  # slot -> weight


@frozen
class SearchEntry:
    """What a search can lead to: a page, or a section of one (`path` with its anchor)."""

    path: str
    title: str
    section: str
    summary: str
    words: tuple[tuple[str, int], ...] = ()


def entries(pages: Iterable[Page]) -> Iterator[SearchEntry]:
    """Pages, and sections of those that are long lists; builds and parts are about one thing."""
    for page in pages:
        if not page.searched:
            continue
        yield SearchEntry(page.path, page.title, page.section, page.summary, page.words)
        if page.section not in WHOLE or page.path in LISTS:
            for title, anchor in (*page.places.headings, *page.places.below):
                yield SearchEntry(f"{page.path}#{anchor}", title, page.section, page.title)


def terms(text: str) -> tuple[str, ...]:
    """The words of a text as the search knows them: lower case, without accents.

    `js/find.js` takes the reader's words apart in the same way.
    """
    return tuple(
        piece
        for word in _WORD.findall(_folded(text))
        for run in _RUN.findall(word)
        for piece in (_pairs(run) if _TOGETHER.match(run) else (run,))
    )


def _pairs(run: str) -> tuple[str, ...]:
    """Signs of a language without blanks, two and two."""
    return tuple(run[at : at + 2] for at in range(max(1, len(run) - 1)))


def codes(text: str) -> tuple[str, ...]:
    """What is typed in one go: names joined by `-`, `.`, `/` or `+`; numbers with their units.

    `QB-104` is `qb-104`, and `5600 MT/s` is `mt/s` and `5600mt/s`, besides their pieces.
    """
    plain = _folded(text)
    amounts = (f"{number}{unit}" for number, unit in _AMOUNT.findall(plain) if unit in _UNITS)
    return (*_CODE.findall(plain), *amounts)


def _folded(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).lower()
    return "".join(sign for sign in plain if not unicodedata.category(sign).startswith("M"))


class Index:
    """The index of a site that is made again and again: it follows the pages that have changed.

    What it gives is what a new one would give of the same pages; the work is that of the pages
    which differ from those of the time before, and of the shards that their words stand in.
    """

    def __init__(self) -> None:
        self.remade: tuple[str, ...] = ()
        """The shards that the last call made anew, by path."""
        self._known: dict[str, tuple[int, SearchEntry]] = {}
        self._words: dict[str, Postings] = {}
        self._encoded: dict[str, str] = {}
        self._shards: dict[str, tuple[bool, str]] = {}
        self._chunks: dict[int, str] = {}
        self._shift = -1

    def files(self, pages: Iterable[Page], section_titles: Mapping[str, str]) -> dict[str, str]:
        """The files of the index by their path from the site's root."""
        ordered = sorted(entries(pages), key=lambda entry: entry.path)
        bits = slot_bits(len(ordered))
        slots = _slots([page.path for page in ordered], bits)
        now = {page.path: (slot, page) for slot, page in zip(slots, ordered, strict=True)}
        shift = bits - _chunk_bits(len(ordered))
        words, chunks = self._follow(now, shift)
        remade: list[str] = []
        leaves, inner, files = self._write_words(words, remade)
        by_slot = dict(now.values())
        self._write_pages(by_slot, shift, chunks, files, remade)
        start = {
            "pages": len(ordered),
            "shift": shift,
            "sections": [section_titles.get(name, name.capitalize()) for name in SECTIONS],
            "leaves": " ".join(sorted(leaves)),
            "inner": " ".join(sorted(inner)),
        }
        files[f"{FOLDER}/near.js"] = f"specgenSearch.near({_json(_near(ordered))});\n"
        files[f"{FOLDER}/start.js"] = f"specgenSearch.start({_json(start)});\n"
        self.remade = tuple(sorted(remade))
        return dict(sorted(files.items()))

    def _follow(
        self, now: Mapping[str, tuple[int, SearchEntry]], shift: int
    ) -> tuple[frozenset[str], frozenset[int]]:
        """Takes the pages in; the words and the chunks of slots that are not what they were."""
        touched: set[str] = set()
        chunks: set[int] = set()
        changed = [
            path
            for path in (*(each for each in self._known if each not in now), *now)
            if self._known.get(path) != now.get(path)
        ]
        for pages, adds in ((self._known, False), (now, True)):  # a slot may pass to another page
            for path in changed:
                if path in pages:
                    slot, page = pages[path]
                    chunks.add(slot >> shift)
                    for word, weight in _weights(page).items():
                        touched.add(word)
                        postings = self._words.setdefault(word, {})
                        if adds:
                            postings[slot] = weight
                        else:
                            postings.pop(slot, None)
        for word in touched:
            if self._words[word]:
                self._encoded[word] = encode(_heaviest(self._words[word]))
            else:
                del self._words[word]
                self._encoded.pop(word, None)
        if shift != self._shift:  # chunks are others altogether
            self._chunks.clear()
        self._known, self._shift = dict(now), shift
        return frozenset(touched), frozenset(chunks)

    def _write_words(
        self, touched: frozenset[str], remade: list[str]
    ) -> tuple[list[str], list[str], dict[str, str]]:
        """All shards of words: the letters of undivided and of divided ones, and the files."""
        files: dict[str, str] = {}
        shards: dict[str, tuple[bool, str]] = {}
        stale = {word[:length] for word in touched for length in range(1, len(word) + 1)}
        encoded = self._encoded
        waiting = list(_by_letter(sorted(self._words), 1).items())
        while waiting:
            letters, members = waiting.pop()
            size = sum(len(word) + len(encoded[word]) + 6 for word in members)
            divided = size > SHARD_BYTES and len(members) > 1
            if divided:
                longer = [word for word in members if word != letters]
                waiting.extend(_by_letter(longer, len(letters) + 1).items())
            path = word_file(letters)
            known = self._shards.get(letters)
            if known is None or known[0] != divided or letters in stale:
                known = divided, self._shard(letters, members, divided)
                remade.append(path)
            shards[letters] = known
            files[path] = known[1]
        self._shards = shards
        leaves = [letters for letters, (divided, _) in shards.items() if not divided]
        inner = [letters for letters, (divided, _) in shards.items() if divided]
        return leaves, inner, files

    def _shard(self, letters: str, members: Sequence[str], divided: bool) -> str:
        data = {word: self._encoded[word] for word in members}
        if divided:
            union = _heaviest(_union(self._words[word] for word in members))
            data = {"": encode(union), letters: self._encoded.get(letters, "")}
        return f"specgenSearch.words({_json(letters)},{_json(data)});\n"

    def _write_pages(
        self,
        by_slot: Mapping[int, SearchEntry],
        shift: int,
        touched: frozenset[int],
        files: dict[str, str],
        remade: list[str],
    ) -> None:
        groups: dict[int, list[int]] = {}
        for slot in sorted(by_slot):
            groups.setdefault(slot >> shift, []).append(slot)
        chunks: dict[int, str] = {}
        for chunk, slots in groups.items():
            text = self._chunks.get(chunk)
            if text is None or chunk in touched:
                records = {str(slot): _record(by_slot[slot]) for slot in slots}
                text = f"specgenSearch.pages({chunk},{_json(records)});\n"
                remade.append(page_file(chunk))
            chunks[chunk] = text
            files[page_file(chunk)] = text
        self._chunks = chunks


def slot_bits(count: int) -> int:
    """Bits of a slot for so many pages: sparse enough that two paths rarely want the same one."""
    return max(14, (count * 16 - 1).bit_length())


def encode(postings: Postings) -> str:
    """Pages by weight, heaviest first: one digit for the weight, then gaps between the slots.

    A gap is written five bits a digit, the sixth bit saying that another digit follows.
    """
    groups: dict[int, list[int]] = {}
    for slot, weight in postings.items():
        groups.setdefault(weight, []).append(slot)
    written = []
    for weight in sorted(groups, reverse=True):
        digits, last = [_DIGITS[weight]], 0
        for slot in sorted(groups[weight]):
            gap, last = slot - last, slot
            while gap > 31:
                digits.append(_DIGITS[32 | gap & 31])
                gap >>= 5
            digits.append(_DIGITS[gap])
        written.append("".join(digits))
    return ".".join(written)


def word_file(letters: str) -> str:
    """The shard of the words that begin so; letters outside a-z and 0-9 are written as numbers."""
    plain = "".join(s if s.isascii() and s.isalnum() else f"_{ord(s):x}_" for s in letters)
    return f"{FOLDER}/w-{plain}.js"


def page_file(chunk: int) -> str:
    """The shard that holds the titles of one chunk of slots."""
    return f"{FOLDER}/p-{chunk:x}.js"


def _weights(page: SearchEntry) -> dict[str, int]:
    title = terms(page.title)
    # A title of one word is about that word; a long title is about many things.
    weights = {word: 10 + 10 // len(title) for word in (*title, *codes(page.title))}
    for text, weight in ((page.summary, 2), *page.words):
        for word in (*terms(text), *codes(text)):
            weights[word] = min(HEAVIEST, max(1, weight, weights.get(word, 0)))
    return weights


def _slots(paths: Sequence[str], bits: int) -> list[int]:
    taken: set[int] = set()
    slots = []
    for path in paths:
        digest = blake2b(path.encode(), digest_size=8).digest()
        slot = int.from_bytes(digest, "big") >> (64 - bits)
        while slot in taken:
            slot = (slot + 1) % (1 << bits)
        taken.add(slot)
        slots.append(slot)
    return slots


def _chunk_bits(count: int) -> int:
    return max(0, (count // PAGES_A_CHUNK).bit_length())


def _heaviest(postings: Postings) -> Postings:
    if len(postings) <= POSTINGS:
        return postings
    ranked = sorted(postings.items(), key=lambda item: (-item[1], item[0]))
    return dict(ranked[:POSTINGS])


def _union(many: Iterable[Postings]) -> Postings:
    union: Postings = {}
    for postings in many:
        for slot, weight in postings.items():
            if weight > union.get(slot, 0):
                union[slot] = weight
    return union


def _by_letter(words: Iterable[str], length: int) -> dict[str, list[str]]:
    groups: dict[str, list[str]] = {}
    for word in words:
        groups.setdefault(word[:length], []).append(word)
    return groups


def _near(pages: Iterable[SearchEntry]) -> str:
    """The words of titles, the most common first: what a mistyped word may have been meant for."""
    counted = Counter(word for page in pages for word in set(terms(page.title)))
    plain = (word for word in counted if len(word) > 3 and word.isalpha())
    return " ".join(sorted(plain, key=lambda word: (-counted[word], word))[:NEAR])


def _record(page: SearchEntry) -> list[object]:
    of = page.section.partition("/")[0]
    section = SECTIONS.index(of) if of in SECTIONS else 0
    return [page.path, page.title, section, _shortened(page.summary)]


def _shortened(summary: str) -> str:
    if len(summary) <= SUMMARY:
        return summary
    return summary[: SUMMARY - 1].rsplit(" ", 1)[0] + "…"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
