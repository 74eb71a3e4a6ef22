"""Pages that people write, made ready for the engine, and the links in them.

References are printed into the Markdown as HTML, at the places where the tokens say they stand;
all other text is left as it was written. Of a page in several languages (`note.md`, `note.de.md`)
the site shows the one in its own language, under the address of the first.
"""

import re
import shutil
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from html import escape
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import Final
from urllib.parse import unquote

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.document.prose.form import without_words
from specgen.document.prose.notice import notice
from specgen.document.prose.passages import (
    Passage,
    anchors_in_html,
    passages,
    pictures_in_html,
)
from specgen.document.prose.reference_values import printed
from specgen.document.prose.subjects import Subjects
from specgen.document.prose.texts import PAGES, Prose, language_of
from specgen.document.tree import Inline, Literal, Value, plain_text, scheme
from specgen.document.wording import Wording
from specgen.frozen import frozen
from specgen.messages import Words, say
from specgen.messages.catalogue import language_of as language_at
from specgen.site.addresses import FOLDERS, LISTS, address, resolver
from specgen.site.page import Page

_NOT_PLAIN: Final = re.compile(r"[^\w ]|_")
_MARKUP: Final = re.compile(r"[<>&*_`\[\]{}#\\]")  # in a heading, which the menu shows as written
_ID: Final = re.compile(r'\bid="([^"]+)"')
_OWN_ID: Final = re.compile(r"\{:?[^}]*#([\w-]+)[^}]*\}\s*$")


def known_pages(subjects: Subjects) -> frozenset[str]:
    """The paths of the pages that definitions get."""
    d = subjects.definitions
    named = [
        *(f"part:{name}" for name in d.parts),
        *(f"platform:{name}" for name in d.platforms),
        *(f"build:{name}" for name in d.builds),
        *(f"platform:{name}/guide" for name in d.platforms),
        *(f"build:{name}/{each}" for name in d.builds for each in d.project.documents[1:]),
    ]
    return frozenset(filter(None, map(address, named)))


def prepared(
    project: Path,
    texts: Sequence[Prose],
    subjects: Subjects,
    scratch: Path,
    without: Collection[str] = (),
) -> Path | None:
    """A copy of a project's pages, as the engine is to read them; None where there are none.

    Pages `without` which the site is made are left out, since they have errors.
    """
    folder = project / PAGES
    if not folder.is_dir():
        return None
    target = scratch / "handwritten"
    shutil.copytree(folder, target)
    known = known_pages(subjects)
    language = subjects.definitions.project.language
    for file in without:
        (target / file.removeprefix(f"{PAGES}/")).unlink(missing_ok=True)
    by_file = {
        text.file.removeprefix(f"{PAGES}/"): text
        for text in texts
        if text.is_page and text.file not in without
    }
    for file, text in by_file.items():
        if _plain_name(file) == file:
            continue
        with suppress(FileNotFoundError):
            (target / file).unlink()
        if _plain_name(file) not in by_file and _chosen(file, by_file, language) == file:
            _write(target, _plain_name(file), text, subjects, known, language)
    for file in by_file:
        if _plain_name(file) == file:
            shown = by_file[_chosen(file, by_file, language)]
            _write(target, file, shown, subjects, known, language)
    return target


def _write(
    target: Path, file: str, text: Prose, subjects: Subjects, known: frozenset[str], language: str
) -> None:
    """One page with its references printed, where the engine will read it."""
    path = file.removesuffix(".md") + ".html"
    resolve = resolver(known, path)
    wording = Wording(language_at(text.language or language))
    pieces: list[str] = []
    at = 0
    for passage in passages(text):
        for mention in passage.mentions:
            made = printed(mention.inner, text.subject, subjects)
            start, end = passage.offsets(mention.start, mention.end)
            cell = wording.cell(made.cell)
            if passage.kind == "heading":
                shown = _entities(plain_text(cell), _MARKUP)
            else:
                leads = None if mention.linked or not made.target else resolve(made.target)
                shown = _html(cell, leads)
            pieces += [text.text[at:start], shown]
            at = end
    whole = "".join((*pieces, text.text[at:]))
    note = language_at(language).text(notice(text.language or language, language))
    head = len(text.body) - len(text.body.lstrip())
    if note:
        whole = f"{whole[:head]}\n*{note}*\n\n{whole[head:]}"
    (target / file).write_text(whole, encoding="utf-8", newline="\n")


def _plain_name(file: str) -> str:
    language = language_of(file.rsplit("/", 1)[-1])
    return file.removesuffix(f".{language}.md") + ".md" if language else file


def _chosen(file: str, files: Mapping[str, Prose], language: str) -> str:
    """The file of a page in the site's language; else the one without, else the first."""
    stem = _plain_name(file).removesuffix(".md")
    wanted = (f"{stem}.{language}.md", f"{stem}.{language.split('-')[0]}.md", f"{stem}.md")
    others = sorted(each for each in files if _plain_name(each) == f"{stem}.md")
    return next((each for each in wanted if each in files), others[0])


