"""Where the links of a project's texts lead: pages, files, anchors that are there."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from posixpath import dirname, join, normpath, relpath
from typing import TYPE_CHECKING
from urllib.parse import unquote

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.document.illustrated.picture_files import by_file
from specgen.document.illustrated.picture_uses import path_from, placed_by
from specgen.document.link_targets import scheme
from specgen.document.prose.form import unsafe_link, without_words
from specgen.document.prose.passages import Passage, anchors_in_html, markup_of, passages
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PAGES, Prose
from specgen.files.gate import files
from specgen.frozen import frozen
from specgen.messages import Message, Nothing, say
from specgen.site.addresses import FOLDERS, LISTS, address, known_pages
from specgen.site.attachments import is_published
from specgen.source import PICTURES

if TYPE_CHECKING:
    from specgen.site.page import Page


_Problem = tuple[Message, Message | Nothing]
"""What is wrong with a link or a picture, and what would mend it."""


@frozen
class _PageIndex:
    """What links can lead to: pages written by hand, files beside them, pages made."""

    texts: Mapping[str, Prose]
    files: frozenset[str]
    known: frozenset[str]
    made: "Mapping[str, Page] | None"
    subjects: Subjects


def dead_links(
    project: Path, texts: Sequence[Prose], subjects: Subjects, made: "Sequence[Page] | None" = None
) -> tuple[Finding, ...]:
    """Links of a project's texts that lead nowhere. `made` are the site's pages, where at hand.

    Without them, anchors within made pages and lists at the top of the site are not judged.
    """
    folder = project / PAGES
    there = frozenset(
        path.relative_to(folder).as_posix()
        for path in files(project, PAGES)
        if path.suffix == ".md" or is_published(path.name)
    )
    pages = {text.file.removeprefix(f"{PAGES}/"): text for text in texts if text.is_page}
    by_path = None if made is None else {page.path: page for page in made}
    shelf = _PageIndex(pages, there, known_pages(subjects.definitions), by_path, subjects)
    return tuple(
        finding
        for text in texts
        for finding in (*_of_pictures(text, shelf), *_of_links(text, shelf))
        if finding.code.id not in text.allow or finding.code is codes.UNSAFE_LINK
    )


def _of_links(text: Prose, shelf: _PageIndex) -> Iterator[Finding]:
    for passage in passages(text):
        yield from _of_passage(passage, text, shelf)


def _of_pictures(text: Prose, shelf: _PageIndex) -> Iterator[Finding]:
    """SG509: pictures of pages that are not there; those of pieces, of which none is printed."""
    shown = [
        (each, passage.span(each.start, each.end))
        for passage in passages(text)
        for each in passage.pictures
    ]
    if markup_of(text):
        from specgen.document.prose.page_html import pictures_in_html  # few pages have any

        in_html = list(pictures_in_html(text))
        yield from (without_words(span) for each, span in in_html if not each.alternative)
        shown += in_html
    for each, span in shown:
        if placed_by(each.source, text.file, shelf.subjects.definitions) is not None:
            continue
        if not text.is_page or path_from(each.source, text.file).startswith(f"{PICTURES}/"):
            yield _untold(each.source, text, span, shelf)
            continue
        if scheme(each.source) not in ("", "http", "https"):
            yield unsafe_link(each.source, span)
            continue
        problem = _missing_picture(each.source, text, shelf)
        if problem is not None:
            yield Finding(codes.PICTURE_MISSING, problem[0], Label(span), help=problem[1])


def _untold(source: str, text: Prose, span: Span, shelf: _PageIndex) -> Finding:
    """SG509: a picture that no file of the project's tells of."""
    known = by_file(shelf.subjects.definitions)
    path = path_from(source, text.file)
    close = [path.rsplit("/", 1)[-1]] if path not in known else []
    close = [each for each in known if each.rsplit("/", 1)[-1] in close]
    near = close or [*did_you_mean(path, known)]
    here = [relpath(each, dirname(text.file)) for each in near]
    return Finding(
        codes.PICTURE_MISSING,
        say("no picture of the project has the file `{file}`", file=source),
        Label(span),
        help=question(here)
        or say("put it into `{folder}/`, with a YAML that tells of it", folder=PICTURES),
    )


