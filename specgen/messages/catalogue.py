"""Catalogues of translations: gettext's `.po` files, by language, read with Babel.

Only documents in another language than English come here: Babel is not imported before.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from babel import Locale, UnknownLocaleError
from babel.messages.catalog import Catalog
from babel.messages.pofile import PoFileError, read_po

from specgen.messages.language import ENGLISH, SOURCE, Catalogue, Language, base_of
from specgen.shipped import languages_folder

FOLDER: Final = "languages"
"""Where a project keeps the messages of its own templates, within its `templates/`."""


@dataclass(frozen=True)
class _Read(Catalogue):
    plurals: Any = None

    def plural_form(self, number: int) -> int:
        return int(self.plurals(number)) if self.plurals is not None else 0


def languages() -> tuple[str, ...]:
    """The languages that documents can be had in: the source and those with a catalogue."""
    return (SOURCE, *sorted(path.stem for path in languages_folder().glob("*.po")))


def language_of(tag: str, project: Path | None = None) -> Language:
    """A language with what is known of it; messages of the project's own templates come first.

    A language that nobody has translated anything into has an empty catalogue. A file that is no
    catalogue counts as empty.
    """
    if base_of(tag) == SOURCE:
        return ENGLISH if tag == SOURCE else Language(tag)
    messages: dict[tuple[str, str], tuple[str, ...]] = {}
    plurals = None
    for name in dict.fromkeys((base_of(tag), tag)):
        folders = [languages_folder()]
        if project is not None:
            folders.append(project / "templates" / FOLDER)
        for folder in folders:
            read, rule = _read(folder / f"{name}.po")
            messages.update(read)
            plurals = rule or plurals
    return Language(tag, _Read(messages, plurals))


@lru_cache(64)
def locale_of(tag: str) -> Locale:
    """The customs of a language; those of the source for a tag that nobody knows."""
    try:
        return Locale.parse(tag, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(SOURCE)


@lru_cache(16)
def _read(path: Path) -> tuple[Mapping[tuple[str, str], tuple[str, ...]], Any]:
    if not path.is_file():
        return {}, None
    try:
        with path.open("rb") as file:
            read = read_po(file, locale=path.stem.replace("-", "_"), abort_invalid=True)
    except (PoFileError, UnicodeDecodeError, ValueError, UnknownLocaleError):
        return {}, None
    return dict(_messages(read)), _plural_rule(read)


def _plural_rule(read: Catalog) -> Any:
    from gettext import c2py

    return c2py(read.plural_expr)


def _messages(read: Catalog) -> Iterator[tuple[tuple[str, str], tuple[str, ...]]]:
    for each in read:
        text = each.id[0] if isinstance(each.id, tuple | list) else each.id
        forms = (each.string,) if isinstance(each.string, str) else tuple(each.string or ())
        if text and forms and all(forms) and not each.fuzzy:
            yield (each.context or "", str(text)), forms
