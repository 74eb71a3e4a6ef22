"""Pages that people write, made ready for the site.

Of a page in several languages (`note.md`, `note.de.md`) the site shows the one in its own language,
under the address of the first.
"""

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PAGES, Prose, language_of
from specgen.files.gate import files
from specgen.messages import say
from specgen.site.addresses import known_pages, resolver
from specgen.site.page import NOTES, Page
from specgen.site.page_images import PageImages
from specgen.site.page_writer import html_of, no_picture
from specgen.site.ready_html import read_page

_INDEX: Final = "README.md"


def has_start(root: Path) -> bool:
    """Whether a project has written the page that its site starts with."""
    starts = [root / PAGES / name for name in (_INDEX, "index.md")]
    return any(path in starts for path in files(root, PAGES, (".md",)))


def pages_of(
    texts: Sequence[Prose],
    subjects: Subjects,
    without: Collection[str] = (),
    pictures: PageImages | None = None,
) -> tuple[Page, ...]:
    """The pages that a project has written, in the order of the menu: as their heads say, then by
    name; the README of a folder before the others.

    Files `without` which the site is made are left out, since they have errors. `pictures` are
    those of the project's own that pages show.
    """
    language = subjects.definitions.project.language
    by_file = {
        text.file.removeprefix(f"{PAGES}/"): text
        for text in texts
        if text.is_page and text.file not in without
    }
    names = sorted(set(map(_plain_name, by_file)))
    shown = {file: _chosen(file, by_file, language) for file in names}
    paths = {file: _path(_plain_name(file)) for file in by_file}
    paths |= {file: _path(file) for file in shown}
    known = known_pages(subjects.definitions)
    in_order = sorted(shown, key=lambda file: _place(file, by_file[shown[file]]))
    return tuple(
        _page(by_file[shown[file]], paths[file], subjects, known, paths, pictures)
        for file in in_order
    )


def _place(file: str, text: Prose) -> tuple[str, bool, bool, int, str]:
    folder, _, name = file.rpartition("/")
    return folder, name != _INDEX, text.order is None, text.order or 0, name


def rivals(texts: Sequence[Prose], made: Sequence[Page]) -> tuple[Finding, ...]:
    """What is said of pages that would take the place of one that the site makes."""
    taken = {page.path for page in made}
    paths = {
        text.file: _path(_plain_name(text.file.removeprefix(f"{PAGES}/")))
        for text in texts
        if text.is_page
    }
    return tuple(
        Finding(
            codes.NOT_PUBLISHED,
            say("`{path}` is a page that the site makes", path=path),
            Label(Span(file, 1, 1, 1, 1)),
            help=say("give the page another name"),
        )
        for file, path in paths.items()
        if path in taken
    )


def _page(
    text: Prose,
    path: str,
    subjects: Subjects,
    known: frozenset[str],
    paths: Mapping[str, str],
    pictures: PageImages | None,
) -> Page:
    language = subjects.definitions.project.language
    resolve = resolver(known, path)
    shown = no_picture if pictures is None else pictures.on(text, path, resolve)
    html = html_of(text, subjects, resolve, language, paths, shown)
    read = read_page(html)
    title = text.title or read.title or text.name
    folder = path.split("/")[:-1][:1]
    section = "/".join((NOTES, *folder))
    return Page(path, title, section, html, "", ((read.words, 1),), places=read.places)


def _path(file: str) -> str:
    """Where the page of a file lies: the README of a folder is its index."""
    stem = file.removesuffix(".md")
    folder, _, name = stem.rpartition("/")
    name = "index" if f"{name}.md" == _INDEX else name
    return f"{folder}/{name}.html" if folder else f"{name}.html"


def _plain_name(file: str) -> str:
    language = language_of(file.rsplit("/", 1)[-1])
    return file.removesuffix(f".{language}.md") + ".md" if language else file


def _chosen(file: str, files: Mapping[str, Prose], language: str) -> str:
    """The file of a page in the site's language; else the one without, else the first."""
    stem = _plain_name(file).removesuffix(".md")
    wanted = (f"{stem}.{language}.md", f"{stem}.{language.split('-')[0]}.md", f"{stem}.md")
    others = sorted(each for each in files if _plain_name(each) == f"{stem}.md")
    return next((each for each in wanted if each in files), others[0])
