"""Catalogues of a project's own texts as translators work on them: gettext's `.po` files.

Babel reads and writes them. What it leaves out when it reads, the texts that doubtful translations
are of (`#| msgid`), is read here. Nothing in a file tells of a day: the same texts give the same
bytes.
"""

import io
import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Final

from babel.messages.catalog import Catalog
from babel.messages.catalog import Message as Entry
from babel.messages.pofile import PoFileError, normalize, read_po, write_po

from specgen.document.translations.own_texts import OwnText
from specgen.document.translations.said import PROSE_OF, Key, Said
from specgen.messages.locales import locale_of

_HEADER: Final = re.compile(r'(?:[ \t]*#[^\n]*\n)*msgid ""\n(?:msgstr ""\n)(?:"[^\n]*"\n)+\n*')
_CHARSET: Final = re.compile(r"(charset=)[^\s;\"\\]+", re.IGNORECASE)
_FORMATS: Final = {"python-format", "python-brace-format"}
"""What Babel takes our places in braces and per cent for."""
_ALIKE: Final = 0.6
"""How like each other an old and a new text are that one translation can serve, from 0 to 1;
difflib's own. The order of the words counts."""


class NoCatalogue(Exception):
    """A file that is no catalogue: in which line, counted from 1, and what is wrong there."""

    def __init__(self, line: int, reason: str) -> None:
        super().__init__(reason)
        self.line, self.reason = line, reason


def key_of(entry: Entry) -> Key:
    """Context and text of an entry."""
    return entry.context or "", entry.id if isinstance(entry.id, str) else entry.id[0]


def entries_of(content: bytes) -> dict[Key, Entry]:
    """The entries of a catalogue. Raises `NoCatalogue`."""
    catalogue, previous = _read(content), dict(_previous(content))
    found = {key_of(each): each for each in catalogue if each.id}
    for key, entry in found.items():
        entry.previous_id = [previous[key]] if key in previous else []
        entry.user_comments = [each for each in entry.user_comments if not each.startswith("|")]
    return found


def _read(content: bytes) -> Catalog:
    try:
        return read_po(io.BytesIO(content), abort_invalid=True)
    except PoFileError as problem:
        raise NoCatalogue(problem.lineno + 1, str(problem)) from None
    except (ValueError, LookupError) as problem:  # letters or plurals that nobody knows
        raise NoCatalogue(1, str(problem)) from None


def _previous(content: bytes) -> Iterator[tuple[Key, str]]:
    """The texts that translations were made of, by what they say now."""
    for block in re.split(rb"\n[ \t]*\n", content):
        if b"#| msgid" not in block:
            continue
        older = b"\n".join(re.findall(rb"^#\| ?(.*)$", block, re.MULTILINE)) + b'\nmsgstr ""\n'
        try:
            now = next(each for each in _read(block) if each.id)
            before = next(each for each in _read(older) if each.id)
        except (NoCatalogue, StopIteration):
            continue
        yield key_of(now), key_of(before)[1]


def template(said: Said) -> bytes:
    """All that is said as a template of catalogues, without translations."""
    return _written(_header(None), [_entry(key, places) for key, places in said.items()], ())


def updated(content: bytes | None, tag: str, said: Said, shipped: Iterable[Key] = ()) -> bytes:
    """A catalogue brought up to date with what is said; a new one where there is none yet.

    The translation of a text that has changed is kept for the new one and marked as doubtful, with
    the text that it was made of. What nothing says any more is kept behind `#~`, as long as
    somebody has translated it, and taken up again where it is said again. Entries in the place of
    `shipped` messages stay. Raises `NoCatalogue`.
    """
    known = entries_of(content) if content else {}
    past = {key_of(each): each for each in _read(content).obsolete.values()} if content else {}
    ours = frozenset(shipped)
    gone = {key: each for key, each in known.items() if key not in said and is_translated(each)}
    gone = {key: each for key, each in gone.items() if key not in ours}
    made: list[Entry] = []
    for key, places in said.items():
        entry = _entry(key, places)
        own = known.get(key)
        if own is not None and not is_translated(own) and key in past:
            own = None
        if own is None:
            own = past.pop(key, None)
        if own is not None:
            _take(entry, own)
            entry.previous_id = own.previous_id
        elif (before := _before(key, places, gone)) is not None:
            older = gone.pop(before)
            _take(entry, older)
            entry.flags.add("fuzzy")
            entry.previous_id = older.previous_id or [before[1]]
        made.append(entry)
    made += [each for key, each in known.items() if key in ours and key not in said]
    sure = (each for each in gone.values() if not each.fuzzy)  # what is gone has no such mark
    obsolete = [*sure, *(each for key, each in past.items() if key not in said)]
    return _written(_header(content, tag), made, obsolete)


