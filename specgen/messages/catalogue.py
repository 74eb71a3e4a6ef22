"""Languages by their tags: the catalogues of translations that there are for each."""

from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Final

from specgen.files.gate import NotOpened, files, read
from specgen.messages.language import ENGLISH, SOURCE, Catalogue, Language, base_of, one_or_several
from specgen.shipped import languages_folder

FOLDER: Final = "languages"
"""Where a project keeps the messages of its own templates, within its `templates/`."""


def languages() -> tuple[str, ...]:
    """The languages that documents can be had in: the source and those with a catalogue."""
    return (SOURCE, *sorted(path.stem for path in languages_folder().glob("*.po")))


def languages_for(project: Path) -> tuple[str, ...]:
    """The same, and those that the project has a catalogue of its own for."""
    own = (path.stem for path in files(project, f"templates/{FOLDER}", (".po",)))
    return tuple(dict.fromkeys((*languages(), *sorted(own))))


def language_of(tag: str, project: Path | None = None) -> Language:
    """A language with what is known of it; messages of the project's own templates come first.

    A language that nobody has translated anything into has an empty catalogue. A file that is no
    catalogue counts as empty.
    """
    if base_of(tag) == SOURCE:
        return ENGLISH if tag == SOURCE else Language(tag)
    from specgen.messages.po import read_catalogue  # only where a text is in another language

    messages: dict[tuple[str, str], tuple[str, ...]] = {}
    plurals: Callable[[int], int] = one_or_several
    for name in dict.fromkeys((base_of(tag), tag)):
        for content in _contents(name, project):
            found, rule = read_catalogue(content, name)
            messages.update(found)
            plurals = rule or plurals
    return Language(tag, Catalogue(messages, plurals))


@lru_cache(16)
def _shipped(path: Path) -> bytes:
    return path.read_bytes()


def _contents(name: str, project: Path | None) -> Iterator[bytes]:
    """The files of a language: the shipped one, the project's own."""
    if name in languages():
        yield _shipped(languages_folder() / f"{name}.po")
    if project is not None:
        with suppress(NotOpened):
            yield read(project, project / "templates" / FOLDER / f"{name}.po")
