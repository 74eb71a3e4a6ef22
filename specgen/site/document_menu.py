"""The documents of one system: what each is called, and the links between them."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final
from urllib.parse import quote

from specgen.document.tree import Document
from specgen.messages import say_as
from specgen.site.addresses import COMPARE, reference_of
from specgen.site.page import Furniture, NavLink, Page

BEHIND: Final = say_as("site", "Sources of these values")
"""What the page of facts is called among them."""
VALUES: Final = say_as("site", "values")


def kind_of(document: Document, name: str = "") -> str:
    """What a document calls itself: "Spec sheet".

    One that does not say goes by the words of its `name`.
    """
    return str(document.kind or document.subtitle) or name.replace("-", " ").capitalize()


def placed(page: Page, of: str, document: Document) -> Page:
    """The page among the documents of the system whose own page is at `of`, distinguished by its
    title.

    With an empty `of` the page stands alone.
    """
    if not of:
        return page
    kind = kind_of(document)
    is_named = page.path == of or kind in page.title
    return replace(
        page, of=of, kind=kind, title=page.title if is_named else f"{page.title}: {kind}"
    )


def by_system(pages: Iterable[Page]) -> dict[str, tuple[Page, ...]]:
    """The pages of each system that has several, by the path of its own, which comes first."""
    groups: dict[str, list[Page]] = {}
    for page in pages:
        if page.of and page.kind:
            at = 0 if page.of == page.path else len(groups.get(page.of, ()))
            groups.setdefault(page.of, []).insert(at, page)
    return {
        of: tuple(group) for of, group in groups.items() if len(group) > 1 and group[0].path == of
    }


def document_links(
    page: Page, groups: Mapping[str, tuple[Page, ...]]
) -> tuple[Page | None, tuple[NavLink, ...]]:
    """The own page of the system that a page is about, and its documents as links."""
    group = groups.get(page.of, ())
    if not group:
        return None, ()
    links = (
        NavLink(each.kind, page.root + quote(each.path), "page" if each.path == page.path else "")
        for each in group
    )
    return group[0], tuple(links)


def comparing(own: Page | None, root: str) -> str:
    """Where a system is compared with others, from one of its pages; "" for what is none."""
    reference = reference_of(own.path) if own is not None else ""
    return f"{root}{COMPARE}?compare={quote(reference, safe=':')}" if reference else ""


def under_system(page: Page, own: Page | None, furniture: Furniture) -> Furniture:
    """The shell's furniture on a page about a system: the trail leads through its own page."""
    if own is None or own.path == page.path or own.section != page.section:
        return furniture
    through = page.root + quote(own.path)
    siblings = tuple(
        replace(link, here="true") if link.href == through else link for link in furniture.siblings
    )
    trail = (*furniture.trail, NavLink(own.title, through))
    return replace(furniture, siblings=siblings, trail=trail)
