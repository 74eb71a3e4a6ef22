"""Pages in, published site out: the engine's shell, the search index, all that lies beside."""

import shutil
from collections.abc import Mapping, Sequence
from dataclasses import replace
from html import escape
from pathlib import Path
from typing import Final
from urllib.parse import quote

from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.messages import say_as
from specgen.messages.catalogue import language_of
from specgen.site.addresses import START
from specgen.site.asked import PATH as ASKED
from specgen.site.asked import asked
from specgen.site.mkdocs_engine import (
    EngineFailed,
    MkDocsEngine,
    SiteEngine,
)
from specgen.site.page import NOTES, MenuEntry, Page, Shell, is_written
from specgen.site.publish import CannotPublish, publishing
from specgen.site.search import Index

LOST = "404.html"  # the name that servers of static files look for; common practice, no source
DEEPEST = 6
LOST_TITLE: Final = say_as("site", "No page here")
LOST_AT: Final = say_as("site", "The address leads to nothing that this site publishes.")
LOST_WHY: Final = say_as(
    "site",
    "What stood here may have been renamed or removed since the link was made. Search for its "
    "name or its number, or begin with one of these:",
)


@frozen
class SiteReport:
    """What was published: where the start page lies, how many pages, what the engine remarked."""

    start: Path
    pages: int
    messages: tuple[str, ...] = ()


def publish_site(
    pages: Sequence[Page],
    shell: Shell,
    target: Path,
    *,
    files: Mapping[str, bytes | Path] | None = None,
    engine: SiteEngine | None = None,
    index: Index | None = None,
) -> SiteReport:
    """Make a site of ready pages and put it in place of `target` in one step.

    `files` lie beside the pages (downloads, drawings), by their path from the site's root.
    An `index` that has made the site's index before does the work of the changed pages only.
    Raises CannotPublish; whatever is raised, the site that was there before is unchanged.
    """
    with publishing(target) as folder:
        try:
            messages = write_site(pages, shell, folder, files or {}, engine, index)
        except EngineFailed as problem:
            raise CannotPublish(f"the site could not be made: {problem}") from problem
    return SiteReport(target / "index.html", len(pages), messages)


def write_site(
    pages: Sequence[Page],
    shell: Shell,
    folder: Path,
    files: Mapping[str, bytes | Path],
    engine: SiteEngine | None = None,
    index: Index | None = None,
) -> tuple[str, ...]:
    """Write the whole site into an empty folder; what the engine remarked on the way."""
    shell = _with_notes(shell, pages)
    everything = pages if any(page.path == LOST for page in pages) else (*pages, lost_page(shell))
    messages = (engine or MkDocsEngine()).render(everything, shell, folder)
    _write_search(pages, shell, folder, index or Index())
    for path, content in sorted(files.items()):
        destination = folder / path
        destination.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, Path):
            shutil.copyfile(content, destination)
        else:
            destination.write_bytes(content)
    return messages


def lost_page(shell: Shell) -> Page:
    """What a server shows where there is no page; it works at any address of the site."""
    word = shell.word
    links = "".join(
        f'<li><a href="{quote(entry.path)}">{escape(entry.title)}</a></li>' for entry in shell.menu
    )
    body = (
        f'<article class="document"><header class="document-head"><h1>{word(LOST_TITLE)}</h1>'
        f'<p class="subtitle">{word(LOST_AT)}</p></header><p>{word(LOST_WHY)}</p>'
        f"<ul>{links}</ul></article>"
    )
    roots = tuple("../" * up for up in range(DEEPEST))
    return Page(LOST, word(LOST_TITLE), "lost", body, roots=roots)


def _write_search(pages: Sequence[Page], shell: Shell, folder: Path, index: Index) -> None:
    titles = {entry.section: entry.title for entry in reversed(shell.menu)}
    titles.setdefault(NOTES, shell.word("Notes"))
    nothing = asked({}, (), "", language_of(shell.language, None))  # of pages alone
    made = {ASKED: nothing.decode("ascii"), **index.files(pages, titles)}
    for parent in {(folder / path).parent for path in made}:
        parent.mkdir(parents=True, exist_ok=True)
    for path, content in made.items():
        (folder / path).write_bytes(content.encode("ascii"))


def _with_notes(shell: Shell, pages: Sequence[Page]) -> Shell:
    """The menu with the handwritten pages in it, unless the caller has listed them already.

    Those of a folder stand under the title of its README, the others under "Notes".
    """
    if any(entry.section == NOTES for entry in shell.menu):
        return shell
    written = [page for page in pages if is_written(page) and page.path != START]
    sections = grouped((page.section, page) for page in written)
    entries = (
        MenuEntry(
            shell.word("Notes") if section == NOTES else first.title,
            first.path,
            section,
            tuple(MenuEntry(page.title, page.path, section) for page in (first, *rest)),
        )
        for section, (first, *rest) in sections.items()
    )
    return replace(shell, menu=(*shell.menu, *entries))