def is_translated(entry: Entry) -> bool:
    """Whether somebody has written a translation; of a text that counts, one of its forms."""
    return bool(entry.string if isinstance(entry.string, str) else any(entry.string or ()))


def _entry(key: Key, places: Iterable[OwnText]) -> Entry:
    files = dict.fromkeys(each.at.file for each in places)
    of = dict.fromkeys(each.of for each in places)
    return Entry(
        key[1], "", [(file, 0) for file in files], (), list(of), (), context=key[0] or None
    )


def _take(entry: Entry, own: Entry) -> None:
    """Takes over what translators have written."""
    entry.id, entry.string = own.id if not isinstance(own.id, str) else entry.id, own.string
    entry.flags, entry.user_comments = set(own.flags), own.user_comments


def _before(key: Key, places: Iterable[OwnText], gone: dict[Key, Entry]) -> Key | None:
    """What a text said before it was changed: the one of the same field, else the likest."""
    fields = {each.of for each in places if not each.of.startswith(PROSE_OF)}
    for other, entry in gone.items():
        if other[0] == key[0] and fields.intersection(entry.auto_comments):
            return other
    alike = {other[1]: other for other in gone if other[0] == key[0]}
    found = get_close_matches(key[1], alike, 1, _ALIKE)
    return alike[found[0]] if found else None


def _header(content: bytes | None, tag: str = "") -> str:
    """The header of a file as it is, else a new one."""
    text = content.decode("utf-8", "replace") if content else ""
    if own := _HEADER.match(text):
        return _CHARSET.sub(r"\1utf-8", own[0].rstrip("\n"))
    lines = ["MIME-Version: 1.0", "Content-Type: text/plain; charset=utf-8"]
    lines.append("Content-Transfer-Encoding: 8bit")
    if tag:
        plurals = Catalog(locale=locale_of(tag)).plural_forms
        lines = [f"Language: {tag}", *lines, f"Plural-Forms: {plurals}"]
    return "\n".join(('msgid ""', 'msgstr ""', *(f'"{line}\\n"' for line in lines)))


def _written(header: str, entries: Iterable[Entry], obsolete: Iterable[Entry]) -> bytes:
    blocks = [header, *map(_block, entries)]
    rest = Catalog()
    for entry in obsolete:
        rest.obsolete[key_of(entry)] = entry
    text = _text(rest)
    return ("\n\n".join((*blocks, text) if text else blocks) + "\n").encode()


def _block(entry: Entry) -> str:
    """One entry. What it was translated from stands in it as the other texts do; Babel would wrap
    it like a comment, so that nobody could read it."""
    alone = Catalog()
    entry.flags -= _FORMATS
    alone[entry.id] = entry
    text = _text(alone)
    if not entry.previous_id:
        return text
    before = f"msgid {normalize(entry.previous_id[0], width=0)}".splitlines()
    lines = "".join(f"#| {line}\n" for line in before)
    return re.sub(r"^(?=msg)", lambda _: lines, text, count=1, flags=re.MULTILINE)


def _text(catalogue: Catalog) -> str:
    out = io.BytesIO()
    write_po(out, catalogue, width=0, omit_header=True)
    return out.getvalue().decode("utf-8").rstrip("\n")
