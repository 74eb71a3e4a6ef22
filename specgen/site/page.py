"""What the site is made of: pages with ready HTML, and the shell that goes round each of them."""

from collections.abc import Mapping
from dataclasses import field
from pathlib import Path, PurePosixPath
from urllib.parse import quote

from specgen.document.tree import Document, Heading, plain_text
from specgen.document.tree_walks import anchors_of
from specgen.frozen import frozen
from specgen.messages import Message

TOP = 2
"""The level of the headings that a page is found by."""
NOTES = "notes"
"""The section of pages that people have written; those of a folder have one of their own."""
SECTIONS = ("start", "platforms", "builds", "parts", "notes", "rules", "limits", "compare")


@frozen
class Places:
    """Where a link can lead in a page: its headings of the second level, each as (words, anchor),
    of one that is written by hand those below them, and all that has an anchor."""

    headings: tuple[tuple[str, str], ...] = ()
    anchors: frozenset[str] = frozenset()
    below: tuple[tuple[str, str], ...] = ()


def places_in(document: Document) -> Places:
    """Those of a document that is a page."""
    headings = tuple(
        (plain_text(each.children).strip(), each.anchor)
        for each in document.blocks
        if isinstance(each, Heading) and each.level == TOP and each.anchor
    )
    return Places(headings, frozenset(filter(None, anchors_of(document.blocks))))


@frozen
class Page:
    """One page of the site.

    `path` is its address from the site's root, posix, ending in `.html`. `body` is ready HTML, or
    a UTF-8 file that holds it; links in it are relative to the page. `words` is what the search
    knows besides the title and the summary: text and a weight from 1 (mentioned) to 9 (a name).
    `roots` are the ways up that a page tries which may stand at any address; others need none.
    `scripts` are those of the theme that only this page runs; a page that is not `searched` is one
    that nobody looks for by words, since another leads to it. `of` is the path of the own page of
    the system that this one is about, and `kind` what it is called among its documents. `places`
    are those in it that links lead to.
    """

    path: str
    title: str
    section: str
    body: str | Path
    summary: str = ""
    words: tuple[tuple[str, int], ...] = ()
    roots: tuple[str, ...] = ()
    scripts: tuple[str, ...] = ()
    searched: bool = True
    of: str = ""
    kind: str = ""
    places: Places = Places()

    def __post_init__(self) -> None:
        pure = PurePosixPath(self.path)
        steps = (".", "..", "")
        unsafe = pure.is_absolute() or any(step in steps for step in self.path.split("/"))
        if unsafe or "\\" in self.path or pure.suffix != ".html":
            raise ValueError(f"not the path of a page: {self.path!r}")

    @property
    def root(self) -> str:
        """The way from the page up to the site's root: `""`, `"../"`, `"../../"`."""
        return "../" * self.path.count("/")

    def html(self) -> str:
        """The ready HTML. Raises OSError if the file that holds it cannot be read."""
        if isinstance(self.body, str):
            return self.body
        return self.body.read_text(encoding="utf-8")


def is_written(page: Page) -> bool:
    """Whether a person has written the page."""
    return page.section.partition("/")[0] == NOTES


@frozen
class MenuEntry:
    """An entry of the menu. List families and platforms, never every page: each page carries it."""

    title: str
    path: str
    section: str
    children: tuple["MenuEntry", ...] = ()


@frozen
class Shell:
    """What is the same on every page. `edition` is printed in the footer; no clock is asked."""

    name: str
    publisher: str
    menu: tuple[MenuEntry, ...]
    language: str = "en"
    edition: str = ""
    words: Mapping[str, str] = field(default_factory=dict)
    """The shell's own words in the language, by the English ones; what is not there is English."""
    script_words: Mapping[str, str] = field(default_factory=dict)
    """The same for the words of scripts."""

    def word(self, words: str | Message) -> str:
        """A word of the shell in the language of the site."""
        text = words.text if isinstance(words, Message) else words
        return self.words.get(text, text)


@frozen
class NavLink:
    """A link of the shell, ready for the template. `here` goes into `aria-current`."""

    title: str
    href: str
    here: str = ""
    children: tuple["NavLink", ...] = ()


@frozen
class Furniture:
    """The parts of the shell that differ from page to page."""

    root: str
    sections: tuple[NavLink, ...]  # the top row of the menu
    siblings: tuple[NavLink, ...]  # what the page's section lists
    trail: tuple[NavLink, ...]  # breadcrumbs, the page itself left out
    headings: tuple[NavLink, ...]  # the page's own second-level headings


def furnish(shell: Shell, page: Page) -> Furniture:
    """The menu, breadcrumbs and headings as they stand on one page."""
    path, section, root = page.path, page.section, page.root
    top = next((entry for entry in shell.menu if entry.section == section), None)
    sections = tuple(_link(entry, path, root, entry is top) for entry in shell.menu)
    siblings = tuple(_link(e, path, root, False) for e in top.children) if top else ()
    trail = [entry for entry in shell.menu[:1] if entry is not top]
    trail += _trail_to(path, top) if top else []
    return Furniture(
        root=root,
        sections=sections,
        siblings=siblings,
        trail=tuple(_link(e, path, root, False) for e in trail if e.path != path),
        headings=tuple(NavLink(words, f"#{anchor}") for words, anchor in page.places.headings),
    )


def contents(shell: Shell, root: str) -> tuple[NavLink, ...]:
    """The whole menu, for the foot of a page; the same on all pages of one depth."""

    def link_of(entry: MenuEntry) -> NavLink:
        itself = (entry.title, entry.path)
        below = (each for each in entry.children if (each.title, each.path) != itself)
        return NavLink(entry.title, root + quote(entry.path), "", tuple(map(link_of, below)))

    return tuple(map(link_of, shell.menu))


def _link(entry: MenuEntry, path: str, root: str, open_here: bool) -> NavLink:
    here = "page" if entry.path == path else "true" if open_here else ""
    return NavLink(entry.title, root + quote(entry.path), here)


def _trail_to(path: str, top: MenuEntry) -> list[MenuEntry]:
    for child in top.children:
        if child.path == path:
            return [top]
        if any(leaf.path == path for leaf in child.children):
            return [top, child]
    return [top]