def _missing_picture(source: str, text: Prose, shelf: _PageIndex) -> _Problem | None:
    """What is wrong with the file of a picture, and what would mend it."""
    if scheme(source) or source.startswith("//"):
        return (
            say("`{file}` lies on another host, which no page asks for anything", file=source),
            say("put the file into `pages/`"),
        )
    here = text.file.removeprefix(f"{PAGES}/")
    path = unquote(source).partition("?")[0].partition("#")[0]
    place = normpath(join(dirname(here), path)) if path else ""
    if place in shelf.files:
        return None
    names = {each.rsplit("/", 1)[-1]: each for each in shelf.files}
    there = [each for each in shelf.files if not each.endswith(".md")]
    last = place.rsplit("/", 1)[-1]
    close = (names[last],) if last in names else did_you_mean(place, there)
    message = say("no file `{file}` lies in `{folder}/`", file=source, folder=PAGES)
    return message, question(close)


def _of_passage(passage: Passage, text: Prose, shelf: _PageIndex) -> Iterator[Finding]:
    yield from _not_printed(passage, text, shelf)
    for link in passage.targets:
        if scheme(link.href) or link.href.startswith("//") or not link.href:
            continue
        problem = _problem(link.href, text, shelf) if text.is_page else _in_piece(link.href)
        if problem is not None:
            at = Label(passage.span(link.start, link.end))
            yield Finding(codes.DEAD_LINK, problem[0], at, help=problem[1])


def _not_printed(passage: Passage, text: Prose, shelf: _PageIndex) -> Iterator[Finding]:
    """References to tables and pictures that the page of their system does not show."""
    for mention in passage.mentions if shelf.made else ():
        target = printed(mention.inner, text.subject, shelf.subjects).target
        path, _, anchor = (address(target) or "").partition("#")
        page = shelf.made.get(path) if shelf.made and anchor else None
        if page is not None and anchor not in page.places.anchors:
            yield Finding(
                codes.DEAD_LINK,
                say(
                    "`{{{inner}}}` refers to what `{path}` does not print",
                    inner=mention.inner,
                    path=path,
                ),
                Label(passage.span(mention.start, mention.end)),
                help=say("refer to one that its template has, or add it there"),
            )


def _in_piece(href: str) -> _Problem | None:
    if href.startswith("#"):
        return None  # an anchor of whichever document the piece stands in
    return (
        say("`{link}` leads to no place that every document with this piece has", link=href),
        say("write a reference such as `{{part ID}}`, or a whole address"),
    )


def _problem(href: str, text: Prose, shelf: _PageIndex) -> _Problem | None:
    """What is wrong with a link of a page, and what would mend it."""
    path, _, anchor = unquote(href).partition("#")
    path = path.partition("?")[0]
    here = text.file.removeprefix(f"{PAGES}/")
    if path.startswith("/"):
        return (
            say("`{link}` starts at the root of the host, where the site may not be", link=href),
            say("write it relative to this page"),
        )
    place = normpath(join(dirname(here), path)) if path else here
    source = place if place in shelf.texts else place.removesuffix(".html") + ".md"
    if source in shelf.texts:
        return _anchor_problem(href, anchor, _anchors(shelf.texts[source], shelf.subjects))
    if place in shelf.files:
        return None
    if shelf.made is not None and place in shelf.made:
        return _anchor_problem(href, anchor, shelf.made[place].places.anchors)
    if shelf.made is None and (place in shelf.known or _may_be_made(place)):
        return None
    inside = place.removeprefix("../")
    there = (*shelf.texts, *shelf.files, *shelf.known)
    close = (inside,) if inside in there else did_you_mean(inside, there)
    help_ = question(close) or say("write a reference, or leave it out")
    return say("`{link}` leads to nothing", link=href), help_


def _may_be_made(place: str) -> bool:
    """Whether a page may be there that only a whole site tells."""
    top, _, below = place.partition("/")
    if not below:
        return place in LISTS
    return place.endswith(".html") and top not in (*FOLDERS.values(), "..")


def _anchor_problem(href: str, anchor: str, ids: frozenset[str]) -> _Problem | None:
    if not anchor or anchor in ids:
        return None
    message = say("`{link}` leads to no anchor of that page", link=href)
    return message, question(did_you_mean(anchor, ids))


def _anchors(text: Prose, subjects: Subjects) -> frozenset[str]:
    """The anchors of a page: those of its headings, and its own."""
    from specgen.site.heading_anchors import heading_anchors  # few links lead to one

    return frozenset(heading_anchors(text, subjects)) | anchors_in_html(text)
