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
"""

import json
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from hashlib import blake2b
from html import unescape
from typing import Final

from specgen.site.page import SECTIONS, Page

FOLDER: Final = "search"
SHARD_BYTES: Final = 20_000  # a shard of several words is divided beyond this
POSTINGS: Final = 8_000  # pages kept for one word: the heaviest
PAGES_A_CHUNK: Final = 16
HEAVIEST: Final = 63
SUMMARY: Final = 140  # characters of a summary that a result shows
_DIGITS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
_WORD: Final = re.compile(r"[^\W_]+")
_TAG: Final = re.compile(r"<(?:script|style)\b.*?</(?:script|style)>|<[^>]*>", re.DOTALL)
_SPACES: Final = re.compile(r"\s+")

Postings = dict[int, int]  # slot -> weight


def terms(text: str) -> tuple[str, ...]:
    """The words of a text as the search knows them: lower case, without accents.

    `js/search.js` takes the reader's words apart in the same way.
    """
    plain = unicodedata.normalize("NFKD", text).lower()
    plain = "".join(sign for sign in plain if not unicodedata.category(sign).startswith("M"))
    return tuple(_WORD.findall(plain))


def text_of(html: str) -> str:
    """The words of ready HTML, without its tags."""
    return _SPACES.sub(" ", unescape(_TAG.sub(" ", html))).strip()


def index_files(pages: Iterable[Page], section_titles: Mapping[str, str]) -> dict[str, str]:
    """The files of the index by their path from the site's root."""
    ordered = sorted(pages, key=lambda page: page.path)
    bits = slot_bits(len(ordered))
    slots = _slots([page.path for page in ordered], bits)
    by_path = {page.path: slot for slot, page in zip(slots, ordered, strict=True)}
    words: dict[str, Postings] = {}
    for page in ordered:
        slot = by_path[page.path]
        for word, weight in _weights(page).items():
            words.setdefault(word, {})[slot] = weight
    files: dict[str, str] = {}
    leaves, inner = _write_words(words, files)
    chunk_bits = _chunk_bits(len(ordered))
    _write_pages({by_path[page.path]: page for page in ordered}, bits - chunk_bits, files)
    start = {
        "pages": len(ordered),
        "shift": bits - chunk_bits,
        "sections": [section_titles.get(name, name.capitalize()) for name in SECTIONS],
        "leaves": " ".join(sorted(leaves)),
        "inner": " ".join(sorted(inner)),
    }
    files[f"{FOLDER}/start.js"] = f"specgenSearch.start({_json(start)});\n"
    return dict(sorted(files.items()))


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


def _weights(page: Page) -> dict[str, int]:
    title = terms(page.title)
    # A title of one word is about that word; a long title is about many things.
    weights = {word: 10 + 10 // len(title) for word in title}
    for text, weight in ((page.summary, 2), *page.words):
        for word in terms(text):
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


def _write_words(
    words: Mapping[str, Postings], files: dict[str, str]
) -> tuple[list[str], list[str]]:
    """Write all shards of words; the letters of undivided and of divided shards."""
    leaves: list[str] = []
    inner: list[str] = []
    encoded = {word: encode(_heaviest(postings)) for word, postings in words.items()}
    waiting = list(_by_letter(sorted(words), 1).items())
    while waiting:
        letters, members = waiting.pop()
        size = sum(len(word) + len(encoded[word]) + 6 for word in members)
        if size <= SHARD_BYTES or len(members) == 1:
            leaves.append(letters)
            data: dict[str, object] = {word: encoded[word] for word in members}
        else:
            inner.append(letters)
            longer = [word for word in members if word != letters]
            waiting.extend(_by_letter(longer, len(letters) + 1).items())
            union = _heaviest(_union(words[word] for word in members))
            data = {"": encode(union), letters: encoded.get(letters, "")}
        files[word_file(letters)] = f"specgenSearch.words({_json(letters)},{_json(data)});\n"
    return leaves, inner


def _by_letter(words: Iterable[str], length: int) -> dict[str, list[str]]:
    groups: dict[str, list[str]] = {}
    for word in words:
        groups.setdefault(word[:length], []).append(word)
    return groups


def _write_pages(by_slot: Mapping[int, Page], shift: int, files: dict[str, str]) -> None:
    chunks: dict[int, dict[str, list[object]]] = {}
    for slot in sorted(by_slot):
        page = by_slot[slot]
        section = SECTIONS.index(page.section) if page.section in SECTIONS else 0
        record = [page.path, page.title, section, _shortened(page.summary)]
        chunks.setdefault(slot >> shift, {})[str(slot)] = record
    for chunk, records in chunks.items():
        files[page_file(chunk)] = f"specgenSearch.pages({chunk},{_json(records)});\n"


def _shortened(summary: str) -> str:
    if len(summary) <= SUMMARY:
        return summary
    return summary[: SUMMARY - 1].rsplit(" ", 1)[0] + "…"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
