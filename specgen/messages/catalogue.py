"""Languages by their tags: the catalogues of translations that there are for each."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Final

from specgen.files.gate import NotOpened, files, is_file, read
from specgen.messages.language import ENGLISH, SOURCE, Catalogue, Language, base_of, one_or_several
from specgen.shipped import languages_folder

FOLDER: Final = "translations"
"""Where a project keeps the catalogues of its own texts and of what its templates say."""
OWN: Final = "project"
"""The context of a project's own texts: what its definitions and its prose say."""


def languages() -> tuple[str, ...]:
    """The languages that documents can be had in: the source and those with a catalogue."""
    return (SOURCE, *sorted(path.stem for path in languages_folder().glob("*.po")))


def languages_for(project: Path) -> tuple[str, ...]:
    """The same, and those that the project has a catalogue of its own for."""
    own = (path.stem for path in files(project, FOLDER, (".po",)))
    return tuple(dict.fromkeys((*languages(), *sorted(own))))


def language_of(tag: str, project: Path | None = None, *, outdated: bool = False) -> Language:
    """A language with what is known of it; what the project's own catalogue says comes first.

    A language that nobody has translated anything into has an empty catalogue. A file that is no
    catalogue counts as empty. Of the project's texts that have changed since they were translated,
    the `outdated` translation is printed, with a mark, rather than the text itself.
    """
    names = tuple(dict.fromkeys((base_of(tag), tag)))
    if base_of(tag) == SOURCE and not any(_has_own(project, name) for name in names):
        return ENGLISH if tag == SOURCE else Language(tag)
    from specgen.messages.po import (  # only where a text is in another language
        read_catalogue,
        read_outdated,
    )

    messages: dict[tuple[str, str], tuple[str, ...]] = {}
    older: dict[str, str] = {}
    plurals: Callable[[int], int] = one_or_several
    for name in names:
        for content in _contents(name, project):
            found, rule = read_catalogue(content, name)
            messages.update(found)
            plurals = rule or plurals
            if outdated:
                older.update(_own(read_outdated(content, name)))
    older = {text: each for text, each in older.items() if (OWN, text) not in messages}
    return Language(tag, Catalogue(messages, plurals, _own(messages), older))


def _has_own(project: Path | None, name: str) -> bool:
    return project is not None and is_file(project, project / FOLDER / f"{name}.po")


def _own(messages: Mapping[tuple[str, str], tuple[str, ...]]) -> dict[str, str]:
    """Translations of the project's own texts."""
    return {text: forms[0] for (context, text), forms in messages.items() if context == OWN}


@lru_cache(16)
def _shipped(path: Path) -> bytes:
    return path.read_bytes()


def _contents(name: str, project: Path | None) -> Iterator[bytes]:
    """The files of a language: the shipped one, the project's own."""
    if name != SOURCE and name in languages():
        yield _shipped(languages_folder() / f"{name}.po")
    if project is not None:
        with suppress(NotOpened):
            yield read(project, project / FOLDER / f"{name}.po")
