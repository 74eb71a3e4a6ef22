"""Catalogues of messages: gettext's `.po` files, by language.

A message is an English text as a whole, `{1}` standing where a figure, a name or a link stands
and `{1:words}` where words of the message carry a link or weight. Its context, where it has one,
is the sort of place that it stands at (`column`, `label`, `unit`): one English word may need two.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Final

from babel import Locale, UnknownLocaleError
from babel.messages.pofile import PoFileError, read_po

from specgen.shipped import languages_folder

SOURCE: Final = "en"
"""What the program and the shipped templates are written in."""

FOLDER: Final = "languages"
"""Where a project keeps the messages of its own templates, within its `templates/`."""

WIDER: Final = {"svg": ("drawing",)}
"""Sorts of places that take the words of others where they have none of their own."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The messages of a language by context and English text."""

    language: str
    messages: Mapping[tuple[str, str], str] = field(default_factory=dict, repr=False)

    def get(self, message: str, context: str = "") -> str | None:
        """The message in this language, None where nobody has translated it."""
        for place in (context, *WIDER.get(context, ()), ""):
            found = self.messages.get((place, message))
            if found is not None:
                return found
        return None

    @property
    def short(self) -> Mapping[str, str]:
        """The short words for drawings."""
        return {text: said for (place, text), said in self.messages.items() if place == "svg"}


def base_of(language: str) -> str:
    """The language of a tag without its region or script: `de` of `de-AT`."""
    return language.replace("_", "-").split("-")[0].lower()


def languages() -> tuple[str, ...]:
    """The languages that documents can be had in: the source and those with a catalogue."""
    return (SOURCE, *sorted(path.stem for path in languages_folder().glob("*.po")))


def catalogue(language: str, project: Path | None = None) -> Catalogue:
    """What is known in a language; the messages of the project's own templates come first.

    A language that nobody has translated anything into has an empty catalogue. A file that is no
    catalogue counts as empty.
    """
    messages: dict[tuple[str, str], str] = {}
    for name in dict.fromkeys((base_of(language), language)):
        messages.update(_read(languages_folder() / f"{name}.po"))
        if project is not None:
            messages.update(_read(project / "templates" / FOLDER / f"{name}.po"))
    return Catalogue(language, messages)


@lru_cache(64)
def locale_of(language: str) -> Locale:
    """The customs of a language; those of the source for a tag that nobody knows."""
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(SOURCE)


@lru_cache(16)
def _read(path: Path) -> Mapping[tuple[str, str], str]:
    return dict(_messages(path)) if path.is_file() else {}


def _messages(path: Path) -> Iterator[tuple[tuple[str, str], str]]:
    try:
        with path.open("rb") as file:
            read = read_po(file, locale=None, abort_invalid=True)
    except (PoFileError, UnicodeDecodeError, ValueError):
        return
    for each in read:
        # one form only: no message counts things
        if each.id and each.string and not each.fuzzy and isinstance(each.string, str):
            yield (each.context or "", str(each.id)), each.string