def _html(cell: Sequence[Inline], leads: str | None) -> str:
    """Inlines as HTML in the midst of Markdown: whatever Markdown could read is an entity."""
    inner = "".join(map(_inline, cell))
    return f'<a href="{_attribute(leads)}">{inner}</a>' if leads else inner


def _inline(inline: Inline) -> str:
    if isinstance(inline, Value):
        unit = f'<span class="unit">\u202f{_entities(inline.unit)}</span>' if inline.unit else ""
        kind = "value words" if " " in inline.number else "value"
        key = _attribute(inline.key)
        return f'<span class="{kind}" data-fact="{key}">{_entities(inline.number)}{unit}</span>'
    text = _entities(plain_text((inline,)))
    return f"<code>{text}</code>" if isinstance(inline, Literal) else text


def _entities(text: str, signs: re.Pattern[str] = _NOT_PLAIN) -> str:
    return signs.sub(lambda sign: f"&#{ord(sign[0])};", text)


def _attribute(text: str | None) -> str:
    return escape(text or "").replace("`", "&#96;").replace("*", "&#42;")


@frozen
class _PageIndex:
    """What links can lead to: pages written by hand, files beside them, pages made."""

    texts: Mapping[str, Prose]
    files: frozenset[str]
    known: frozenset[str]
    made: Mapping[str, Page] | None
    subjects: Subjects


def dead_links(
    project: Path, texts: Sequence[Prose], subjects: Subjects, made: Sequence[Page] | None = None
) -> tuple[Finding, ...]:
    """Links of a project's texts that lead nowhere. `made` are the site's pages, where at hand.

    Without them, anchors within made pages and lists at the top of the site are not judged.
    """
    folder = project / PAGES
    files = frozenset(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()
    )
    pages = {text.file.removeprefix(f"{PAGES}/"): text for text in texts if text.is_page}
    by_path = None if made is None else {page.path: page for page in made}
    shelf = _PageIndex(pages, files, known_pages(subjects), by_path, subjects)
    return tuple(
        finding
        for text in texts
        for finding in (*_of_pictures(text, shelf), *_of_links(text, shelf))
        if finding.code.id not in text.allow
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
    if text.is_page:
        in_html = list(pictures_in_html(text))
        yield from (without_words(span) for each, span in in_html if not each.alternative)
        shown += in_html
    for each, span in shown:
        if not text.is_page:
            yield Finding(
                codes.DEAD_LINK,
                say("a piece of a document prints the words of a picture and not the picture"),
                Label(span),
                help=say("show it on a page, or refer to a figure: `{{figure front}}`"),
            )
            continue
        problem = _missing_picture(each.source, text, shelf)
        if problem is not None:
            yield Finding(codes.PICTURE_MISSING, problem[0], Label(span), help=problem[1])


def _missing_picture(source: str, text: Prose, shelf: _PageIndex) -> tuple[Words, Words] | None:
    """What is wrong with the file of a picture, and what would mend it."""
    if source.startswith("data:"):
        return None
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
        if page is not None and anchor not in _ID.findall(page.html()):
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


def _in_piece(href: str) -> tuple[Words, Words] | None:
    if href.startswith("#"):
        return None  # an anchor of whichever document the piece stands in
    return (
        say("`{link}` leads to no place that every document with this piece has", link=href),
        say("write a reference such as `{{part ID}}`, or a whole address"),
    )


def _problem(href: str, text: Prose, shelf: _PageIndex) -> tuple[Words, Words] | None:
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
        ids = frozenset(_ID.findall(shelf.made[place].html())) if anchor else frozenset[str]()
        return _anchor_problem(href, anchor, ids)
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


def _anchor_problem(href: str, anchor: str, ids: frozenset[str]) -> tuple[Words, Words] | None:
    if not anchor or anchor in ids:
        return None
    message = say("`{link}` leads to no anchor of that page", link=href)
    return message, question(did_you_mean(anchor, ids))


def _anchors(text: Prose, subjects: Subjects) -> frozenset[str]:
    """The anchors that the engine gives the headings of a page, and its own."""
    taken: set[str] = set()
    for passage in passages(text):
        if passage.kind != "heading":
            continue
        own = _OWN_ID.search(passage.content)
        whole = passage.content
        for mention in reversed(passage.mentions):
            made = printed(mention.inner, text.subject, subjects)
            whole = whole[: mention.start] + plain_text(made.cell) + whole[mention.end :]
        if own:
            taken.add(own[1])
        else:
            taken.add(_unused(_slug(re.sub(r"\]\([^)]*\)", "", whole)), taken))
    return frozenset(taken) | anchors_in_html(text)


def _slug(title: str) -> str:
    """The anchor of a heading, as the extension `toc` of Python-Markdown makes it."""
    ascii_only = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    return re.sub(r"[-\s]+", "-", re.sub(r"[^\w\s-]", "", ascii_only).strip().lower())


def _unused(slug: str, taken: set[str]) -> str:
    """The same with a number, where it is taken already."""
    number, made = 0, slug
    while made in taken or not made:
        number += 1
        made = f"{slug}_{number}"
    return made
